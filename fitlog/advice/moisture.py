"""Boards that are not equally dry: how far their patterns will creep apart, and what scrap of
another moisture tells.

Two boards that dry or swell together scale their patterns alike: the fit stays, and nothing is
said. What counts is the difference. Wood Handbook (FPL-GTR-190, 2010), equation 13-2, through
`wood`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from .. import defaults
from ..domain import Plan, Remark
from ..families import wood
from ..families.half_blind import figures
from ..language.units import Ruler, shown

_SHOWN_SPECIES = 30


@dataclass(frozen=True, slots=True)
class Board:
    """What is known of a board's wood. moisture: % of the dry weight, None where not known; sawn:
    as of a `Stock`.
    """

    species: str
    sawn: str = ""
    moisture: float | None = None


def plan_remarks(plan: Plan, ruler: Ruler) -> tuple[Remark, ...]:
    """Return what a set-up's boards and scrap call for, by their moisture on the day of `start`."""
    tail = Board(plan.stock.species, plan.stock.sawn, plan.moisture)
    pin = Board(plan.pin_stock.species, plan.pin_stock.sawn, plan.pin_moisture)
    window, step = figures.fit_window(plan.many_tails), plan.spacing or plan.pitch
    span = plan.board_width - step
    if plan.tails is not None:
        span = min(span, (plan.tails - 1) * step)
    said = moisture_remarks(tail, pin, plan.board_width, span, window.middle, ruler)
    if "fit" not in plan.in_play:
        return said
    scrap = Board(plan.scrap, moisture=plan.scrap_moisture)
    return (*said, *scrap_remarks(tail, scrap, plan.board_width, plan.pitch, window.half, ruler))


def moisture_remarks(
    tail: Board, pin: Board, width: float, span: float, play: float, ruler: Ruler
) -> tuple[Remark, ...]:
    """Return the remark "moisture-boards" when a tail and a pin board differ enough to matter, else
    nothing.

    width: of the boards; span: between the centres of the outer tails (width - pitch at most);
    play: the clearance the joint has across one tail (the middle of its window), mm.

    Cut from the same stops, both patterns are alike on that day. Later both boards come to one
    moisture, taken as the mean of the two: each goes half the difference, in opposite directions,
    by its own coefficient C, so that over a length L the patterns are L (C_tail + C_pin) / 2
    |M_tail - M_pin| apart, which is L C |dM| for one wood. Laid middle on middle, the outer tails
    are each off by half of that over the span; a tail with the clearance c has c / 2 to either
    side: it enters while creep(span) <= c. (Half a tail more, where the tails swell, or less, where
    they shrink, is left out.)
    """
    if tail.moisture is None or pin.moisture is None or _same(tail.moisture, pin.moisture):
        return ()
    found = [wood.coefficient(board.species, board.sawn) for board in (tail, pin)]
    if found[0] is None or found[1] is None:
        return ()
    rate = (found[0].value + found[1].value) / 2 * abs(tail.moisture - pin.moisture)
    if rate * span <= play:
        return ()
    text = (
        f"The tail board is at {percent(tail.moisture)} moisture and the pin board at "
        f"{percent(pin.moisture)}: once they "
        f"are at one, their patterns are {ruler.length(rate * width)} apart over "
        f"{ruler.size(width)} of width and "
        f"{ruler.length(rate * span)} between the outer tails, and the joint has "
        f"{ruler.length(play)} of play. Let them lie "
        "together until they agree, then cut both the same day and put them together soon."
    )
    return (Remark("moisture-boards", text + _doubts(tail.moisture, pin.moisture, (tail, pin))),)


def scrap_remarks(
    board: Board, scrap: Board, width: float, pitch: float, half: float, ruler: Ruler
) -> tuple[Remark, ...]:
    """Return the remark "moisture-scrap" when the scrap's moisture differs enough from the board's,
    else nothing.

    width: of the board, pitch: of its cuts; half: half the window of the fit, mm.

    Scrap on scrap of one moisture fits as board on board does; but a scrap that comes to the
    board's moisture, or is tried on a board, is off by pitch C |dM| a tail. That matters from
    `half` on: a fit in the middle of its window is out of it. C is the board's own, since the
    scrap's wood need not be known; sheet goods are not comparable.
    """
    found = wood.coefficient(board.species, board.sawn)
    if board.moisture is None or scrap.moisture is None or _same(board.moisture, scrap.moisture):
        return ()
    if found is None or wood.coefficient(scrap.species) is None:
        return ()
    rate = found.value * abs(board.moisture - scrap.moisture)
    if rate * pitch <= half:
        return ()
    text = (
        f"The scrap is at {percent(scrap.moisture)} moisture and the boards at "
        f"{percent(board.moisture)}: that is "
        f"{ruler.length(rate * pitch)} a tail and {ruler.length(rate * width)} over "
        f"{ruler.size(width)} of width, so what "
        "fits in the scrap says less of the boards. Take scrap from the same batch, or let it lie "
        "with the boards until "
        "they agree; until then try scrap only on scrap cut the same day, never on a board."
    )
    return (
        Remark("moisture-scrap", text + _doubts(board.moisture, scrap.moisture, (board,)), "fit"),
    )


def percent(content: float) -> str:
    """Return a moisture as it is shown, to a tenth of a per cent."""
    return f"{round(content, 1):g}%"


def _same(one: float, other: float) -> bool:
    return abs(one - other) < defaults.METER_STEP


def _doubts(one: float, other: float, boards: Sequence[Board]) -> str:
    """What makes the numbers of a remark less than sure: the meter, the range of the formula, what
    was taken.
    """
    said = ""
    if abs(one - other) <= math.hypot(defaults.METER, defaults.METER):
        said += (
            f" Such readings are good to about {defaults.METER:g}%, so the difference may be "
            "theirs alone: measure again."
        )
    if wood.rough(one, other):
        low, high = wood.RELIABLE
        said += f" Below {low:g}% and above {high:g}% these figures are rough."
    taken = [
        f"{_quoted(b)} as {'; '.join(c.taken)}"
        for b in boards
        if (c := wood.coefficient(b.species, b.sawn)) and c.taken
    ]
    return said + (f" Taken: {', and '.join(dict.fromkeys(taken))}." if taken else "")


def _quoted(board: Board) -> str:
    return f'"{shown(board.species, _SHOWN_SPECIES)}"'
