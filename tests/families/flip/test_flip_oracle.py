"""Tenons, tongues and laps drawn as polygons, against the closed forms: 50 random joints each, with
fixed seeds, to 1e-6 mm; and the signs of what is measured by finite differences.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from functools import partial

import flips_at_work as at_work
import pytest

pytest.importorskip("shapely")
from flips import (
    both_faces,
    clear,
    grooved,
    grooved_once,
    into,
    mortised,
    pushed,
    room_at,
    thick_at,
    travel,
)
from polygons import largest
from shapely import affinity
from shapely.geometry import box

from fitlog.families.flip import geometry as g
from fitlog.families.tongue_groove.joint import TongueJoint
from fitlog.families.tongue_groove.names import set_to


def tenon(seed: int) -> dict[str, float]:
    """Sizes of one random tenon with play."""
    r = random.Random(seed)
    thick, wide = r.uniform(15, 30), r.uniform(5, 9)
    play, deep = r.uniform(0.02, 0.5), r.uniform(20, 40)
    return {
        "T": thick,
        "M": wide,
        "h": (thick - wide + play) / 2,
        "q": thick / 2 - wide / 2 + r.uniform(-0.5, 0.5),
        "l": deep + r.uniform(-2, 2),
        "d": deep,
    }


def measured(s: dict[str, float]) -> dict[str, float]:
    """Thickness, play, step and shoulder of a drawn tenon."""
    rail, stile = both_faces(s["T"], s["h"], s["l"]), mortised(s["T"] + 6, s["q"], s["M"], s["d"])
    at = into(rail, s["l"], s["q"] + s["M"] / 2)
    away = affinity.translate(at, s["d"] + 9, 0)
    gap = s["d"] + 9 - pushed(away, stile)
    home = affinity.translate(at, gap + 1e-6, 0)  # not rubbing on the stile
    low, high = travel(home, stile)
    middle = affinity.translate(home, 0, (high - low) / 2)
    return {
        "thick": thick_at(rail, s["l"] / 2),
        "fit": low + high,
        "faces": -middle.bounds[1],
        "shoulder": gap,
    }


@pytest.mark.parametrize("seed", range(50))
def test_a_tenon_is_as_it_is_drawn(seed: int) -> None:
    s = tenon(seed)
    found = measured(s)
    assert found["thick"] == pytest.approx(g.web(s["T"], s["h"]), abs=1e-6)
    assert found["fit"] == pytest.approx(g.clearance(s["M"], s["T"], s["h"]), abs=1e-6)
    assert found["faces"] == pytest.approx(g.tenon_face(s["T"], s["q"], s["M"]), abs=1e-6)
    assert found["shoulder"] == pytest.approx(max(0.0, s["l"] - s["d"]), abs=1e-6)


def test_the_far_face_cut_at_a_fence_leaves_twice_the_fence_less_the_thickness() -> None:
    """T 20 at a fence of 14 leaves 8.00 (derived); 0.1 more of thickness leaves 0.1 less: the other
    sign than with the face on the table, and at a router table the work would be trapped.
    """

    def left(thick: float) -> float:
        far = box(14, -1, 99, 30)
        once = box(0, 0, thick, 60).difference(far)
        turned = affinity.scale(once, -1, 1, origin=(thick / 2, 0)).difference(far)
        return float(turned.intersection(box(-1, 10, 99, 11)).area)

    assert left(20.0) == pytest.approx(8.0)
    assert left(20.1) == pytest.approx(7.9)


def tongue(seed: int, side: int = 1) -> dict[str, float]:
    """Sizes of one random tongue and groove with play; side: the branch of the groove."""
    r = random.Random(seed)
    thick, grooved_, wide = r.uniform(16, 24), r.uniform(16, 24), r.uniform(4, 7)
    off = r.uniform(0.15, wide / 2 - 0.5)
    play, deep = r.uniform(0.02, 0.5), r.uniform(5, 9)
    return {
        "T": thick,
        "G": grooved_,
        "w": wide,
        "x": grooved_ / 2 + side * off,
        "h": (thick - wide - 2 * off + play) / 2,
        "l": deep - r.uniform(0, 1),
        "d": deep,
    }


def together(s: dict[str, float], *, once: bool = False) -> dict[str, float]:
    """Width of the groove, play and step of a drawn tongue and groove. once: in one pass."""
    sizes = s["G"], s["w"], s["x"], s["d"]
    board = grooved_once(*sizes) if once else grooved(*sizes)[0]
    turned = affinity.rotate(board, 90, origin=(0, 0))  # its edge at x = 0, its hollow toward -x
    turned = affinity.translate(turned, 0, -turned.bounds[1])
    # Turned on its edge, the face at the fence is below.
    middle_of = s["x"] if once else s["G"] / 2
    part = into(both_faces(s["T"], s["h"], s["l"]), s["l"], middle_of)
    part = affinity.translate(part, 1e-6, 0)  # not rubbing on the shoulder
    low, high = travel(part, turned)
    middle = affinity.translate(part, 0, (high - low) / 2)
    return {
        "groove": room_at(turned, -s["d"] / 2),
        "fit": low + high,
        "faces": turned.bounds[1] - middle.bounds[1],
        "other": middle.bounds[3] - turned.bounds[3],
    }


@pytest.mark.parametrize("side", [1, -1])
@pytest.mark.parametrize("seed", range(100, 150))
def test_a_tongue_and_groove_is_as_it_is_drawn(seed: int, side: int) -> None:
    s = tongue(seed, side)
    found, wide = together(s), g.groove(s["w"], s["x"], s["G"])
    assert found["groove"] == pytest.approx(wide, abs=1e-6)
    assert found["fit"] == pytest.approx(g.clearance(wide, s["T"], s["h"]), abs=1e-6)
    step = (s["T"] - s["G"]) / 2
    assert (found["faces"], found["other"]) == pytest.approx((step, step), abs=1e-6)


@pytest.mark.parametrize("seed", range(100, 150))
def test_a_groove_in_one_pass_is_as_it_is_drawn(seed: int) -> None:
    """As wide as its bit wherever it lies; its place is the step of the faces."""
    s = {**tongue(seed), "h": 0.0}
    s["h"] = (s["T"] - s["w"] + random.Random(seed).uniform(0.02, 0.5)) / 2
    plan = at_work.tongue(passes="one", bit=replace(at_work.SIX, diameter=s["w"]), depth=s["d"])
    plan = replace(plan, tail_thickness=s["T"], pin_thickness=s["G"])
    joint, at = TongueJoint(plan), set_to(s["x"], s["h"], s["l"])
    found, sizes = together(s, once=True), plan.boards()
    assert found["groove"] == pytest.approx(s["w"], abs=1e-6)
    assert found["fit"] == pytest.approx(joint.nominal("fit", at, sizes), abs=1e-6)
    assert found["faces"] == pytest.approx(joint.nominal("faces", at, sizes), abs=1e-6)


@pytest.mark.parametrize("side", [1, -1])
@pytest.mark.parametrize("seed", range(150, 200))
def test_the_second_pass_takes_the_far_wall_beyond_the_middle_and_else_the_near_one(
    seed: int, side: int
) -> None:
    """A shaving of 2 e; on the near side it is a climb cut."""
    s = tongue(seed, side)
    _, shaving = grooved(s["G"], s["w"], s["x"], s["d"])
    off = abs(s["x"] - s["G"] / 2)
    assert shaving.area / s["d"] == pytest.approx(2 * off, abs=1e-6)
    assert (shaving.centroid.x > s["x"]) == (side > 0)


def lapped(one: float, other: float, deep: float, mate: float) -> tuple[float, float]:
    """The upper and the lower step of two parts, one let down on the other until it touches."""
    low = box(-40, 0, 40, other).difference(box(0, other - mate, 41, other + 1))
    high = box(1e-6, 0, 80, one).difference(box(-1, -1, 41, deep))
    above = affinity.translate(high, 0, 60)
    high = affinity.translate(
        above, 0, -largest(lambda by: clear(affinity.translate(above, 0, -by), low), 70.0)
    )
    return high.bounds[3] - low.bounds[3], high.bounds[1] - low.bounds[1]


@pytest.mark.parametrize("seed", range(200, 250))
def test_a_lap_is_as_it_is_drawn(seed: int) -> None:
    r = random.Random(seed)
    one, other = r.uniform(15, 25), r.uniform(15, 25)
    deep, mate = one / 2 + r.uniform(-1, 1), other / 2 + r.uniform(-1, 1)
    left = both_faces(one, one / 2 - 0.3, 30)
    assert thick_at(left, 15) == pytest.approx(g.web(one, one / 2 - 0.3), abs=1e-6)
    upper, lower = lapped(one, other, deep, mate)
    assert upper == pytest.approx(g.lap_step(one, deep, mate), abs=1e-6)
    assert lower == pytest.approx(g.lap_step(other, deep, mate), abs=1e-6)


def slope(
    find: Callable[[dict[str, float]], dict[str, float]],
    s: dict[str, float],
    what: str,
    names: tuple[str, ...],
) -> float:
    """The change of a measured value with sizes that move together, by a central difference."""
    by = 0.004
    ends = [find({**s, **{n: s[n] + way * by for n in names}})[what] for way in (-1, 1)]
    return (ends[1] - ends[0]) / (2 * by)


TENON = {"T": 20.0, "M": 8.0, "h": 6.05, "q": 6.1, "l": 29.0, "d": 28.0}
TONGUE = {"T": 18.0, "G": 18.0, "w": 6.0, "x": 9.4, "h": 5.64, "l": 5.0, "d": 6.0}


@pytest.mark.parametrize(
    ("what", "name", "expected"),
    [
        *(("fit", n, v) for n, v in (("h", 2), ("q", 0), ("l", 0), ("T", -1), ("M", 1))),
        *(("faces", n, v) for n, v in (("h", 0), ("q", -1), ("T", 0.5), ("M", -0.5))),
        *(("shoulder", n, v) for n, v in (("l", 1), ("d", -1), ("h", 0), ("T", 0))),
    ],
)
def test_signs_of_a_tenon_by_what_is_measured(what: str, name: str, expected: float) -> None:
    assert slope(measured, TENON, what, (name,)) == pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize(
    ("what", "names", "expected"),
    [
        *(("fit", (n,), v) for n, v in (("w", 1), ("x", 2), ("h", 2), ("T", -1), ("G", -1))),
        ("fit", ("T", "G"), -2),
        *(("faces", (n,), v) for n, v in (("T", 0.5), ("G", -0.5), ("x", 0), ("h", 0))),
    ],
)
def test_signs_of_a_tongue_by_what_is_measured(
    what: str, names: tuple[str, ...], expected: float
) -> None:
    assert slope(together, TONGUE, what, names) == pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize(
    ("what", "name", "expected"),
    [
        *(("fit", n, v) for n, v in (("w", 1), ("x", 0), ("h", 2), ("T", -1), ("G", 0))),
        *(("faces", n, v) for n, v in (("T", 0.5), ("G", 0), ("x", -1), ("h", 0))),
    ],
)
def test_signs_of_one_pass_by_what_is_measured(what: str, name: str, expected: float) -> None:
    once = partial(together, once=True)
    # The bit is as wide as the groove of both passes was.
    at = {**TONGUE, "w": 6.8}
    assert slope(once, at, what, (name,)) == pytest.approx(expected, abs=1e-5)


def test_the_near_branch_has_the_other_sign() -> None:
    near = {**TONGUE, "x": 18.0 - TONGUE["x"]}
    assert slope(together, near, "fit", ("x",)) == pytest.approx(-2, abs=1e-5)


@pytest.mark.parametrize(("both", "expected"), [(True, -2.0), (False, -1.0)])
def test_signs_of_a_lap_by_what_is_measured(both: bool, expected: float) -> None:
    def step(by: float) -> float:
        return lapped(18.0, 18.0, 8.85 + by, 8.85 + (by if both else 0.0))[0]

    assert (step(0.01) - step(-0.01)) / 0.02 == pytest.approx(expected, abs=1e-5)
