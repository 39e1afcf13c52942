"""A joint as it is looked at, with the places where something may be wrong: a line drawing to
touch. A family's own is `drawing` in its module `seen`; one without has none.
"""

from __future__ import annotations

from typing import NamedTuple

from ..domain import Plan
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


def seen(plan: Plan) -> Drawing | None:
    """Return the drawing of a plan's joint; None where its family has none."""
    own = own_room(plan.joint, "seen")
    drawn: Drawing | None = None if own is None else own.drawing(plan)
    return drawn
