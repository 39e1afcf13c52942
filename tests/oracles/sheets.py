"""Housings and rabbets drawn as polygons: shapely as an oracle that knows none of our closed forms.

A side is seen on its edge: x along it from the reference end, y through its thickness, the face
that is cut at the bottom, as it lies on the table. Only the bit, the boards and the passes are
drawn.
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest

shapely = pytest.importorskip("shapely")
from polygons import largest  # noqa: E402
from shapely import affinity  # noqa: E402
from shapely.geometry import LineString, Polygon, box  # noqa: E402

EMPTY = 1e-11  # mm2: an overlap this small is rounding
SMALL = 1e-7


def clear(one: Polygon, other: Polygon) -> bool:
    """Whether two shapes only touch."""
    return bool(one.intersection(other).area < EMPTY)


def passed(side: Polygon, axes: Sequence[float], bit: float, height: float) -> Polygon:
    """A side after passes of a straight bit whose axis lies so far from its reference end."""
    for at in axes:
        side = side.difference(box(at - bit / 2, -1.0, at + bit / 2, height))
    return side


def walls(side: Polygon, height: float) -> tuple[float, float]:
    """Both walls of the one groove of a side, at half its height."""
    low, _, high, _ = side.bounds
    cut = side.intersection(LineString([(low - 1, height / 2), (high + 1, height / 2)]))
    left, right = sorted(cut.geoms, key=lambda line: line.bounds[0])
    return float(left.bounds[2]), float(right.bounds[0])


def deep(side: Polygon, at: float) -> float:
    """How deep a side is cut at a distance from its end."""
    _, low, _, high = side.bounds
    left = side.intersection(LineString([(at, low - 5), (at, high + 5)])).length
    return float(high - left)


def travel(side: Polygon, sheet: Polygon) -> float:
    """How far a sheet that stands in a groove goes, both ways together."""
    assert clear(side, sheet)
    return sum(
        largest(lambda d, way=way: clear(side, affinity.translate(sheet, way * d)), 20.0)  # type: ignore[misc]
        for way in (-1.0, 1.0)
    )
