"""Faults drawn as polygons: shapely as an oracle for the amounts of their cures, which it knows
nothing of.
"""

from __future__ import annotations

import math
import random

import pytest

from fitlog.families.half_blind.faults.figures import lean, per_step, rabbet_tightens

shapely = pytest.importorskip("shapely")
from polygons import EMPTY, Drawn, largest  # noqa: E402
from shapely import affinity  # noqa: E402
from shapely.geometry import LineString, Polygon, box  # noqa: E402


def play(tails: Polygon, wood: Polygon) -> float:
    """How far the tails can be shifted in their sockets from where they lie, both ways together."""

    def free(shift: float) -> bool:
        return bool(affinity.translate(tails, shift).intersection(wood).area < EMPTY)

    return largest(free, 1.0) + largest(lambda shift: free(-shift), 1.0)


@pytest.mark.parametrize("seed", range(200, 212))
def test_a_rabbet_too_short_holds_off_and_tightens(seed: int) -> None:
    """The tail hangs `short` out of its socket, as its shoulder rests on the rabbet that is too
    short.
    """
    d = Drawn(seed)
    short = (
        0.8 * d.clearance / (2 * math.tan(d.theta))
    )  # a little less than the joint's own pull-apart gap
    left = play(affinity.translate(d.tail, 0, -short), d.wood)
    assert left == pytest.approx(d.clearance - rabbet_tightens(short, d.theta), abs=1e-8)


@pytest.mark.parametrize("seed", range(212, 224))
def test_a_board_that_leaned_opens_one_flank(seed: int) -> None:
    """A slot cut at a lean, laid on an upright one at the root of the flank: the gap at the tail's
    end.

    h tan(lean) is the gap of an upright flank; one that leans by theta opens by up to sec^2(theta)
    of it, 2 to 7 %.
    """
    d, r = Drawn(seed), random.Random(seed)
    tilt = r.uniform(0.2, 1.2)
    root, end = Polygon(d.bit).exterior.coords[1], Polygon(d.bit).exterior.coords[2]
    leant = affinity.rotate(
        LineString([root, (2 * end[0] - root[0], 2 * end[1])]), tilt, origin=root
    )
    level = LineString([(-99, end[1]), (99, end[1])])
    gap = end[0] - leant.intersection(level).x
    found = lean(gap, d.height)
    assert tilt - 1e-6 <= found <= tilt / math.cos(d.theta) ** 2 + 1e-6


@pytest.mark.parametrize("seed", range(224, 240))
@pytest.mark.parametrize("past", [True, False], ids=["past the middle", "short of it"])
def test_a_pair_cut_by_turning_leaves_the_middle_tail_off_by_twice_the_error(
    seed: int, past: bool
) -> None:
    """The board is cut, turned about its upright axis, and cut again at the same fence; the middle
    tail is then tried.
    """
    d, r = Drawn(seed), random.Random(seed)
    width, e = (
        r.uniform(3 * d.pitch, 5 * d.pitch),
        r.choice((-1, 1)) * r.uniform(0.1, 0.4) * d.clearance,
    )
    x = width / 2 + e + (d.pitch / 2 if past else -d.pitch / 2)
    slots = [
        affinity.translate(d.bit, at) for at in (x, width - x)
    ]  # the second as the first edge sees it
    board = box(0, 0, width, d.height).difference(shapely.union_all(slots))
    low, high = sorted((x, width - x))
    middle = board.intersection(box(low, 0, high, d.height))
    tail = affinity.translate(affinity.scale(middle, 1, -1, origin=(0, d.height / 2)), -width / 2)
    assert play(tail, d.wood) == pytest.approx(d.clearance + (-2 if past else 2) * e, abs=1e-8)
    # what is said: by half the difference, in where the pair was cut past the middle and came out
    # tight
    assert abs(play(tail, d.wood) - d.clearance) / 2 == pytest.approx(abs(e), abs=1e-8)


@pytest.mark.parametrize("seed", range(240, 248))
def test_steps_that_differ_take_their_error_once_a_step(seed: int) -> None:
    d, r = Drawn(seed), random.Random(seed)
    tails = r.randint(3, 8)
    error = r.choice((-1, 1)) * 0.7 * d.clearance / (tails - 1)
    bits = [affinity.translate(d.bit, k * d.pitch) for k in range(tails)]
    wood = box(-2 * d.pitch, 0, (tails + 2) * d.pitch, 3 * d.height).difference(
        shapely.union_all(bits)
    )
    comb = shapely.union_all(
        [affinity.translate(d.tail, k * (d.pitch + error)) for k in range(tails)]
    )
    shifts = [k * error for k in range(tails)]
    middle = affinity.translate(comb, -(shifts[0] + shifts[-1]) / 2)
    lost = d.clearance - play(middle, wood)
    assert lost == pytest.approx(abs(error) * (tails - 1), abs=1e-8)
    assert per_step(lost, tails) == pytest.approx(abs(error), abs=1e-8)
