"""How a `Drawing` is drawn as marks, its dimensions lettered, for the printed sheet and a screen
(`onscreen`). Lengths mm, as they are on the paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from string import ascii_uppercase
from typing import NamedTuple

from ..domain.drawing import Area, Dimension, Drawing, Point
from ..language.units import Ruler
from ..texts import tell
from .sheet.paper import (
    AT_MACHINE,
    MM_PER_POINT,
    Block,
    Line,
    Mark,
    Measure,
    Shape,
    Words,
    rise,
    stacked,
    wrapped,
)

SCALES = (1.0, 0.5, 0.25, 0.2, 0.1, 0.05, 0.02)  # of full size; on paper larger is never drawn
_LETTER, _WORD = 11.0, 9.0  # points: both are read standing
_ROW, _OVER = 6.5, 0.9  # from one dimension's line to the next; what a line goes on past it
_APART = 1.8  # between lines of hatching
EDGE = 1.2  # around all of it: a letter at its side, half a line's weight
_FILL = {"first": 0.92, "second": 0.98, "cutter": 0.8, "guide": 0.45}
_WAYS = {"first": 1.0, "second": -1.0}  # which way wood is hatched


class Picture(NamedTuple):
    """A drawing on paper: how wide it is, its marks, and its scale."""

    width: float
    block: Block
    scale: float


def scale_name(scale: float) -> str:
    """Return a scale in words."""
    return tell("full size") if scale == 1 else tell("{scale:g} x full size", scale=scale)


def lettered(drawings: Iterable[Drawing]) -> dict[str, str]:
    """Return a letter for everything that is measured in some drawings, by its name there."""
    names = dict.fromkeys(one.name for drawing in drawings for one in drawing.dimensions)
    return dict(zip(names, _letters(), strict=False))


def _letters() -> Iterator[str]:
    """A to Z without those that look like a number, then each with a stroke."""
    for stroke in ("", "'"):
        yield from (f"{letter}{stroke}" for letter in ascii_uppercase if letter not in "IO")


def measures(
    drawings: Iterable[Drawing], letters: Mapping[str, str], ruler: Ruler
) -> list[tuple[str, str, str]]:
    """Return what is measured: its letter, its name and its length, as the machine's own scale
    shows it where it has one.
    """
    found = {one.name: one for drawing in drawings for one in drawing.dimensions}
    return [(letters[name], tell(name), _length(one, ruler)) for name, one in found.items()]


def _length(one: Dimension, ruler: Ruler) -> str:
    true = ruler.length(one.size)
    if one.reading is None or (shown := ruler.length(one.reading)) == true:
        return true
    return tell("{shown} on the scale, {true} true", shown=shown, true=true)


def picture(
    drawing: Drawing, letters: Mapping[str, str], measure: Measure, width: float, height: float
) -> Picture:
    """Return a drawing at full size, or at the largest of the usual scales that this room holds,
    and say at which.
    """

    def at(scale: float) -> Picture:
        note = tell("{title}, {scale}", title=tell(drawing.title), scale=scale_name(scale))
        return drawn_at(drawing, letters, measure, scale, note)

    fits = (one for one in map(at, SCALES) if one.width <= width and one.block.height <= height)
    return next(fits, None) or at(SCALES[-1])


def drawn_at(
    drawing: Drawing,
    letters: Mapping[str, str],
    measure: Measure,
    scale: float,
    note: str = "",
    breaks: Iterable[tuple[Point, ...]] = (),
) -> Picture:
    """Return a drawing at a scale. note: what stands below it; breaks: outlines of what is broken
    out of it (`shortened`).
    """
    left, top, right, bottom = drawing.box
    rooms = rooms_of(drawing)
    ox, oy = EDGE + rooms["left"] - left * scale, EDGE + rooms["above"] - top * scale

    def to(point: Point) -> Point:
        return point[0] * scale + ox, point[1] * scale + oy

    low, far = bottom * scale + oy, right * scale + ox
    box = (left * scale + ox, top * scale + oy, far, low)
    marks: list[Mark] = []
    for area in drawing.areas:
        marks += _area(area, tuple(map(to, area.points)))
    marks += (Line(tuple(map(to, s.points)), 0.2, s.dashed) for s in drawing.strokes)
    for outline in breaks:
        marks += _break(tuple(map(to, outline)))
    lines, named = list[Mark](), list[Mark]()
    for one in drawing.dimensions:
        ends = (to(one.start), to(one.end))
        line = _line(one, *ends, box)
        lines += _dimension(one, letters[one.name], ends, line)
        named += _letter(one, letters[one.name], line)
    marks += (*lines, *named)
    for label in drawing.labels:
        marks += _word(tell(label.text), to(label.at), measure)
    under = low + rooms["below"]
    if note:
        under += rise(_WORD)
        marks.append(Words(EDGE, under, note, _WORD))
    wide = max(far + rooms["right"], measure(note, _WORD, False) + EDGE) + EDGE
    return Picture(wide, Block(under + EDGE + 0.3, tuple(marks)), scale)


def rooms_of(drawing: Drawing) -> dict[str, float]:
    """Return how much room its dimensions take at each side."""
    return {side: _room(drawing, side) for side in ("left", "above", "right", "below")}


def _break(outline: tuple[Point, ...]) -> Iterator[Mark]:
    """White between two lines, there and back, over what is broken."""
    half = len(outline) // 2
    yield Shape(outline, 1.0, 0.0)
    yield Line(outline[:half], 0.2)
    yield Line(outline[half:], 0.2)


def _room(drawing: Drawing, side: str) -> float:
    """How much room the dimensions at a side take."""
    rows = [one.row + 1 for one in drawing.dimensions if one.side == side]
    return max(rows) * _ROW + 1.0 if rows else 0.0


def _area(area: Area, points: tuple[Point, ...]) -> Iterator[Mark]:
    yield Shape(points, _FILL[area.of], 0.3)
    if area.of in _WAYS:
        yield from (Line(line, 0.08, grey=0.6) for line in hatched(points, _WAYS[area.of]))


def hatched(
    points: Sequence[Point], way: float, apart: float = _APART
) -> Iterator[tuple[Point, ...]]:
    """Yield the lines, at 45 deg, that fill a closed outline. way: 1 or -1, which diagonal."""
    step = apart * math.sqrt(2)
    ends = [(x + way * y, x - way * y) for x, y in points]
    low, high = min(u for u, _ in ends), max(u for u, _ in ends)
    for n in range(math.floor(low / step) + 1, math.ceil(high / step)):
        u, crossed = n * step, []
        for (ua, ta), (ub, tb) in zip(ends, ends[1:] + ends[:1], strict=True):
            if (ua < u) != (ub < u):
                crossed.append(ta + (tb - ta) * (u - ua) / (ub - ua))
        crossed.sort()
        for one, other in zip(crossed[::2], crossed[1::2], strict=True):
            yield tuple(((u + t) / 2, way * (u - t) / 2) for t in (one, other))


def _line(
    one: Dimension, start: Point, end: Point, box: tuple[float, float, float, float]
) -> tuple[Point, Point]:
    """The ends of its line, beyond the drawing's edge."""
    edge = box[("left", "above", "right", "below").index(one.side)]
    at = edge + _outward(one) * (one.row + 0.6) * _ROW
    (x, y), (far, low) = start, end
    return ((x, at), (far, at)) if one.across else ((at, y), (at, low))


def _outward(one: Dimension) -> float:
    return 1.0 if one.side in ("right", "below") else -1.0


def _dimension(
    one: Dimension, letter: str, ends: tuple[Point, Point], line: tuple[Point, Point]
) -> Iterator[Mark]:
    """Its line, and what leads to it."""
    over = _outward(one) * _OVER
    for start, (x, y) in zip(ends, line, strict=True):
        yield Line((start, (x, y + over) if one.across else (x + over, y)), 0.12)
        yield Line(((x - 0.8, y + 0.8), (x + 0.8, y - 0.8)), 0.3)
    yield Line(line, 0.2, name=f"dim-{letter}")


def _letter(one: Dimension, letter: str, line: tuple[Point, Point]) -> Iterator[Mark]:
    """Its letter at the middle of its line, beside one too short for it, on white."""
    (x, y), (far, low), outward = *line, _outward(one)
    tall, half = 0.72 * _LETTER * MM_PER_POINT, 0.4 * _LETTER * MM_PER_POINT  # of a capital
    if not one.across:
        cx, base = x + outward * (half + 1.0), (y + low + tall) / 2
    elif abs(far - x) < 2.5 * half:
        cx, base = max(x, far) + half + 1.2, y + tall / 2
    else:
        cx, base = (x + far) / 2, y + (tall + 0.8 if outward > 0 else -0.8)
    left, right = cx - half, cx + half
    top, under = base - tall - 0.2, base + 0.2
    yield Shape(((left, top), (right, top), (right, under), (left, under)), 1.0, 0.0)
    yield Words(cx, base, letter, _LETTER, True, "center")


def _word(text: str, at: Point, measure: Measure) -> Iterator[Mark]:
    """A word on white, so that it reads on hatching."""
    half, tall = measure(text, _WORD, False) / 2 + 0.5, _WORD * MM_PER_POINT
    x, y = at
    top, low = y - 0.6 * tall, y + 0.6 * tall
    yield Shape(((x - half, top), (x + half, top), (x + half, low), (x - half, low)), 1.0, 0.0)
    yield Words(x, y + 0.33 * tall, text, _WORD, align="center")


def legend(rows: Sequence[tuple[str, str, str]], width: float, measure: Measure) -> Block:
    """Return what the letters mean, in the type that is read at the machine; what is too long for
    its line goes on the next one.
    """
    blocks = []
    step, base = rise(AT_MACHINE), 0.78 * rise(AT_MACHINE)
    for letter, name, value in rows:
        room = width - 9.0 - measure(name, AT_MACHINE, False)
        beside = room >= measure(value, AT_MACHINE, True)
        lines = [value] if beside else ["", *wrapped(value, width, AT_MACHINE, measure, True)]
        words = (
            Words(0.0, base, letter, AT_MACHINE, True),
            Words(6.0, base, name, AT_MACHINE),
            *(
                Words(width, base + n * step, line, AT_MACHINE, True, "right")
                for n, line in enumerate(lines)
                if line
            ),
        )
        blocks.append(Block(step * len(lines), words))
    return stacked(blocks, 0.2)
