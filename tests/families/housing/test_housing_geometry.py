"""The closed forms of a housing against check values, a polygon library and finite differences of
what is measured on the polygons.

Published: the spacer is the sheet less the bit (WOOD, accurate dadoes for plywood); sheets under
their size (Woodcraft magazine tip, router-cut dadoes: 1/64 to 1/32 in; Popular Woodworking, plywood
thickness tester: 3/4 in, +0, -3/64 in; two plywood makers' tables with their formula, and a birch
data sheet: 17.1 to 18.1, mean 17.7); the second pass away from the fence (Woodsmith, router-table
grooves, 2015; Fine Woodworking, 7 May 2014). The rest is derived by hand.
"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping

import pytest
from sheets import affinity, box, clear, deep, largest, passed, travel, walls

from fitlog.domain import Bit, Stock
from fitlog.families.housing import geometry as g
from fitlog.families.housing.figures import FIT_WINDOWS
from fitlog.families.housing.joint import HousingJoint
from fitlog.families.housing.names import FIT, HOUSING, SECOND, set_to
from fitlog.families.housing.plan import HousingPlan
from fitlog.families.sheets import figures as assumed
from fitlog.families.sheets.names import DEPTH, HEIGHT

INCH = 25.4
Case = Mapping[str, float]


def plan_of(bit: float, sheet: float | None, depth: float, side: float = 20.0) -> HousingPlan:
    stock, ply = Stock("side", "beech", side, 280.0), Stock("ply", "birch plywood", 18.0, 280.0)
    sizes = 280.0, side, 18.0
    cutter = Bit("straight", bit, 0.0, 60.0)
    return HousingPlan(cutter, stock, ply, None, *sizes, sheet=sheet, depth=depth)


def case_of(seed: int) -> Case:
    r = random.Random(seed)
    b, side = r.uniform(6, 16), r.uniform(15, 40)
    d = r.uniform(0.1, 0.5) * b
    return {
        "b": b,
        "d": d,
        "t": b + d - r.uniform(0.01, 0.6),
        "z": r.uniform(2.0, side / 2),
        "x": r.uniform(40, 90),
        "T": side,
        "w": r.uniform(5, side / 2),
    }


def drawn(case: Case) -> dict[str, float]:
    """What is measured on a drawn side and its sheet: play, depth, near and far wall."""
    b, d, z, t = (case[name] for name in "bdzt")
    side = passed(box(0, 0, 200, case["T"]), [case["x"], case["x"] + d], b, z)
    near, far = walls(side, z)
    middle = (near + far) / 2
    sheet = box(middle - t / 2, -50, middle + t / 2, z)
    return {
        FIT: travel(side, sheet) if far - near > t else far - near - t,
        DEPTH: deep(side, middle) - case["w"],
        "near": near,
        "far": far,
    }


@pytest.mark.parametrize("seed", range(50))
def test_play_depth_and_walls_are_those_of_the_drawn_parts(seed: int) -> None:
    case = case_of(seed)
    plan = plan_of(case["b"], case["t"], case["w"], case["T"])
    joint, at, found = HousingJoint(plan), set_to(case["d"], case["z"]), drawn(case)
    for aspect in HOUSING.aspects:
        assert joint.nominal(aspect, at, plan.figures()) == pytest.approx(found[aspect], abs=1e-6)
    assert g.near_wall(case["x"], case["b"]) == pytest.approx(found["near"], abs=1e-6)
    assert g.far_wall(case["x"], case["b"], case["d"]) == pytest.approx(found["far"], abs=1e-6)


@pytest.mark.parametrize("seed", range(50, 100))
def test_a_tongue_and_a_shelf_between_two_sides(seed: int) -> None:
    case, r = case_of(seed), random.Random(-seed)
    b, z, thick = case["b"], case["z"], case["b"] + r.uniform(2, 8)
    h = thick - b + r.uniform(0.01, 0.5)
    side = passed(box(0, 0, 200, case["T"]), [case["x"]], b, z)
    near, far = walls(side, z)
    shelf = box(0, -80, thick, z).difference(box(-1, -(z + 1), h, z + 1))
    # One tongue tight at the far face: it is moved so that it stands in the middle of the groove.
    tongue = affinity.translate(shelf, (near + far) / 2 - (h + thick) / 2)
    inside = tongue.intersection(box(-99, 1e-9, 999, 99))
    assert g.tongued(b, thick, h) == pytest.approx(travel(side, inside), abs=1e-6)
    clear_width = r.uniform(300, 900)
    below = affinity.translate(affinity.scale(side, yfact=-1, origin=(0, 0)), 0, -clear_width)
    at = (near + far) / 2

    def fits(length: float) -> bool:
        board = box(at - b / 4, z - length, at + b / 4, z)
        return clear(side, board) and clear(below, board)

    longest = largest(fits, clear_width + 200)
    assert g.shelf_length(clear_width, z) == pytest.approx(longest, abs=1e-6)


SIGNS = {
    "d": {FIT: 1.0, DEPTH: 0.0, "near": 0.0, "far": 1.0},
    "t": {FIT: -1.0, DEPTH: 0.0, "near": 0.0},
    "b": {FIT: 1.0, DEPTH: 0.0, "near": -0.5, "far": 0.5},
    "z": {FIT: 0.0, DEPTH: 1.0},
    "x": {FIT: 0.0, DEPTH: 0.0, "near": 1.0, "far": 1.0},
    "T": {FIT: 0.0, DEPTH: 0.0},
}


@pytest.mark.parametrize("what", SIGNS)
def test_signs_by_finite_differences_of_what_is_measured(what: str) -> None:
    case = {**case_of(3), "z": 4.0, "T": 20.0}
    before, after = drawn(case), drawn({**case, what: case[what] + 1e-3})
    for name, slope in SIGNS[what].items():
        assert (after[name] - before[name]) / 1e-3 == pytest.approx(slope, abs=1e-5), name


def test_the_joint_s_slopes_are_those() -> None:
    joint, at = HousingJoint(plan_of(12.7, 17.6, 6.0)), set_to(5.0, 6.0)
    for aspect in HOUSING.aspects:
        for name, key in ((SECOND, "d"), (HEIGHT, "z")):
            assert joint.slope(aspect, at, name) == SIGNS[key][aspect]


def test_the_check_values() -> None:
    """A 23/32 in sheet and a 1/2 in bit; a tongue of 12.60 in a housing of one pass."""
    sheet = 23 / 32 * INCH
    assert sheet == pytest.approx(18.26, abs=0.005)
    assert g.spacer(sheet, 12.7, 0.0) == pytest.approx(5.56, abs=0.005)
    assert g.spacer(sheet, 12.7, 0.08) == pytest.approx(5.64, abs=0.005)
    assert g.tongued(12.7, 18.0, 5.4) == pytest.approx(0.10)
    assert g.play(12.7, g.spacer(17.6, 12.7, 0.07), 17.6) == pytest.approx(0.07)


def test_published_undersizes_of_sheets() -> None:
    """The limits by the makers' formula, which their tables round, and what lies inside them."""
    over, under = assumed.plywood_limits(18.0)
    assert (over, under) == (pytest.approx(0.74), pytest.approx(-0.94))
    assert (round(over, 1), round(under, 1)) == (0.7, -0.9)
    assert all(under <= sheet - 18.0 <= over for sheet in (17.1, 17.7, 18.1))
    quarter = 0.75 * INCH
    assert quarter - 1 / 64 * INCH == pytest.approx(18.65, abs=0.005)
    assert quarter - 1 / 32 * INCH == pytest.approx(18.26, abs=0.005)
    assert pytest.approx(1.19, abs=0.005) == 3 / 64 * INCH
    # What is assumed of a sheet by its label: every published one lies within two sds.
    mean, sd = assumed.SOLD_UNDER, assumed.SOLD_SD
    for less in (-1 / 64 * INCH, -1 / 32 * INCH, 17.7 - 18.0, -3 / 64 * INCH, 0.0):
        assert abs(less - mean) < 2 * sd, less


def test_how_well_the_first_play_is_known() -> None:
    """Common practice: .08 with the sheet measured at the joint, about .4 by its label; once the
    batch is known .20 is left of that, from sheet to sheet, beside the .08 of all the rest.
    """

    def sd(plan: HousingPlan, *without: str) -> float:
        terms = HousingJoint(plan).terms(FIT, set_to(5.0, 6.0))
        return sum((t.factor * t.sd) ** 2 for t in terms if t.key[0] not in without) ** 0.5

    assert sd(plan_of(12.7, 17.6, 6.0)) == pytest.approx(0.08, abs=0.01)
    assert sd(plan_of(12.7, None, 6.0)) == pytest.approx(0.4, abs=0.02)
    assert sd(plan_of(12.7, None, 6.0), "sheet") == pytest.approx(math.hypot(0.20, 0.08), abs=0.01)


@pytest.mark.parametrize(
    ("wide", "more", "window"),
    [
        (300.0, {}, (0.04, 0.10)),
        (301.0, {}, (0.08, 0.15)),
        (200.0, {"at_once": True}, (0.08, 0.15)),
        (400.0, {"floats": True}, (0.15, 0.40)),
    ],
)
def test_the_length_and_the_glue_up_choose_the_words(
    wide: float, more: Mapping[str, bool], window: tuple[float, float]
) -> None:
    base = plan_of(12.7, 17.6, 6.0)
    plan = HousingPlan(
        base.bit, base.stock, base.pin_stock, None, wide, 20.0, 18.0, sheet=17.6, depth=6.0, **more
    )
    found = HousingJoint(plan).window(FIT)
    assert (found.low, found.high) == window
    assert FIT_WINDOWS[plan.word_set] == found
    good = HousingJoint(plan).word_bands(FIT)[HOUSING.words(FIT).index("good")]
    assert good == ((*window, 1.0),)
