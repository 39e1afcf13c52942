"""The sliding dovetail drawn as polygons: shapely as an oracle that knows none of our closed forms.

Only the bit's outline, the boards and the moves of the cut are drawn; the play, the pulled gap and
the widths are then found by pushing the drawn parts together. Joints are invented at random, with
fixed seeds.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, replace

import pytest

from fitlog.families.sliding import geometry as g

shapely = pytest.importorskip("shapely")
from polygons import largest  # noqa: E402
from shapely import affinity  # noqa: E402
from shapely.geometry import LineString, Point, Polygon, box  # noqa: E402

# mm2: what rounding makes of an overlap. A straight face meets the mouth in a corner, where an
# overlap of 1e-7 mm is no larger.
EMPTY = 1e-14
OPENED = 1.0  # mm by which the socket is opened, so that a tongue of any thickness goes in
AT_14 = 2 * math.tan(math.radians(14))


@dataclass(frozen=True)
class Drawn:
    """One joint: D, theta, T, p, the heights of socket and tongue, mm, and how many faces are
    cut.
    """

    diameter: float
    theta: float
    thickness: float
    exposure: float
    socket: float
    tongue: float
    faces: int = 2

    @classmethod
    def at_random(cls, seed: int, faces: int = 2) -> Drawn:
        r = random.Random(seed)
        diameter, theta = r.uniform(10, 20), math.radians(r.uniform(7, 15))
        socket = min(r.uniform(5, 10), 0.3 * diameter / math.tan(theta))
        thickness = r.uniform(0.95, 1.4) * diameter
        wanted = r.uniform(-0.3, 0.3)
        exposure = (thickness - diameter + 2 * socket * math.tan(theta) + wanted) / faces
        tongue = socket + r.choice((-1, 1)) * r.uniform(0.0, 0.2)
        return cls(diameter, theta, thickness, exposure, socket, tongue, faces)

    def bit(self, height: float) -> Polygon:
        """The bit's outline with its tip at a height above the table."""
        half = self.diameter / 2
        neck = half - height * math.tan(self.theta)
        return Polygon([(-neck, 0), (neck, 0), (half, height), (-half, height)])

    def shelf(self) -> Polygon:
        """The shelf on its end, the shoulder at y = 0 and its tongue below that, its root about
        x = 0.
        """
        half = self.thickness / 2
        wood = box(-half, 0, half, 3 * self.tongue)
        away = half + self.diameter / 2 - self.exposure
        for side in (1, -1)[: self.faces]:
            wood = wood.difference(affinity.translate(self.bit(self.tongue), side * away))
        middle = self.exposure / 2 if self.faces == 1 else 0.0
        return affinity.translate(wood, middle, -self.tongue)

    def panel(self, opened: float = OPENED) -> Polygon:
        """The panel, its face at y = 0, with a socket that is opened by so much."""
        wide = 3 * self.diameter
        cut = affinity.scale(self.bit(self.socket), 1, -1, origin=(0, 0))
        sides = [affinity.translate(cut, side * opened / 2) for side in (-1, 1)]
        return box(-wide, -3 * self.socket, wide, 0).difference(
            shapely.union_all(sides).convex_hull
        )

    def play_at(self, up: float) -> float:
        """The play of the shelf with its shoulder so far above the panel, below 0 where it jams."""
        free = self.lifted(up)
        return largest(free, 2.0) + largest(lambda shift: free(-shift), 2.0) - OPENED

    def lifted(self, up: float) -> Callable[[float], bool]:
        """Whether the shelf, lifted so far, is free of the opened panel where it is shifted to."""
        shelf, panel = affinity.translate(self.shelf(), 0, up), self.panel()
        return lambda shift: affinity.translate(shelf, shift).intersection(panel).area < EMPTY

    def comes_out(self, up: float) -> bool:
        """Whether the shelf is free somewhere in the socket as it is: shifted against one wall of
        the opened one, it is free by as much less as that one is opened.
        """
        free = self.lifted(up)
        return free(largest(free, 2.0) - OPENED)

    @property
    def lift(self) -> float:
        """Where the shoulder comes to rest above the panel: on it, or by the tongue's end on the
        socket's floor.
        """
        return max(0.0, self.tongue - self.socket)

    @property
    def play(self) -> float:
        """The clearance by the closed form."""
        sizes = self.diameter, self.thickness, self.exposure, self.socket, self.theta, self.faces
        return g.clearance(*sizes)


@pytest.mark.parametrize("faces", [2, 1])
@pytest.mark.parametrize("seed", range(50))
def test_the_play_is_that_of_the_drawn_tongue(seed: int, faces: int) -> None:
    d = Drawn.at_random(seed, faces)
    felt = g.felt(d.play, d.tongue - d.socket, d.theta, faces)
    assert d.play_at(d.lift) == pytest.approx(felt, abs=1e-6)
    at_the_root = replace(d, tongue=d.socket)
    assert at_the_root.play_at(0.0) == pytest.approx(d.play, abs=1e-6)


@pytest.mark.parametrize("faces", [2, 1])
@pytest.mark.parametrize("seed", range(50, 100))
def test_the_pulled_gap_is_how_far_the_shelf_comes_straight_out(seed: int, faces: int) -> None:
    d = Drawn.at_random(seed, faces)
    wanted = random.Random(seed).uniform(0.11, 0.3)  # not wedged by a tongue that is 0.2 too high
    d = replace(d, exposure=d.exposure + (wanted - d.play) / faces)
    gap = largest(lambda up: d.comes_out(d.lift + up), 4.0) + d.lift
    assert gap == pytest.approx(g.pulled_gap(d.play, d.theta, faces), abs=1e-6)


@pytest.mark.parametrize("faces", [2, 1])
@pytest.mark.parametrize("seed", range(100, 150))
def test_the_widths_are_those_drawn(seed: int, faces: int) -> None:
    d = Drawn.at_random(seed, faces)
    shelf = d.shelf()

    def across(y: float) -> float:
        return float(shelf.intersection(LineString([(-99, y), (99, y)])).length)

    root = g.root(d.thickness, d.exposure, faces)
    end = g.tongue_end(d.thickness, d.exposure, d.tongue, d.theta, faces)
    assert across(-1e-9) == pytest.approx(root, abs=1e-6)
    assert across(-d.tongue + 1e-9) == pytest.approx(end, abs=1e-6)
    mouth = d.panel(0.0).boundary.intersection(LineString([(-d.diameter, 0), (d.diameter, 0)]))
    closed = float(mouth.length)
    assert 2 * d.diameter - closed == pytest.approx(
        g.mouth(d.diameter, d.socket, d.theta), abs=1e-6
    )


def touching(wall: LineString, y: float, radius: float, start: float, way: int) -> float:
    """Where the middle of a rod at a height y stands that touches a wall, by halving."""

    def apart(shift: float) -> bool:
        return bool(Point(start + way * shift, y).distance(wall) < radius)

    return start + way * largest(apart, 30.0)


@pytest.mark.parametrize("seed", range(150, 200))
def test_rods_touch_where_the_closed_form_has_them(seed: int) -> None:
    """Over rods at the tongue's root and between rods in the socket, found by moving them until
    they touch; the clearance by both (Machinery's Handbook, dovetail slides by rods).
    """
    d, rod = Drawn.at_random(seed), random.Random(seed).uniform(2.0, 4.0)
    root, rise = g.root(d.thickness, d.exposure), math.tan(d.theta)
    flank = LineString([(root / 2, 0), (root / 2 + 9 * rise, -9)])
    middle = touching(flank, -rod / 2, rod / 2, root / 2 + rod * rise / 2, 1)
    over = 2 * (middle + rod / 2)
    assert over == pytest.approx(g.over_rods(root, rod, d.theta), abs=1e-6)
    one = middle + rod / 2 + root / 2  # the other face straight
    assert one == pytest.approx(g.over_rods(root, rod, d.theta, 1), abs=1e-6)
    wide = d.diameter / 2
    wall = LineString([(wide, -d.socket), (wide - 9 * rise, 9 - d.socket)])
    middle = touching(wall, rod / 2 - d.socket, rod / 2, wide, -1)
    between = 2 * (middle - rod / 2)
    assert between == pytest.approx(g.between_rods(d.diameter, rod, d.theta), abs=1e-6)
    assert g.play_by_rods(between, over, rod, d.socket, d.theta) == pytest.approx(d.play, abs=1e-6)


HALF_UP = Drawn(12.7, math.radians(14), 18.0, 4.6846, 8.0, 7.9)
WEDGED = replace(HALF_UP, tongue=8.2, exposure=4.9)


def slope(measured: Callable[[Drawn], float], d: Drawn, name: str) -> float:
    """The change of a measured value with one size, by a central difference."""
    step = 0.01
    at = [measured(replace(d, **{name: getattr(d, name) + s})) for s in (-step, step)]
    return (at[1] - at[0]) / (2 * step)


@pytest.mark.parametrize(
    ("d", "name", "expected"),
    [
        (HALF_UP, "exposure", 2.0),
        (HALF_UP, "thickness", -1.0),
        (HALF_UP, "diameter", 1.0),
        (HALF_UP, "socket", -AT_14),
        (HALF_UP, "tongue", 0.0),
        (WEDGED, "tongue", -AT_14),
        (WEDGED, "socket", 0.0),
        (replace(HALF_UP, faces=1, exposure=2 * 4.6846), "exposure", 1.0),
    ],
)
def test_signs_by_the_measured_play(d: Drawn, name: str, expected: float) -> None:
    """At 14 deg the socket's height counts 0.4987; off the floor the tongue's does nothing."""
    assert slope(lambda one: one.play_at(one.lift), d, name) == pytest.approx(expected, abs=1e-5)


def test_the_diameter_counts_twice_where_a_scale_is_to_the_axis() -> None:
    """The bit is sunk by its axis: what it is wider, it also stands further out."""

    def grown(by: float) -> float:
        d = replace(HALF_UP, diameter=12.7 + by, exposure=HALF_UP.exposure + by / 2)
        return d.play_at(d.lift)

    assert (grown(0.01) - grown(-0.01)) / 0.02 == pytest.approx(2.0, abs=1e-5)
