"""Parts cut from both faces drawn as polygons: shapely as an oracle that knows none of our closed
forms. Only boards, bits and the moves of the work are drawn. Lengths are mm.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

shapely = pytest.importorskip("shapely")
from polygons import largest  # noqa: E402
from shapely import affinity  # noqa: E402
from shapely.geometry import LineString, Polygon, box  # noqa: E402

EMPTY = 1e-10  # mm2: an overlap this small is rounding
LONG = 90.0  # of every board that is drawn


def both_faces(thickness: float, height: float, length: float) -> Polygon:
    """A board that lies flat on y = 0, its end at x = 0, cut by a bit that stands `height` high, as
    far as a stop allows; turned over and cut again.
    """
    board, bit = box(0, 0, LONG, thickness), box(-1, -1, length, height)
    once = board.difference(bit)
    return affinity.scale(once, 1, -1, origin=(0, thickness / 2)).difference(bit)


def grooved(thickness: float, width: float, fence: float, depth: float) -> tuple[Polygon, Polygon]:
    """A board on edge, its face at the fence x = 0, cut from y = 0 up, turned and cut again; and
    what the second pass took off, as the board then stood.
    """
    board, bit = box(0, 0, thickness, LONG), box(fence - width / 2, -1, fence + width / 2, depth)
    once = board.difference(bit)
    turned = affinity.scale(once, -1, 1, origin=(thickness / 2, 0))
    return turned.difference(bit), turned.intersection(bit)


def grooved_once(thickness: float, width: float, fence: float, depth: float) -> Polygon:
    """The same board in one pass, never turned."""
    bit = box(fence - width / 2, -1, fence + width / 2, depth)
    return box(0, 0, thickness, LONG).difference(bit)


def mortised(thickness: float, near_wall: float, width: float, depth: float) -> Polygon:
    """A stile whose face is y = 0, its mortise open at x = 0."""
    stile = box(-LONG, 0, 0, thickness)
    return stile.difference(box(-depth, near_wall, 1, near_wall + width))


def thick_at(part: Polygon, x: float) -> float:
    """How thick a part is at a place along it."""
    return float(part.intersection(LineString([(x, -LONG), (x, 2 * LONG)])).length)


def room_at(part: Polygon, x: float) -> float:
    """How wide a hollow is at a place: what is missing between the walls."""
    cut = part.intersection(LineString([(x, -LONG), (x, 2 * LONG)]))
    return float(cut.bounds[3] - cut.bounds[1] - cut.length)


def clear(one: Polygon, other: Polygon) -> bool:
    """Whether two parts only touch."""
    return bool(one.intersection(other).area < EMPTY)


def travel(moved: Polygon, fixed: Polygon) -> tuple[float, float]:
    """How far a part that is clear goes down and up until it touches."""
    assert clear(moved, fixed)

    def free(way: float) -> Callable[[float], bool]:
        return lambda by: clear(affinity.translate(moved, 0, way * by), fixed)

    return largest(free(-1.0), 9.0), largest(free(1.0), 9.0)


def pushed(moved: Polygon, fixed: Polygon) -> float:
    """How far a part that stands off in x goes toward the other until it touches."""
    assert clear(moved, fixed)
    return largest(lambda by: clear(affinity.translate(moved, -by, 0), fixed), 2 * LONG)


def into(part: Polygon, length: float, middle: float) -> Polygon:
    """A part with its shoulder at x = 0 and its middle at a height, its tenon toward negative x."""
    low, high = part.bounds[1], part.bounds[3]
    return affinity.translate(part, -length, middle - (low + high) / 2)
