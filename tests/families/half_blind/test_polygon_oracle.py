"""The joint drawn as polygons: shapely as an oracle that knows none of our closed forms.

Only the bit's outline, the boards and the moves of the cut are drawn; clearance, pull-apart gap,
centre and seat are then found by pushing the drawn parts together. Joints are invented at random,
with fixed seeds.
"""

from __future__ import annotations

import math
import random

import pytest
from building import make_plan

from fitlog.domain import Bit
from fitlog.families.half_blind import geometry as g
from fitlog.families.half_blind.joint import HalfBlindDovetail

shapely = pytest.importorskip("shapely")
from polygons import EMPTY, Drawn, largest  # noqa: E402
from shapely import affinity  # noqa: E402
from shapely.geometry import LineString, Point, Polygon, box  # noqa: E402

from fitlog.families.half_blind.names import set_to  # noqa: E402


@pytest.mark.parametrize("seed", range(30))
def test_clearance_is_the_play_of_the_tail_in_the_socket(seed: int) -> None:
    d = Drawn(seed)

    def free(shift: float) -> bool:
        return bool(affinity.translate(d.tail, shift).intersection(d.wood).area < EMPTY)

    play = largest(free, 1.0) + largest(lambda shift: free(-shift), 1.0)
    assert d.clearance > 0
    assert play == pytest.approx(d.clearance, abs=1e-8)
    # the drawn widths themselves
    low, _, high, _ = d.tail.bounds
    assert high - low == pytest.approx(
        g.tail_end_width(d.diameter, d.pitch, d.height, d.theta), abs=1e-9
    )
    root = d.tail.intersection(LineString([(-99, 1e-9), (99, 1e-9)])).length
    assert root == pytest.approx(g.tail_root_width(d.diameter, d.pitch), abs=1e-8)
    mouth = d.bit.intersection(LineString([(-99, 0), (99, 0)])).length
    assert mouth == pytest.approx(g.mouth(d.diameter, d.height, d.theta), abs=1e-9)


@pytest.mark.parametrize("seed", range(30, 50))
def test_negative_clearance_is_what_the_socket_must_be_opened_by(seed: int) -> None:
    d = Drawn(seed, tight=True)

    def still_jams(opened: float) -> bool:
        halves = [affinity.translate(d.bit, side * opened / 2) for side in (-1, 1)]
        return bool(d.tail.difference(shapely.union_all(halves).convex_hull).area > EMPTY)

    assert d.clearance < 0
    assert largest(still_jams, 1.0) == pytest.approx(-d.clearance, abs=1e-8)


@pytest.mark.parametrize("seed", range(50, 80))
def test_pull_apart_gap_is_how_far_a_seated_tail_comes_back_out(seed: int) -> None:
    d = Drawn(seed)

    def free(out: float) -> bool:
        return bool(affinity.translate(d.tail, 0, -out).intersection(d.wood).area < EMPTY)

    assert largest(free, 5.0) == pytest.approx(g.pull_apart_gap(d.clearance, d.theta), abs=1e-7)


@pytest.mark.parametrize("seed", range(80, 92))
def test_the_turn_widens_the_cut_by_twice_the_error(seed: int) -> None:
    d, r = Drawn(seed), random.Random(seed)
    width, e = r.uniform(80, 200), r.uniform(-0.5, 0.5)
    x = width / 2 + e
    joint = HalfBlindDovetail(make_plan(board_width=width))
    figures = {"width": width, "thickness": 17.0}
    assert joint.nominal("centre", set_to(9.0, x, 9.0), figures) == pytest.approx(e, abs=1e-9)
    first, second = (
        affinity.translate(d.bit, width - x),
        affinity.translate(d.bit, x),
    )  # seen from the edge now at it
    low, _, high, _ = first.union(second).bounds
    assert high - low - d.diameter == pytest.approx(2 * abs(e), abs=1e-9)
    shaved = second.difference(first).centroid.x
    assert (shaved > x) == (e > 0)  # too far from the fence: the far wall is shaved


# --- the seat, in plan view -----------------------------------------------------------------------


def socket_in_plan(radius: float, depth: float) -> Polygon:
    """A socket seen from above at one level: a channel from the board's end, x = 0, with a round
    end.
    """
    quads = 20000  # the polygon misses the arc by r (1 - cos(pi / 80000)), under 1e-8 mm
    round_end = Point(depth, 0).buffer(radius, quad_segs=quads)
    return round_end.union(box(-40, -radius, depth, radius))


def advance(socket: Polygon, half_width: float) -> float:
    """How far a square end of this half width goes into the socket, from the board's end, by
    halving.
    """
    shapely.prepare(socket)
    return largest(lambda x: bool(socket.covers(Point(x, half_width))), 60.0)


def neglected(clearance: float, radius: float) -> float:
    """What leaving out c^2/4 costs: sqrt(r c) - sqrt(r c - c^2/4), under c^1.5/(8 sqrt(r)) (1 +
    c/(4 r)).
    """
    return clearance**1.5 / (8 * math.sqrt(radius)) * (1 + clearance / (4 * radius))


@pytest.mark.parametrize("seed", range(100, 124))
def test_seat_is_where_the_square_corners_meet_the_round_end(seed: int) -> None:
    """At every level of the flank the tail is pushed into the socket; the level that stops first
    decides.
    """
    d, r = Drawn(seed), random.Random(seed)
    same = seed % 2 == 0
    thickness, depth, rabbet = r.uniform(14, 20), r.uniform(6, 11), d.diameter / 2
    bit = Bit("drawn", d.diameter, math.degrees(d.theta), d.height + 0.5)
    plan = make_plan(
        bit,
        pitch=d.pitch,
        tail_thickness=thickness,
        rabbet_depth=rabbet,
        rabbet_bit="same" if same else "straight",
    )
    joint, settings = HalfBlindDovetail(plan), set_to(d.height, 75.0, depth)
    steps = []
    for part in (
        0.0,
        0.25,
        0.5,
        0.75,
        1.0,
    ):  # from the tail's root at the pin board's face to the tail's end
        y = part * d.height
        radius = d.diameter / 2 - (d.height - y) * math.tan(d.theta)
        half_width = radius - d.clearance / 2
        # the rabbet's wall: upright with a straight bit; with the dovetail bit it leans out towards
        # the tail's end
        length = thickness - rabbet + (y * math.tan(d.theta) if same else 0.0)
        steps.append(length - advance(socket_in_plan(radius, depth), half_width))
    found = max(steps)
    assert steps.index(found) == (4 if same else 0)
    radius = joint.round_end(settings)
    ours = joint.nominal(
        "seat", settings, {"width": 150.0, "thickness": thickness}
    ) - g.seat_depth_taken(d.clearance, radius)
    assert ours == pytest.approx(found, abs=neglected(d.clearance, radius) + 1e-6)
    assert ours <= found + 1e-6  # leaving out c^2/4 takes a little too much
    exact = (
        ours
        + g.seat_depth_taken(d.clearance, radius)
        - math.sqrt(radius * d.clearance - d.clearance**2 / 4)
    )
    assert exact == pytest.approx(found, abs=1e-6)  # and nothing else is left out


@pytest.mark.parametrize("seed", range(130, 138))
def test_least_rabbet_covers_the_round_end(seed: int) -> None:
    d = Drawn(seed)
    socket = socket_in_plan(d.diameter / 2, 9.0)
    corner = advance(socket, d.diameter / 2 - d.clearance / 2)
    uncovered = socket.bounds[2] - corner
    least = g.least_rabbet(d.clearance, d.diameter / 2)
    assert least == pytest.approx(uncovered, abs=neglected(d.clearance, d.diameter / 2) + 1e-6)


def test_a_tight_tail_stops_at_the_centre_line() -> None:
    """With no play the corner is as wide as the channel and stops where the round end begins."""
    assert advance(socket_in_plan(6.35, 9.0), 6.35) == pytest.approx(
        9.0, abs=1e-3
    )  # the arc starts out tangent
    assert g.seat_depth_taken(0.0, 6.35) == g.seat_depth_taken(-0.05, 6.35) == 0.0
