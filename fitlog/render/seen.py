"""A joint as it is looked at, with the places where something may be wrong: a line drawing to
touch. A family's own is `drawing` in its module `seen`; one without has none.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from .own import own_room

Point = tuple[float, float]


class Place(NamedTuple):
    """A place of a drawing. code: of the symptom that is seen there; at: the middle of what is
    touched; on: the spot of the joint that it is about.
    """

    number: int
    code: str
    at: Point
    on: Point


class Drawing(NamedTuple):
    """Outlines, each its corners and whether it is the board with the tails, in a frame so wide and
    high; a unit is a pixel of the smallest phone. views: what is seen, each with where that stands.
    """

    width: float
    height: float
    outlines: tuple[tuple[tuple[Point, ...], bool], ...]
    places: tuple[Place, ...]
    views: tuple[tuple[str, Point], ...]


WIDE = 320.0  # of every drawing


def drawn(
    high: float,
    outlines: Iterable[tuple[Sequence[Point], bool]],
    places: Iterable[tuple[str, Point, Point]],
    views: Iterable[tuple[str, Point]],
) -> Drawing:
    """Return a drawing whose places are numbered in their order."""
    numbered = (Place(n, code, at, on) for n, (code, at, on) in enumerate(places, 1))
    shapes = tuple((tuple(points), tails) for points, tails in outlines)
    return Drawing(WIDE, high, shapes, tuple(numbered), tuple(views))


def box(left: float, top: float, right: float, bottom: float) -> list[Point]:
    """Return the corners of an upright rectangle."""
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


def seen(joint: str) -> Drawing | None:
    """Return the drawing of a joint; None where its family has none."""
    own = own_room(joint, "seen")
    drawn: Drawing | None = None if own is None else own.drawing()
    return drawn
