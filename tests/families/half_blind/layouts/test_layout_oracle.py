"""Layouts and stops against a polygon library: both boards are cut pass by pass and put together.

Source of the geometry: the bit's profile alone (design of the joint: tip D, mouth D - 2 h tan
theta); shapely cuts and measures. Invented bits and boards, seeded; nothing here is random in its
verdict, so that there are no false alarms.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterable

import pytest
from cut_boards import ALL, BOARDS, PLAY, pins_of, plays, tails_of
from shapely import Point, affinity, box, unary_union

from fitlog.families.half_blind.layouts import Layout, stops

SAMPLE = random.Random(1).sample(ALL, 150)


def test_there_is_something_to_check() -> None:
    assert len(ALL) > 1500 and len({seed for seed, _ in ALL}) > 0.9 * BOARDS
    assert sum(layout.wide for _, layout in ALL) > 300
    assert {layout.middle for _, layout in ALL} == {"pin", "tail"}
    assert sum(not layout.exact and not layout.wide for _, layout in ALL) > 100
    assert sum(len(layout.edge_passes) == 2 for _, layout in ALL) > 30


@pytest.mark.parametrize(
    ("seed", "layout"), SAMPLE, ids=lambda v: str(v) if isinstance(v, int) else ""
)
def test_the_assembled_joint_is_as_promised(seed: int, layout: Layout) -> None:
    zero = layout.width / 2 + 3.21  # a scale of its own
    found = stops(layout, zero, 1e-6)
    tails, pins = tails_of(layout, found, zero), pins_of(layout, found, zero)
    assert len(tails.geoms if layout.tails > 1 else [tails]) == layout.tails
    assert len(pins.geoms) == layout.tails + 1  # no ridge is left in a wide socket
    assert tails.intersection(pins).area < 1e-4
    for left, right in plays(layout, tails, pins):
        assert left == pytest.approx(PLAY / 2, abs=5e-6) and right == pytest.approx(
            PLAY / 2, abs=5e-6
        )
    gap = box(0, 0, layout.width, layout.height).difference(unary_union([tails, pins]))
    assert gap.area == pytest.approx(layout.tails * PLAY * layout.height, rel=1e-3)
    for shape in (tails, pins):  # both edges alike
        mirrored = affinity.scale(shape, -1, 1, origin=(layout.width / 2, 0))
        assert shape.symmetric_difference(mirrored).area < 1e-3
    ends = pins.geoms[0].bounds[2] - pins.geoms[0].bounds[0], layout.half_pin
    assert ends[0] == pytest.approx(ends[1][1], abs=1e-5)
    assert ends[1][0] >= 3.0 - 1e-6


@pytest.mark.parametrize("step", [0.05, 0.1, 1 / 64 * 25.4])
@pytest.mark.parametrize(
    ("seed", "layout"), SAMPLE[:50], ids=lambda v: str(v) if isinstance(v, int) else ""
)
def test_rounded_stops_lose_what_is_said(seed: int, layout: Layout, step: float) -> None:
    """The play that is left is the least left play plus the least right one, read off
    the polygons.
    """
    zero = layout.width / 2 + random.Random(seed).uniform(-1, 1)
    found = stops(layout, zero, step)
    exact = [stop.cut.position - layout.width / 2 + zero for stop in found.stops]
    assert all(
        abs(s.setting - e) <= step / 2 + 1e-6 for s, e in zip(found.stops, exact, strict=True)
    )
    assert all(abs(s.setting / step - round(s.setting / step)) < 1e-3 for s in found.stops)
    cut_off = tails_of(layout, found, zero), pins_of(layout, found, zero)
    left, right = zip(*plays(layout, *cut_off), strict=True)
    assert min(left) + min(right) == pytest.approx(PLAY - found.play_lost, abs=2e-5)


def test_an_error_of_the_centre_shows_in_the_last_tail_alone() -> None:
    """The far edge is cut by turning: its tail's play grows by 2 e, every other keeps it."""
    layout, error = next(la for _, la in ALL if la.tails == 5 and not la.wide), 0.03
    found = stops(
        layout, layout.width / 2 + error, 1e-6
    )  # the fence stands further out than the scale's zero says
    tails, pins = (make(layout, found, layout.width / 2) for make in (tails_of, pins_of))
    play = [left + right for left, right in plays(layout, tails, pins)]
    assert play[:-1] == pytest.approx([PLAY] * 4, abs=1e-5) and play[-1] == pytest.approx(
        PLAY + 2 * error, abs=1e-5
    )


def widths(layout: Layout) -> Iterable[float]:
    return (z * layout.height / 4 for z in range(5))


@pytest.mark.parametrize("rabbet", ["same", "straight"])
@pytest.mark.parametrize(
    ("seed", "layout"),
    [(s, la) for s, la in ALL if la.wide][:50],
    ids=lambda v: str(v) if isinstance(v, int) else "",
)
def test_cusps_between_passes_stay_clear_of_the_tail(
    seed: int, layout: Layout, rabbet: str
) -> None:
    """Seen from above at five levels: the seated tail lies inside the union of the passes."""
    passes, slope = layout.sockets[0], math.tan(layout.bit.theta)
    middle, h, c = (passes[0] + passes[-1]) / 2, layout.height, PLAY

    def front(z: float) -> float:
        if rabbet == "same":
            return math.sqrt(layout.bit.diameter * c / 2) - (h - z) * slope
        return math.sqrt(layout.mouth * c / 2)

    for z in widths(layout):
        radius, half = layout.mouth / 2 + z * slope, layout.tail[1] / 2 - (h - z) * slope
        cut = unary_union(
            [
                box(at - radius, -12, at + radius, 0).union(Point(at, 0).buffer(radius, 256))
                for at in passes
            ]
        )
        # The corners touch the round end at one level; a little less and the whole front is inside.
        tail = box(middle - half, -12, middle + half, front(z) - 0.02)
        assert tail.difference(cut).area < 2e-3, z
