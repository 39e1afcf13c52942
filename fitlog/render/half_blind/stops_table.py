"""The table of the stops: number, where the fence goes, what is cut there; the tail boards' at the
left.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ...families.half_blind.layouts import Cut, Stop
from ...families.half_blind.layouts.job import Job
from ...language.units import Ruler
from ...texts import tell
from ..sheet.paper import Block, Line, Mark, Measure, Words, beside, rise, stacked, title

_SIZE, _GAP = 7.4, 4.0
_BETWEEN = (2.0, 1.5)  # number and fence, fence and cut
_LEAD = 9.6  # title and column heads, mm

Row = tuple[str, str, str]


def rows_of(stops: Sequence[Stop], ruler: Ruler) -> list[Row]:
    """Return number, fence and cut of each stop."""
    return [(str(s.number), ruler.length(s.setting), _short(s.cut)) for s in stops]


def _short(cut: Cut) -> str:
    part = cut.part
    return {
        "edge": tell("both edges"),
        "slot": tell("slot {part}", part=part),
        "socket": tell("socket {part}", part=part),
        "first": tell("socket {part} first", part=part),
        "clearing": tell("socket {part} clear", part=part),
        "last": tell("socket {part} last", part=part),
    }[cut.kind]


def tables(job: Job, width: float, height: float, ruler: Ruler, measure: Measure) -> list[Block]:
    """Return the stops in blocks no higher than a page of `height`; one where they fit."""
    sides = [rows_of(job.stops.of(board), ruler) for board in ("tail", "pin")]
    cells = [
        max(measure(row[n], _SIZE, n == 1) for row in (*sides[0], *sides[1])) for n in range(3)
    ]
    across = max(2, int((width + _GAP) / (sum(cells) + _BETWEEN[0] + _BETWEEN[1] + _GAP)))
    each = (width + _GAP) / across
    tail = min(
        range(1, across),
        key=lambda n: max(math.ceil(len(sides[0]) / n), math.ceil(len(sides[1]) / (across - n))),
    )
    shares = (tail, across - tail)
    most = max(4, int((height - _LEAD) / rise(_SIZE)))
    parts = max(
        math.ceil(len(rows) / share / most) for rows, share in zip(sides, shares, strict=True)
    )
    blocks = []
    for k in range(parts):
        found = [
            _side(name, rows[k * most * share : (k + 1) * most * share], share, cells, each)
            for name, rows, share in zip(
                (tell("Tail boards, on end"), tell("Pin boards, flat")), sides, shares, strict=True
            )
        ]
        text = tell("Stops: where the fence goes, moving out only, from its own zero") + (
            tell(", part {k} of {parts}", k=k + 1, parts=parts) if k else ""
        )
        blocks.append(stacked([title(text, width), beside(found[0], found[1], tail * each)]))
    return blocks


def _side(name: str, rows: Sequence[Row], share: int, cells: Sequence[float], each: float) -> Block:
    """One board's stops in `share` columns, `each` wide."""
    if not rows:
        return Block(0.0, ())
    step, deep = rise(_SIZE), math.ceil(len(rows) / share)
    marks: list[Mark] = [
        Words(0.0, 2.7, name, _SIZE, True),
        Line(((0.0, 3.9), (share * each - _GAP, 3.9)), 0.12),
    ]
    for n, (number, fence, cut) in enumerate(rows):
        x, y = (n // deep) * each + cells[0], 3.9 + (n % deep + 0.78) * step
        after = x + _BETWEEN[0] + cells[1]
        marks += [
            Words(x, y, number, _SIZE, align="right"),
            Words(after, y, fence, _SIZE, True, "right"),
        ]
        marks.append(Words(after + _BETWEEN[1], y, cut, _SIZE))
    return Block(4.2 + deep * step, tuple(marks))
