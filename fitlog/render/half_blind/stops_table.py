"""The table of the stops: number, where the fence goes, what is cut there; rabbet, tail boards and
pin boards side by side.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from ...families.half_blind.layouts import Cut, Stop
from ...families.half_blind.layouts.job import Job
from ...language.units import Ruler
from ...texts import tell
from ..sheet.paper import (
    AT_MACHINE,
    Block,
    Line,
    Mark,
    Measure,
    Words,
    beside,
    rise,
    stacked,
    title,
)

_SIZE, _GAP = AT_MACHINE, 4.0
_BETWEEN = (2.0, 1.8)  # number and fence, fence and cut
_LEAD = 11.0  # title and column heads, mm
_MOST = 6  # columns of one board

Row = tuple[str, str, str]


@dataclass(frozen=True)
class _Side:
    """The rows of one board; how wide their name, each of their cells and all of a row are, mm."""

    name: str
    rows: Sequence[Row]
    named: float
    cells: tuple[float, float, float]
    each: float

    def wide(self, columns: int) -> float:
        """How wide so many columns are, their gaps included."""
        return max(columns * self.each, self.named)

    def deep(self, columns: int) -> int:
        """How many rows are below each other in so many columns."""
        return math.ceil(len(self.rows) / columns)


def rows_of(stops: Sequence[Stop], ruler: Ruler) -> list[Row]:
    """Return number, fence and cut of each stop."""
    return [(str(s.number), _bare(s.setting, ruler), _short(s.cut)) for s in stops]


def _bare(mm: float, ruler: Ruler) -> str:
    """A position; the heading names its unit, unless each has its own."""
    return ruler.length(mm, bare=True)


def _short(cut: Cut) -> str:
    part = cut.part
    return {
        "edge": tell("both edges"),
        "slot": tell("slot {part}", part=part),
        "socket": str(part),
        "first": tell("{part} first", part=part),
        "clearing": tell("{part} clear", part=part),
        "last": tell("{part} last", part=part),
    }[cut.kind]


def named(stop: Stop) -> str:
    """Return what is cut at a stop."""
    part = stop.cut.part
    return {
        "edge": tell("open edge, from both edges"),
        "slot": tell("slot {part}", part=part),
        "socket": tell("socket {part}", part=part),
        "first": tell("socket {part}, first pass: sets the fit", part=part),
        "clearing": tell("socket {part}, clears", part=part),
        "last": tell("socket {part}, last pass: sets the fit", part=part),
    }[stop.cut.kind]


def tables(job: Job, width: float, height: float, ruler: Ruler, measure: Measure) -> list[Block]:
    """Return the stops in blocks no higher than a page of `height`; one where they fit."""
    tails = (tell("Tail boards, on end"), rows_of(job.stops.of("tail"), ruler))
    pins = (tell("Pin boards: socket"), rows_of(job.stops.of("pin"), ruler))
    sides = [_side(name, rows, measure) for name, rows in (tails, pins)]
    rabbet = _side(tell("Rabbet"), _rabbet(job, ruler), measure)
    if sum(side.wide(1) for side in (rabbet, *sides)) <= width + _GAP:
        sides.insert(0, rabbet)
    return list(_blocks(sides, width, height, ruler, alone=None if rabbet in sides else rabbet))


def _rabbet(job: Job, ruler: Ruler) -> list[Row]:
    """The passes of the rabbet: where the fence goes and how deep it then is; with another bit only
    how deep.
    """
    rows = []
    for number, one in enumerate(job.rabbet, 1):
        depth = tell("to {depth}", depth=_bare(one.depth, ruler))
        fence = "" if one.fence is None else _bare(one.fence, ruler)
        rows.append((str(number), fence, depth))
    return rows


def _side(name: str, rows: Sequence[Row], measure: Measure) -> _Side:
    number, fence, cut = (max(measure(row[n], _SIZE, n == 1) for row in rows) for n in range(3))
    each = number + fence + cut + sum(_BETWEEN) + _GAP
    return _Side(name, rows, measure(name, _SIZE, True) + _GAP, (number, fence, cut), each)


def _blocks(
    sides: Sequence[_Side], width: float, height: float, ruler: Ruler, *, alone: _Side | None
) -> Iterator[Block]:
    """The sides beside each other, as many columns each as makes them lowest; on as many pages as
    it takes. alone: the rabbet, where it has no room beside the others.
    """
    ways = [
        shares
        for shares in product(range(1, _MOST + 1), repeat=len(sides))
        if sum(s.wide(n) for n, s in zip(shares, sides, strict=True)) <= width + _GAP
    ] or [(1,) * len(sides)]
    shares = min(
        ways, key=lambda w: (max(s.deep(n) for n, s in zip(w, sides, strict=True)), sum(w))
    )
    lead = [] if alone is None else [_alone(alone, width)]
    room = height - _LEAD - sum(block.height for block in lead)
    most = max(4, int(room / rise(_SIZE)))
    parts = max(math.ceil(s.deep(n) / most) for n, s in zip(shares, sides, strict=True))
    unit = {"mm": ", mm", "inch": ", inch"}.get(ruler.units, "")
    for k in range(parts):
        text = tell(
            "Stops: where the fence goes{unit}, moving out only, from its own zero", unit=unit
        )
        more = tell(", part {k} of {parts}", k=k + 1, parts=parts) if k else ""
        drawn, x = Block(0.0, ()), 0.0
        spare = width + _GAP - sum(s.wide(n) for n, s in zip(shares, sides, strict=True))
        for side, share in zip(sides, shares, strict=True):
            rows = side.rows[k * most * share : (k + 1) * most * share]
            wide = side.wide(share) + spare * share / sum(shares)
            drawn = beside(drawn, _drawn(side, rows, share, wide / share), x)
            x += wide
        yield stacked([title(text + more, width), *([] if k else lead), drawn])


def _alone(side: _Side, width: float) -> Block:
    """A side in as many columns as there is room for."""
    columns = max(1, min(len(side.rows), int((width + _GAP) / side.each)))
    return _drawn(side, side.rows, columns, side.each)


def _drawn(side: _Side, rows: Sequence[Row], share: int, each: float) -> Block:
    """One board's stops in `share` columns, `each` wide."""
    if not rows:
        return Block(0.0, ())
    step, deep = rise(_SIZE), math.ceil(len(rows) / share)
    marks: list[Mark] = [
        Words(0.0, 3.6, side.name, _SIZE, True),
        Line(((0.0, 5.0), (share * each - _GAP, 5.0)), 0.12),
    ]
    for n, (number, fence, cut) in enumerate(rows):
        x, y = (n // deep) * each + side.cells[0], 5.0 + (n % deep + 0.8) * step
        after = x + _BETWEEN[0] + side.cells[1]
        marks += [
            Words(x, y, number, _SIZE, align="right"),
            Words(after, y, fence, _SIZE, True, "right"),
        ]
        marks.append(Words(after + _BETWEEN[1], y, cut, _SIZE))
    return Block(5.3 + deep * step, tuple(marks))
