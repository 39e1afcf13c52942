"""The closed forms of a rabbet against a polygon library and finite differences of what is measured
on the polygons; derived by hand.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace
from typing import Literal

import pytest
from sheets import box, clear, deep, largest

from fitlog.domain import Bit, Stock
from fitlog.families.rabbet import geometry as g
from fitlog.families.rabbet.joint import RabbetJoint
from fitlog.families.rabbet.names import FACE, FENCE, RABBET, set_to
from fitlog.families.rabbet.plan import RabbetPlan
from fitlog.families.sheets.names import DEPTH, HEIGHT

Case = Mapping[str, float]
LONG = 200.0


def plan_of(sheet: float | None, depth: float, side: float = 20.0, *, back: bool) -> RabbetPlan:
    stock, ply = Stock("side", "beech", side, 280.0), Stock("ply", "birch plywood", 12.0, 280.0)
    cutter, sizes = Bit("straight", 25.0, 0.0, 60.0), (280.0, side, 12.0)
    return RabbetPlan(cutter, stock, ply, None, *sizes, sheet=sheet, depth=depth, back=back)


def case_of(seed: int) -> Case:
    r = random.Random(seed)
    side, mate = r.uniform(12, 40), r.uniform(6, 20)
    return {
        "T": side,
        "t": mate,
        "r": mate + r.uniform(-0.6, 0.6),
        "z": r.uniform(3, side - 3),
        "w": r.uniform(3, side - 3),
    }


def drawn(case: Case) -> dict[str, float]:
    """What is measured on a drawn side: the mate against the shoulder of the corner rabbet, the
    depth, and a back that lies on its bottom.
    """
    t, r = case["t"], case["r"]
    side = box(0, 0, LONG, case["T"]).difference(box(-1, -1, r, case["z"]))
    # The mate stands in the rabbet and is pushed to the shoulder; the back is raised to the bottom.
    far = largest(lambda at: clear(side, box(at - t, -50, at, case["z"])), 2 * r)
    top = largest(lambda up: clear(side, box(r / 10, up - t, r - r / 10, up)), case["T"])
    return {FACE: t - far, DEPTH: deep(side, r / 2) - case["w"], "back": t - top}


@pytest.mark.parametrize("seed", range(50))
def test_face_depth_and_back_are_those_of_the_drawn_parts(seed: int) -> None:
    case = case_of(seed)
    found, at = drawn(case), set_to(case["r"], case["z"])
    plan = plan_of(case["t"], case["w"], case["T"], back=False)
    for aspect in RABBET.aspects:
        nominal = RabbetJoint(plan).nominal(aspect, at, plan.figures())
        assert nominal == pytest.approx(found[aspect], abs=1e-6)
    assert g.back_proud(case["t"], case["z"]) == pytest.approx(found["back"], abs=1e-6)
    if case["t"] <= case["T"] - 3:
        lying = plan_of(case["t"], 5.0, case["T"], back=True)
        shy = RabbetJoint(lying).nominal(DEPTH, at, lying.figures())
        assert shy == pytest.approx(-found["back"], abs=1e-6)


SIGNS = {
    "r": {FACE: -1.0, DEPTH: 0.0, "back": 0.0},
    "z": {FACE: 0.0, DEPTH: 1.0, "back": -1.0},
    "t": {FACE: 1.0, DEPTH: 0.0, "back": 1.0},
    "T": {FACE: 0.0, DEPTH: 0.0, "back": 0.0},
}


@pytest.mark.parametrize("what", SIGNS)
def test_signs_by_finite_differences_of_what_is_measured(what: str) -> None:
    case = {"T": 20.0, "t": 11.6, "r": 11.5, "z": 9.0, "w": 10.0}
    before, after = drawn(case), drawn({**case, what: case[what] + 1e-3})
    for name, slope in SIGNS[what].items():
        assert (after[name] - before[name]) / 1e-3 == pytest.approx(slope, abs=1e-5), name


def test_the_joint_s_slopes_are_those() -> None:
    joint, at = RabbetJoint(plan_of(11.6, 10.0, back=False)), set_to(11.5, 10.0)
    for aspect in RABBET.aspects:
        for name, key in ((FENCE, "r"), (HEIGHT, "z")):
            assert joint.slope(aspect, at, name) == SIGNS[key][aspect]


def test_the_windows_of_a_mate_and_of_a_back() -> None:
    """A mate up to .2 proud is planed off; a back lies from level to .3 shy: common practice."""
    corner, back = (RabbetJoint(plan_of(11.6, 10.0, back=b)) for b in (False, True))
    assert (corner.window(FACE).low, corner.window(FACE).high) == (0.0, 0.2)
    assert (corner.window(DEPTH).low, corner.window(DEPTH).high) == (-0.15, 0.15)
    assert (back.window(DEPTH).low, back.window(DEPTH).high) == (0.0, 0.3)
    assert back.plan.in_play == (DEPTH,)


def test_a_mate_by_its_label_is_known_worse_and_a_back_s_thickness_is_the_depth_s_cause() -> None:
    def sd(plan: RabbetPlan, aspect: str) -> float:
        terms = RabbetJoint(plan).terms(aspect, set_to(11.5, 10.0))
        return float(sum((t.factor * t.sd) ** 2 for t in terms) ** 0.5)

    measured, sold = (plan_of(s, 10.0, back=False) for s in (11.6, None))
    assert sd(sold, FACE) > 3 * sd(measured, FACE)
    assert sd(sold, DEPTH) == sd(measured, DEPTH)
    lying = plan_of(None, 10.0, back=True)
    assert sd(lying, DEPTH) == pytest.approx(0.4, abs=0.02)
    assert sd(lying, FACE) < 0.12


@pytest.mark.parametrize(("way", "sd"), [("shaving", 0.03), ("rod", 0.10), ("eye", 0.30)])
def test_the_exposure_is_known_by_how_it_is_measured(
    way: Literal["shaving", "rod", "eye"], sd: float
) -> None:
    """By a trial shaving, a depth rod or by eye: common practice, no source."""
    plan = replace(plan_of(11.6, 10.0, back=False), exposure_by=way)
    zero = next(t for t in RabbetJoint(plan).terms(FACE, set_to(11.5, 10.0)) if "zero" in t.key[0])
    assert zero.sd == sd and zero.key == ("exposure zero", "", way)
