"""Lock mitres drawn as polygons: shapely as an oracle that knows none of our closed forms. Only the
bit's profile, the boards and the moves of the work are drawn. Lengths are mm.

x is out from the fence, y up from the table. A flat board lies on y = 0 with its end at x = 0,
outside up; an upright one stands on y = 0 with its inside at x = 0. The bit takes what lies on the
fence's side of its profile: a line of 45 deg with a tongue, the same about its middle.
"""

from __future__ import annotations

import math
import random

import pytest

shapely = pytest.importorskip("shapely")
from shapely import affinity  # noqa: E402
from shapely.geometry import LineString, Polygon, box  # noqa: E402

EMPTY = 1e-9  # mm2: an overlap this small is rounding
LONG = 90.0  # of every board that is drawn

Tongue = tuple[tuple[float, float], ...]


def tongue(seed: int, thick: float) -> Tongue:
    """A random tongue well inside a board: along the line of 45 deg from its middle, and out from
    that line.
    """
    r = random.Random(seed)
    first, out = r.uniform(0.01, 0.04) * thick, r.uniform(0.02, 0.06) * thick
    second = first + r.uniform(0.03, 0.08) * thick
    return (first, out), (second, out), (second + r.uniform(0.01, 0.05) * thick, 0.0)


def bit(shape: Tongue, x: float, z: float) -> Polygon:
    """What a bit takes with its middle at (x, z)."""
    upper = [*shape, (3 * LONG, 0.0)]
    lower = [(-along, -out) for along, out in reversed(upper)]
    half = math.sqrt(0.5)
    line = [(x + half * (n - u), z + half * (n + u)) for u, n in (*lower, *upper)]
    return Polygon([*line, (-3 * LONG, -3 * LONG)])


def flat(shape: Tongue, x: float, z: float, thick: float) -> Polygon:
    """A board cut flat."""
    return box(0, 0, LONG, thick).difference(bit(shape, x, z))


def upright(shape: Tongue, x: float, z: float, thick: float) -> Polygon:
    """A board cut upright."""
    return box(0, 0, thick, LONG).difference(bit(shape, x, z))


def home(one: Polygon, other: Polygon) -> Polygon:
    """The other part turned half about and pushed home into the first: their tongues meet corner
    for corner, and they overlap nowhere.
    """
    turned = affinity.scale(other, -1, -1, origin=(0, 0))
    here, there = _tongue_of(one), _tongue_of(turned)
    by = [a - b for a, b in zip(here[0], there[0], strict=True)]
    moved = affinity.translate(turned, *by)
    assert moved.intersection(one).area < EMPTY
    met = _tongue_of(moved)
    for mine, its in zip(here, met, strict=True):
        assert math.dist(mine, its) < 1e-9
    return moved


def _tongue_of(part: Polygon) -> list[tuple[float, float]]:
    """The corners of a part inside its outline, from its lower right to its upper left."""
    low_x, low_y, high_x, high_y = part.bounds
    inner = [
        (x, y)
        for x, y in part.exterior.coords[:-1]
        if low_x + 1e-7 < x < high_x - 1e-7 and low_y + 1e-7 < y < high_y - 1e-7
    ]
    return sorted(inner, key=lambda at: at[1] - at[0])


def left_blunt(part: Polygon) -> float:
    """How much of an end is left at the fence, mm."""
    return float(part.intersection(LineString([(0, -LONG), (0, 2 * LONG)])).length)
