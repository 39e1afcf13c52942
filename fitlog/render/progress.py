"""How a set-up converged, as bars of characters: where each good setting lay, piece by piece."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ..advice.progress import Step
from ..advice.settled import SAME
from ..domain import Aspect, Piece, SettingKind, SetUp
from ..language.english.names import woods
from ..language.numbers import narrow
from ..language.units import MM_PER_INCH, Ruler, counted
from ..texts import tell
from .blocks import has_blocks
from .screen import Screen, plain
from .standing import pieces_of

_PIPE_WIDTH, _WIDEST, _LEAST_ROOM = 80, 120, 24
_NEAR = 1e-9  # mm: what rounding may do
_SCRAP = 14  # characters of a scrap's name
_MARKS = (
    "-.=",
    "\u2592\u2591\u2588",
)  # where the best setting lay; what is good; both: in ASCII, and in blocks


@dataclass(frozen=True, slots=True)
class Row:
    """One piece, or what is to be set next; lengths mm as the user's scale reads them.

    low, middle, high: where the best setting lay with 90 %.  cut: where a piece was cut, on one of
    the set-up's own size; None where none was.  proposed: what the advice gave; None at the end,
    and for a depth at another height. dial, chance, said: the words beside it.
    """

    label: str
    low: float
    middle: float
    high: float
    cut: float | None
    proposed: float | None
    dial: str
    chance: str
    said: str


@dataclass(frozen=True, slots=True)
class Chart:
    """The rows of an aspect and the axis that they share. setting: its own; at: what that hangs on
    as well. good: by what is known now.  left, right: the axis' ends, mm.
    """

    aspect: Aspect
    setting: SettingKind
    at: SettingKind | None
    rows: tuple[Row, ...]
    good: tuple[float, float]
    left: float
    right: float

    def off(self, at: float) -> str:
        """Return "<" or ">" for a setting beyond an end of the axis, "" for one on it."""
        return "<" if at < self.left - _NEAR else ">" if at > self.right + _NEAR else ""


def progress(
    screen: Screen, setup: SetUp, status: str, steps: Sequence[Step], ruler: Ruler
) -> None:
    """Print how a set-up converged."""
    screen.line()
    screen.head(title(setup, status, steps))
    width = min(screen.width, _WIDEST) if screen.terminal else _PIPE_WIDTH
    marks = _MARKS[screen.terminal and has_blocks(screen, _MARKS[1])]
    found = charts(setup, status, steps, ruler)
    for one, drawn in zip(found, drawings(found, ruler, width, marks), strict=True):
        screen.line()
        screen.head(heading(one, ruler))
        for text in drawn:
            print(plain(text), file=screen.stream)
    screen.line()
    screen.line(explained(found, marks))


def title(setup: SetUp, status: str, steps: Sequence[Step]) -> str:
    """Name the set-up, say where it stands and how many of its pieces have no row."""
    plan, known = setup.plan, steps[-1].known
    what = [plan.bit.name, woods(plan.stock.name, plan.pin_stock.name)]
    told = tell(
        "Set-up {number}: {what}. {status} after {pieces}.",
        number=setup.number,
        what=", ".join([*what, *([plan.machine.name] if plan.machine else [])]),
        status=tell(status).capitalize(),
        pieces=pieces_of(len(setup.tests()), len(setup.checks())),
    )
    left = counted(known + 1 - len(steps), "piece")
    more = tell("Left out here: {pieces}; --all has them.", pieces=left)
    return told if len(steps) > known else f"{told} {more}"


def heading(found: Chart, ruler: Ruler) -> str:
    """Say what an aspect's chart is of."""
    half = ruler.length((found.good[1] - found.good[0]) / 2)
    # Another height wants another depth.
    where = tell(", each at its own {at}", at=found.at.noun) if found.at is not None else ""
    return tell(
        "{aspect}: where the best {setting} lay (good within {half} of it){where}",
        aspect=tell(found.aspect).capitalize(),
        setting=found.setting.noun,
        half=half,
        where=where,
    )


def explained(found: Sequence[Chart], marks: str) -> str:
    """Explain the picture in one line."""
    elsewhere = any(r.proposed is not None and not same(r) for one in found for r in one.rows)
    beyond = any(
        one.off(x) for one in found for r in one.rows for x in (r.cut, r.proposed) if x is not None
    )
    return tell(
        "{lay} where the best setting lay with 90 %, as known before that piece; {good} good, as "
        "known now; {both} both; X cut there{proposed}{off}. %: chance of good there, as known "
        "then.",
        lay=marks[0] * 3,
        good=marks[1] * 3,
        both=marks[2] * 3,
        proposed="; o proposed" if elsewhere else "",
        off="; < > farther off" if beyond else "",
    )


def charts(setup: SetUp, status: str, steps: Sequence[Step], ruler: Ruler) -> list[Chart]:
    """Return the chart of every aspect in play, on the user's own scale."""
    return [_chart(setup, status, steps, aspect, ruler) for aspect in setup.plan.in_play]


def _chart(setup: SetUp, status: str, steps: Sequence[Step], aspect: Aspect, ruler: Ruler) -> Chart:
    rows = tuple(_row(setup, status, step, aspect, ruler) for step in steps)
    reach = steps[-1].view.belief[aspect].reach
    good = rows[-1].middle - reach, rows[-1].middle + reach
    low, high = min(good[0], *(r.low for r in rows)), max(good[1], *(r.high for r in rows))
    marks = [x for r in rows for x in (r.cut, r.proposed) if x is not None]
    slack = (high - low) / 2  # what lies farther off is shown at the edge
    left, right = max(min([low, *marks]), low - slack), min(max([high, *marks]), high + slack)
    tick, family = _tick(right - left, ruler), setup.plan.family
    driver = family.kind(aspect).driver
    return Chart(
        aspect,
        family.adjusted(aspect),
        None if driver is None else family.adjusted(driver),
        rows,
        good,
        math.floor(left / tick + 1e-9) * tick,
        math.ceil(right / tick - 1e-9) * tick,
    )


def _tick(span: float, ruler: Ruler) -> float:
    """What an end of the axis is rounded to, so that it reads plainly, mm."""
    if ruler.units == "mm":
        return 0.1 if span > 0.4 else 0.02
    coarse, fine = (1 / 64, 1 / 64) if ruler.units == "fraction" else (0.01, 0.001)
    return MM_PER_INCH * (coarse if span > 0.75 else fine)


def _shift(setup: SetUp, step: Step, aspect: Aspect) -> float:
    """What the user's scale adds to the true setting, mm."""
    settings = step.view.settings
    dial = settings.on_scale(setup.plan.machine)
    return dial[settings.family.setting_of[aspect]] - settings.of(aspect)


def _row(setup: SetUp, status: str, step: Step, aspect: Aspect, ruler: Ruler) -> Row:
    view, shift, piece = step.view, _shift(setup, step, aspect), step.piece
    belief = view.belief[aspect]
    low, middle, high = (
        x + shift for x in (belief.interval90[0], belief.middle, belief.interval90[1])
    )
    state = tell("settled") if step.holds(aspect) else narrow(view.chance_good[aspect] or 0.0)
    proposed = step.proposed.settings.of(aspect) + shift
    if piece is not None:
        # A piece of another size has another setting than the axis.
        dial = ruler.length(piece.settings.of(aspect) + shift)
        cut, spoken = view.settings.of(aspect) + shift, said(piece, step, aspect, ruler)
        driver = setup.plan.family.kind(aspect).driver
        # That depth was for another height.
        beside = None if driver is not None and step.moved(driver) else proposed
        return Row(str(piece.number), low, middle, high, cut, beside, dial, state, spoken)
    if setup.outcome is not None or setup.undone:
        return Row(
            tell("end"),
            low,
            middle,
            high,
            None,
            None,
            "-",
            tell("settled") if aspect in step.settled else "-",
            "",
        )
    label = tell("ready" if status == "ready" else "next")
    return Row(label, low, middle, high, None, proposed, ruler.length(proposed), state, "")


def said(piece: Piece, step: Step, aspect: Aspect, ruler: Ruler) -> str:
    """Return what a piece said of an aspect, in the user's units."""
    word = piece.verdict.of(aspect)
    if word is not None:
        text = word.word if word.size is None else f"{word.word} {ruler.length(word.size)}"
    else:
        shown = (step.judged or {}).get(aspect)
        text = tell("not judged" if shown is None else "measured good" if shown else "measured off")
    silenced = piece.settings.family.kind(aspect).silenced_by
    text += "".join(
        tell(", gap {place}", place=place) for place in silenced if piece.verdict.has_fault(place)
    )
    wood = piece.scrap if len(piece.scrap) <= _SCRAP else f"{piece.scrap[: _SCRAP - 2].rstrip()}.."
    wood = tell("joint {after}", after=piece.after) if piece.check else wood
    return f"{text} ({wood})" if wood else text


def drawings(found: Sequence[Chart], ruler: Ruler, width: int, marks: str) -> list[list[str]]:
    """Return the lines of each chart, none longer than `width` - 1 characters: one a piece, or two
    where that is narrow.

    marks: the characters of where the best setting lay, of what is good, and of both.
    """
    rows = [r for one in found for r in one.rows]
    lead = max(len(tell("piece")), *(len(r.label) for r in rows))
    dial, chance, said = (
        max(len(getattr(r, name)) for r in rows) for name in ("dial", "chance", "said")
    )
    dial, said = max(dial, len(tell("set to"))), max(said, len(tell("said")))
    ends = [(ruler.length(one.left), ruler.length(one.right)) for one in found]
    room = width - 1 - lead - 1 - 2 - dial - 2 - chance - 2 - said
    if room < max(_LEAST_ROOM, *(len(left) + len(right) + 2 for left, right in ends)):
        return [
            _narrow(one, two, lead, width - 2 - lead, marks)
            for one, two in zip(found, ends, strict=True)
        ]
    out = []
    for one, two in zip(found, ends, strict=True):
        left = f"{tell('piece'):>{lead}} {_ends(two, room)}  {tell('set to'):>{dial}}"
        drawn = [f"{left}  {'%':>{chance}}  {tell('said')}"]
        for r in one.rows:
            bar = _cells(one, r, room, marks)
            drawn.append(
                f"{r.label:>{lead}} {bar}  {r.dial:>{dial}}  "
                f"{r.chance:>{chance}}  {r.said}".rstrip()
            )
        out.append(drawn)
    return out


def _narrow(found: Chart, ends: tuple[str, str], lead: int, room: int, marks: str) -> list[str]:
    """Two lines a piece: the bar, then the words."""
    out = [f"{tell('piece'):>{lead}} {_ends(ends, room)}"]
    for row in found.rows:
        out.append(f"{row.label:>{lead}} {_cells(found, row, room, marks)}")
        words = ", ".join(
            part for part in (row.dial, row.chance, row.said) if part not in ("", "-")
        )
        if words:
            out.append(f"{'':>{lead}} {words if len(words) <= room else words[: room - 2] + '..'}")
    return [text.rstrip() for text in out]


def _ends(ends: tuple[str, str], room: int) -> str:
    return (
        ends[0] + ends[1].rjust(room - len(ends[0]))
        if len(ends[0]) + len(ends[1]) < room
        else " " * room
    )


def _cells(found: Chart, row: Row, room: int, marks: str) -> str:
    """A row of the chart, `room` characters wide."""
    believed, good, both = tuple(marks)

    def cell(at: float) -> int:
        return min(
            max(math.floor((at - found.left) / (found.right - found.left) * room), 0), room - 1
        )

    cells = [" "] * room
    for i in range(cell(found.good[0]), cell(found.good[1]) + 1):
        cells[i] = good
    for i in range(cell(row.low), cell(row.high) + 1):
        cells[i] = both if cells[i] == good else believed
    for at, mark in ((row.proposed, "o"), (row.cut, "X")):
        if at is not None and (mark == "X" or not same(row)):
            cells[cell(at)] = found.off(at) or mark
    return "".join(cells)


def same(row: Row) -> bool:
    """Whether a piece was cut where it was proposed."""
    return row.cut is not None and row.proposed is not None and abs(row.cut - row.proposed) <= SAME
