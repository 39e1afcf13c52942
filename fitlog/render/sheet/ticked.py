"""A table of boards or of stops with a box to tick before each row, as blocks of a sheet."""

from __future__ import annotations

from collections.abc import Sequence

from .paper import (
    AT_MACHINE,
    Block,
    Line,
    Mark,
    Measure,
    Words,
    paragraph,
    rise,
    stacked,
    title,
)

_SIZE = AT_MACHINE
_TICK = 3.4  # mm: a box to tick
_BETWEEN = 3.0  # columns


def schedule(
    heading: str,
    columns: Sequence[str],
    rows: Sequence[Sequence[str]],
    width: float,
    height: float,
    measure: Measure,
    picture: Block | None = None,
) -> list[Block]:
    """Return a table of the boards with a box to tick before each row, in blocks no higher than a
    page of `height`. Every row has as many texts as there are columns; the last column takes what
    room is left. picture: drawn above the first part.
    """
    if not rows:
        return []
    wide = [
        max(measure(text, _SIZE, row is columns) for row in (columns, *rows) for text in [row[n]])
        for n in range(len(columns) - 1)
    ]
    ends = [_TICK + _BETWEEN + sum(wide[:n]) + n * _BETWEEN for n in range(len(columns))]
    lines = [_row(row, ends, width, measure) for row in rows]
    top = [title(heading, width), _head(columns, ends, width)]
    lead = [] if picture is None else [picture]
    blocks, some, room = list[Block](), [*lead, *top], height - sum(b.height for b in (*lead, *top))
    for line in lines:
        if line.height > room:
            blocks.append(stacked(some))
            some, room = [*top], height - sum(b.height for b in top)
        some.append(line)
        room -= line.height
    return [*blocks, stacked(some)]


def _head(columns: Sequence[str], ends: Sequence[float], width: float) -> Block:
    step = rise(_SIZE)
    words = (Words(x, 0.8 * step, text, _SIZE, True) for x, text in zip(ends, columns, strict=True))
    return Block(step + 1.0, (*words, Line(((0.0, step + 0.5), (width, step + 0.5)), 0.2)))


def _row(row: Sequence[str], ends: Sequence[float], width: float, measure: Measure) -> Block:
    """One row: the box, then its texts; the last one in as many lines as it takes."""
    last = paragraph(row[-1], width - ends[-1], _SIZE, measure, x=ends[-1])
    base = next((m.y for m in last.marks if isinstance(m, Words)), 0.8 * rise(_SIZE))
    marks: list[Mark] = [
        Words(x, base, text, _SIZE) for x, text in zip(ends, row[:-1], strict=False)
    ]
    low, left = base + 0.4, 0.2
    box = ((left, low - _TICK), (left + _TICK, low - _TICK), (left + _TICK, low), (left, low))
    marks.append(Line((*box, box[0]), 0.25))
    height = last.height + 0.9
    return Block(height, (*marks, *last.marks, Line(((0.0, height), (width, height)), 0.08)))
