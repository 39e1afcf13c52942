"""Boards that are not equally dry: how far their patterns will creep apart, and what scrap of
another moisture tells.

Two boards that dry or swell together scale their patterns alike: the fit stays, and nothing is
said. What counts is the difference. Wood Handbook (FPL-GTR-190, 2010), equation 13-2, through
`wood`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from .. import defaults
from ..domain import Aspect, Remark, Value, remark
from . import wood


class Board(NamedTuple):
    """What is known of a board's wood. moisture: % of the dry weight, None where not known; sawn:
    as of a `Stock`.
    """

    species: str
    sawn: str = ""
    moisture: float | None = None


def moisture_remarks(
    tail: Board, pin: Board, width: float, span: float, play: float
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
    told = remark(
        "moisture-boards",
        tail=tail.moisture,
        pin=pin.moisture,
        apart=rate * width,
        width=width,
        outer=rate * span,
        play=play,
        doubts=_doubts(tail.moisture, pin.moisture, (tail, pin)),
    )
    return (told,)


def scrap_remarks(
    board: Board, scrap: Board, width: float, pitch: float, half: float, aspect: Aspect
) -> tuple[Remark, ...]:
    """Return the remark "moisture-scrap" when the scrap's moisture differs enough from the board's,
    else nothing.

    width: of the board, pitch: of its cuts; half: half the window of the fit, mm,
    which is the `aspect`.

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
    told = remark(
        "moisture-scrap",
        aspect,
        scrap=scrap.moisture,
        boards=board.moisture,
        tail=rate * pitch,
        apart=rate * width,
        width=width,
        doubts=_doubts(board.moisture, scrap.moisture, (board,)),
    )
    return (told,)


def swelling(board: Board, thick: float, other: float | None) -> float:
    """Return by how much a board is thicker or thinner at another moisture, mm; 0 where that is not
    known, or no meter tells the two apart. thick: the board, mm.
    """
    if board.moisture is None or other is None or _same(board.moisture, other):
        return 0.0
    moves = wood.through(board.species, board.sawn)
    return 0.0 if moves is None else thick * moves.value * abs(board.moisture - other)


def _same(one: float, other: float) -> bool:
    return abs(one - other) < defaults.METER_STEP


def _doubts(one: float, other: float, boards: Sequence[Board]) -> tuple[Value, ...]:
    """What makes the numbers of a remark less than sure: how good the meter is where that may be
    all, the range of the formula where it is left, and what was taken of each species.
    """
    near = abs(one - other) <= math.hypot(defaults.METER, defaults.METER)
    found = ((b.species, wood.coefficient(b.species, b.sawn)) for b in boards)
    return (
        defaults.METER if near else None,
        wood.RELIABLE if wood.rough(one, other) else None,
        tuple((species, tuple(c.taken)) for species, c in found if c and c.taken),
    )
