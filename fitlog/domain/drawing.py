"""A drawing as plain data: what a family wants drawn, in true millimetres, x to the right and y
downward. How it gets on paper or on a screen is no matter of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
Side = Literal["above", "below", "left", "right"]


@dataclass(frozen=True, slots=True)
class Area:
    """A closed outline. of: the first board, whose wood is hatched, the second, hatched the other
    way, the cutter, or what guides the work: fence, key, stop.
    """

    points: tuple[Point, ...]
    of: Literal["first", "second", "cutter", "guide"] = "first"


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points; dashed: of something that lies elsewhere."""

    points: tuple[Point, ...]
    dashed: bool = True


@dataclass(frozen=True, slots=True)
class Dimension:
    """A measure between two points, across where its line lies above or below the drawing, upright
    where it lies at its left or right.

    name: what it is, in English; row: its line's place, 0 the nearest to the drawing. reading: what
    the machine's own scale shows for it, mm; None: what is drawn.
    """

    name: str
    start: Point
    end: Point
    side: Side
    row: int = 0
    setting: str = ""
    reading: float | None = None

    @property
    def across(self) -> bool:
        """Whether it is measured from left to right."""
        return self.side in ("above", "below")

    @property
    def size(self) -> float:
        """How long it is, mm."""
        place = 0 if self.across else 1
        return abs(self.end[place] - self.start[place])


@dataclass(frozen=True, slots=True)
class Label:
    """A word in a drawing, in English, its middle at a point."""

    at: Point
    text: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """One picture. title: what it shows, in English. A later area lies over an earlier one."""

    title: str
    areas: tuple[Area, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    labels: tuple[Label, ...] = ()

    def points(self) -> Iterator[Point]:
        """Yield every point that is drawn."""
        for area in self.areas:
            yield from area.points
        for stroke in self.strokes:
            yield from stroke.points

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of what is drawn, mm."""
        xs, ys = zip(*self.points(), strict=True)
        return min(xs), min(ys), max(xs), max(ys)


def oblong(
    left: float,
    top: float,
    right: float,
    bottom: float,
    of: Literal["first", "second", "cutter", "guide"] = "first",
) -> Area:
    """Return an area with four square corners."""
    return Area(((left, top), (right, top), (right, bottom), (left, bottom)), of)
