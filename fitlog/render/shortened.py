"""A drawing with its long empty stretches broken out, as an engineer draws a long part: what is
measured stays large where there is little room. Lengths mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from ..domain.drawing import Drawing, Point

_LONG = 26.0  # mm between two things that are drawn: a longer stretch is broken
_LEFT = 13.0  # mm of it that are left
_BAND, _TOOTH = 1.6, 1.2  # mm: how wide the break is, how far its line goes to and fro
_WORD = 1.3  # mm a letter, half of a word's width at the least scale it is read in


def shortened(drawing: Drawing) -> tuple[Drawing, tuple[tuple[Point, ...], ...]]:
    """Return it shortened across and upright, and the outlines of its breaks; each is a zigzag and
    the same one back. Its dimensions' lengths are no longer true: the figures are the first one's.
    """
    breaks = tuple([(a, b, axis) for axis in (0, 1) for a, b in _empty(drawing, axis)])

    def to(point: Point) -> Point:
        x, y = (
            value - sum(_gone(value, a, b) for a, b, of in breaks if of == axis)
            for axis, value in enumerate(point)
        )
        return x, y

    made = replace(
        drawing,
        areas=tuple(replace(a, points=tuple(map(to, a.points))) for a in drawing.areas),
        strokes=tuple(replace(s, points=tuple(map(to, s.points))) for s in drawing.strokes),
        dimensions=tuple(replace(d, start=to(d.start), end=to(d.end)) for d in drawing.dimensions),
        labels=tuple(replace(one, at=to(one.at)) for one in drawing.labels),
    )
    outlines = [
        _zigzag(to((at, at))[axis], to((low, low))[1 - axis], to((high, high))[1 - axis], axis)
        for a, b, axis in breaks
        for at in [(a + b) / 2]
        for low, high in _through(drawing, at, axis)
    ]
    return made, tuple(outlines)


def _through(drawing: Drawing, at: float, axis: int) -> Iterator[tuple[float, float]]:
    """Yield what a line across an axis meets: from where to where it lies in an area."""
    for area in drawing.areas:
        met = sorted(
            one[1 - axis]
            for one, other in pairwise((*area.points, area.points[0]))
            if (one[axis] < at) != (other[axis] < at)
        )
        yield from zip(met[::2], met[1::2], strict=True)


def _gone(value: float, start: float, end: float) -> float:
    """How much of a broken stretch lies before a value and is not drawn."""
    share = min(max((value - start) / (end - start), 0.0), 1.0)
    return share * (end - start - _LEFT)


def _empty(drawing: Drawing, axis: int) -> Iterator[tuple[float, float]]:
    """Yield the long stretches in which nothing is drawn but lines along them."""
    taken = {point[axis] for point in drawing.points()}
    for one in drawing.dimensions:
        taken |= {one.start[axis], one.end[axis]}
    for label in drawing.labels:
        half = len(label.text) * _WORD if axis == 0 else 3.0
        taken |= {label.at[axis] - half, label.at[axis], label.at[axis] + half}
    least, most = drawing.box[axis], drawing.box[axis + 2]
    places = sorted(at for at in taken if least <= at <= most)
    for a, b in pairwise(places):
        if b - a > _LONG and not any(_crossed(*pair, a, b, axis) for pair in _edges(drawing)):
            yield a, b


def _edges(drawing: Drawing) -> Iterator[tuple[Point, Point]]:
    for area in drawing.areas:
        yield from pairwise((*area.points, area.points[0]))
    for stroke in drawing.strokes:
        yield from pairwise(stroke.points)


def _crossed(one: Point, other: Point, a: float, b: float, axis: int) -> bool:
    """Whether a slanting line crosses a stretch: shortened it would lie at another angle."""
    low, high = sorted((one[axis], other[axis]))
    return low < b and high > a and abs(one[1 - axis] - other[1 - axis]) > 1e-6


def _zigzag(at: float, start: float, end: float, axis: int) -> tuple[Point, ...]:
    """A break across an axis, there along one edge and back along the other."""
    count = max(2, round((end - start) / 6.0))
    along = [start + (end - start) * n / count for n in range(count + 1)]
    off = [_TOOTH * (n % 2 - 0.5) for n in range(count + 1)]
    there = [(at + o - _BAND / 2, v) for o, v in zip(off, along, strict=True)]
    back = [(at + o + _BAND / 2, v) for o, v in zip(off, along, strict=True)]
    points = (*there, *reversed(back))
    return points if axis == 0 else tuple((v, x) for x, v in points)
