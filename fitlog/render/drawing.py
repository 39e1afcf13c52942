"""How a `Drawing` is drawn: as marks on paper for the printed sheet, or as an SVG by itself, with
its dimensions lettered and the letters' measures below. Lengths mm, as they are on the paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from string import ascii_uppercase
from typing import NamedTuple
from xml.sax.saxutils import escape, quoteattr

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

SCALES = (1.0, 0.5, 0.25, 0.2, 0.1, 0.05, 0.02)  # of full size; larger is never drawn
_LETTER, _WORD = 11.0, 9.0  # points: both are read standing
_ROW, _OVER = 6.5, 0.9  # from one dimension's line to the next; what a line goes on past it
_APART = 1.8  # between lines of hatching
_EDGE = 1.2  # around all of it: a letter at its side, half a line's weight
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
    drawing: Drawing,
    letters: Mapping[str, str],
    measure: Measure,
    width: float,
    height: float,
    *,
    noted: bool = True,
) -> Picture:
    """Return a drawing at full size, or at the largest of the usual scales that this room holds.
    noted: its title and its scale stand below it.
    """
    made = (_at(drawing, letters, measure, scale, noted) for scale in SCALES)
    fits = (one for one in made if one.width <= width and one.block.height <= height)
    return next(fits, None) or _at(drawing, letters, measure, SCALES[-1], noted)


def _at(
    drawing: Drawing, letters: Mapping[str, str], measure: Measure, scale: float, noted: bool
) -> Picture:
    left, top, right, bottom = drawing.box
    rooms = {side: _room(drawing, side) for side in ("left", "above", "right", "below")}
    ox, oy = _EDGE + rooms["left"] - left * scale, _EDGE + rooms["above"] - top * scale

    def to(point: Point) -> Point:
        return point[0] * scale + ox, point[1] * scale + oy

    low, far = bottom * scale + oy, right * scale + ox
    box = (left * scale + ox, top * scale + oy, far, low)
    marks: list[Mark] = []
    for area in drawing.areas:
        marks += _area(area, tuple(map(to, area.points)))
    marks += (Line(tuple(map(to, s.points)), 0.2, s.dashed) for s in drawing.strokes)
    lines, named = list[Mark](), list[Mark]()
    for one in drawing.dimensions:
        ends = (to(one.start), to(one.end))
        line = _line(one, *ends, box)
        lines += _dimension(one, letters[one.name], ends, line)
        named += _letter(one, letters[one.name], line)
    marks += (*lines, *named)
    for label in drawing.labels:
        marks += _word(tell(label.text), to(label.at), measure)
    note = tell("{title}, {scale}", title=tell(drawing.title), scale=scale_name(scale))
    under = low + rooms["below"]
    wide = far + rooms["right"] + _EDGE
    if noted:
        under += rise(_WORD)
        marks.append(Words(_EDGE, under, note, _WORD))
        wide = max(wide, measure(note, _WORD, False) + 2 * _EDGE)
    return Picture(wide, Block(under + _EDGE + 0.3, tuple(marks)), scale)


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


def svg(drawing: Drawing, ruler: Ruler, width: float = 120.0) -> str:
    """Return a drawing as an SVG of its own, one unit a millimetre at full size, with its measures
    below it. width: what it is drawn in at most.
    """
    letters = lettered([drawing])
    shown = picture(drawing, letters, _about, width, 10 * width, noted=False)
    rows = measures([drawing], letters, ruler)
    longest = max(
        (_about(n, AT_MACHINE, False) + _about(v, AT_MACHINE, True) for _, n, v in rows),
        default=0.0,
    )
    wide = max(shown.width, min(width, longest + 10.0))
    told = legend(rows, wide - 2 * _EDGE, _about)
    marks = (*shown.block.marks, *told.at(_EDGE, shown.block.height + 1.0))
    high = shown.block.height + told.height + 2.0
    parts = [
        '<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'aria-label={quoteattr(tell(drawing.title))} viewBox="0 0 {wide:.2f} {high:.2f}" '
        f'width="{wide:.2f}mm" height="{high:.2f}mm" font-family="sans-serif">',
        *map(_element, marks),
        "</svg>",
    ]
    return "\n".join(parts)


def _about(text: str, size: float, bold: bool) -> float:
    """Return about how wide a text is in whatever type a screen has, rather too wide."""
    return len(text) * size * MM_PER_POINT * (0.68 if bold else 0.6)


def _element(mark: Mark) -> str:
    if isinstance(mark, Words):
        anchor = {"left": "start", "center": "middle", "right": "end"}[mark.align]
        weight = ' font-weight="bold"' if mark.bold else ""
        return (
            f'<text x="{mark.x:.3f}" y="{mark.y:.3f}" font-size="{mark.size * MM_PER_POINT:.3f}" '
            f'text-anchor="{anchor}"{weight}>{escape(mark.text)}</text>'
        )
    points = " ".join(f"{x:.4f},{y:.4f}" for x, y in mark.points)
    if isinstance(mark, Shape):
        line = f'stroke="#000" stroke-width="{mark.weight:g}"' if mark.weight else 'stroke="none"'
        return f'<polygon points="{points}" fill="{_grey(mark.grey)}" {line}/>'
    name = f' id="{mark.name.replace(chr(39), "x")}"' if mark.name else ""
    dashes = ' stroke-dasharray="1 0.6"' if mark.dashed else ""
    return (
        f'<polyline{name} points="{points}" fill="none" stroke="{_grey(mark.grey)}" '
        f'stroke-width="{mark.weight:g}"{dashes}/>'
    )


def _grey(grey: float) -> str:
    return "#" + f"{round(grey * 255):02x}" * 3
