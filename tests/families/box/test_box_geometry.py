"""The closed forms of a box joint on a key against check values, a polygon library and finite
differences of what is measured on the polygons.

Check values: derived by hand and checked by building the parts as polygons; the direction of the
key gap (more distance from the cutter to the key widens each finger and tightens the joint) is
published: American Woodworker, box joints on the router table (archived page).
"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping

import numpy as np
import pytest
from fingers import Sled, travel, wood

from fitlog.domain import Bit, Stock
from fitlog.families.box.joint import SLOPES, BoxJoint
from fitlog.families.box.names import EDGES, GAP, STARTER, set_to
from fitlog.families.box.plan import BoxPlan
from fitlog.families.fingers import geometry as g
from fitlog.families.fingers.boards import widths
from fitlog.families.fingers.names import ENDS, FIT, HEIGHT

Case = Mapping[str, float]
BOARD = Stock("ash", "ash", 12.0, 123.3)


def drawn(case: Case, push: str = "key", fingers: int = 5) -> dict[str, float]:
    """What is measured on two boards that are cut as at the sled: play, step of the edges with the
    play halved, width of the last finger, and the ends' step.
    """
    w, k, gap, t, h = (case[name] for name in ("w", "k", "g", "t", "h"))
    sled, tall = Sled(w, k, gap, h), 3 * h
    pushes = [push] * (fingers - 1)
    wide = fingers * (gap + w) + 2 * w
    first = sled.board(wide, tall, 0.0, pushes)
    # Its first slot is open at the edge: there it can bear on the key alone.
    second = sled.board(wide, tall, t, ["key", *pushes[1:]])
    one, other = wood(first, h)[:fingers], wood(second, h)[: fingers - 1]
    start = (one[0][1] + one[1][0]) / 2 - (other[0][0] + other[0][1]) / 2
    low, high = travel(one, other, start)
    # Down at the bottoms of the first board's slots the second one's face lies its thickness up.
    floor = max(y for x, y in first.exterior.coords if x < one[1][1] and y < tall - 1e-6)
    return {
        "c": high - low,
        "e": (high + low) / 2,
        "finger": one[-1][1] - one[-1][0],
        "pitch": one[-1][0] - one[-2][0],
        "step": floor - case["T"],
    }


def case_of(seed: int) -> Case:
    r = random.Random(seed)
    w = r.uniform(5, 16)
    c = r.uniform(0.06, 0.4)
    k = w - r.uniform(0.01, 0.3)
    gap = w - c
    t = r.uniform(gap + 0.02, w - 0.02)  # outside, a sliver or a step is forced
    return {"w": w, "k": k, "g": gap, "t": t, "h": r.uniform(6, 15), "T": r.uniform(6, 15)}


def test_check_values() -> None:
    w, k, gap, t, h = 9.525, 9.40, 9.45, 9.50, 12.10
    assert g.play_on_key(w, gap) == pytest.approx(0.075)
    assert h - 12.0 == pytest.approx(0.10)
    assert g.edge(w, gap, t) == pytest.approx(0.0125)
    assert g.finger(w, gap) == 9.45 and gap + w == pytest.approx(18.975)
    assert g.finger(w, gap, k) == pytest.approx(9.325)
    assert g.play_off_key(w, gap, k) == pytest.approx(0.200)
    assert g.creep(w, k, 1) == pytest.approx(0.125)
    assert g.width_alike(7, w, 0.075) == pytest.approx(123.300)
    assert g.width_alike(7, w, 0.0) == pytest.approx(123.825)  # 13 w
    assert g.out_of_square(12.0, math.radians(0.5)) == pytest.approx(0.10, abs=0.005)


@pytest.mark.parametrize("n", [2, 4, 8, 12, 24])
def test_what_errors_of_the_steps_take(n: int) -> None:
    """Simulated: a finger of one board lies between two of its slots, in a slot of the other's.

    20,000 draws, seeded; the formulas are fits within 0.3 u. The mean of a range has a standard
    error below 0.03 u here, so that 0.12 u more is a false alarm in less than one of 10,000.
    """
    rng = np.random.default_rng(n)
    one, other = rng.normal(size=(2, 20_000, n + 1))
    for loss, slots in (
        (g.loss_on_key, (one.cumsum(1), other.cumsum(1))),
        (g.loss_by_steps, (one, other)),
    ):
        first, second = slots
        low = (first[:, :n] - second[:, :n]).max(1)
        high = (first[:, :n] - second[:, 1:]).min(1)
        assert loss(n, 1.0) == pytest.approx(float((low - high).mean()), abs=0.3 + 0.12)


@pytest.mark.parametrize("seed", range(50))
def test_the_closed_forms_are_what_the_polygons_show(seed: int) -> None:
    case = case_of(seed)
    w, k, gap, t = (case[name] for name in ("w", "k", "g", "t"))
    seen = drawn(case)
    assert seen["c"] == pytest.approx(g.play_on_key(w, gap), abs=1e-6)
    assert seen["e"] == pytest.approx(g.edge(w, gap, t), abs=1e-6)
    assert seen["finger"] == pytest.approx(g.finger(w, gap), abs=1e-6)
    assert seen["pitch"] == pytest.approx(gap + w, abs=1e-6)
    assert seen["step"] == pytest.approx(case["h"] - case["T"], abs=1e-6)
    seen = drawn(case, "cutter")
    assert seen["finger"] == pytest.approx(g.finger(w, gap, k), abs=1e-6)
    assert seen["pitch"] == pytest.approx(gap + k, abs=1e-6)
    # The second board's first finger is g wide all the same, and holds the joint as a whole.
    assert seen["c"] == pytest.approx(g.play_on_key(w, gap), abs=1e-6)
    assert seen["e"] == pytest.approx(g.edge(w, gap, t), abs=1e-6)
    assert w - seen["finger"] == pytest.approx(g.play_off_key(w, gap, k), abs=1e-6)


def plan_of(case: Case, **more: str) -> BoxPlan:
    bit = Bit("plain", case["w"], 0.0, 40.0, measured=True)
    return BoxPlan(
        bit, BOARD, BOARD, None, 123.3, case["T"], case["T"], key_width=case["k"], **more
    )  # type: ignore[arg-type]


@pytest.mark.parametrize("seed", range(10))
@pytest.mark.parametrize("push", ["key", "cutter"])
def test_signs_and_slopes_are_those_of_what_is_measured(seed: int, push: str) -> None:
    """By finite differences of what the polygons show, moved by 0.01 mm."""
    case = case_of(seed)
    joint = BoxJoint(plan_of(case, pressed=push))
    about, seen = set_to(case["g"], case["t"], case["h"]), drawn(case, push)
    shown = {FIT: "c", EDGES: "e", ENDS: "step"}
    for aspect, what in shown.items():
        for name, moved in ((GAP, "g"), (STARTER, "t"), (HEIGHT, "h")):
            after = drawn({**case, moved: case[moved] + 0.01}, push)
            slope = (after[what] - seen[what]) / 0.01
            assert slope == pytest.approx(joint.slope(aspect, about, name), abs=1e-5), (
                aspect,
                name,
            )
        assert SLOPES[aspect][joint.plan.family.setting_of[aspect]] == joint.slope(aspect, about)
        nominal = joint.nominal(aspect, about, joint.plan.figures())
        loss = joint.loss if aspect == FIT else 0.0
        assert nominal == pytest.approx(seen[what] - loss, abs=1e-6)


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("push", ["key", "cutter"])
@pytest.mark.parametrize(("way", "shrinks"), [("tooth", 0.0), ("axis", 0.5), ("far", 1.0)])
def test_a_wider_cutter_counts_by_how_the_gap_is_measured(
    seed: int, push: str, way: str, shrinks: float
) -> None:
    """A tooth further over: the gap stays, or shrinks by a half or all of it."""
    case, wider = case_of(seed), 0.01
    joint = BoxJoint(plan_of(case, pressed=push, gap_from=way))
    about = set_to(case["g"], case["t"], case["h"])
    other = {**case, "w": case["w"] + wider, "g": case["g"] - shrinks * wider}
    before, after = drawn(case, push), drawn(other, push)
    for aspect, what in ((FIT, "c"), (EDGES, "e")):
        (term,) = (t for t in joint.terms(aspect, about) if t.key[0] == "diameter")
        assert (after[what] - before[what]) / wider == pytest.approx(term.factor, abs=1e-5)
    assert 1 + shrinks == joint.terms(FIT, about)[0].factor  # 0.075 + 1.5 x 0.10 = 0.225 mm


@pytest.mark.parametrize("seed", range(10))
def test_fingers_creep_by_each_push_that_differs(seed: int) -> None:
    case = case_of(seed)
    r, n = random.Random(seed), 6
    sled = Sled(case["w"], case["k"], case["g"], case["h"])
    ways = [[r.choice(("key", "cutter")) for _ in range(n - 1)] for _ in range(2)]
    wide = 2 * n * case["w"]
    first, second = (sled.board(wide, 30.0, 0.0, pushes) for pushes in ways)
    pushes = [way.count("cutter") for way in ways]
    off = wood(first, case["h"])[n - 1][1] - wood(second, case["h"])[n - 1][1]
    assert off == pytest.approx(g.creep(case["w"], case["k"], pushes[1] - pushes[0]), abs=1e-6)


@pytest.mark.parametrize("fingers", [2, 5, 9])
def test_boards_that_end_alike_pressed_toward_the_cutter(fingers: int) -> None:
    """The first finger is as wide as the gap, each further one a step of gap and key on."""
    w, k, gap, h = 9.525, 9.4, 9.45, 12.0
    board = Sled(w, k, gap, h).board(300.0, 30.0, 0.0, ["cutter"] * fingers)
    ends = wood(board, h)[fingers - 1][1]
    found = next(x for x in widths(gap + k, gap, fingers) if x.asked and x.ends == "alike")
    assert ends == pytest.approx(found.width, abs=1e-6)


@pytest.mark.parametrize("fingers", [2, 5, 9])
def test_boards_of_these_widths_end_alike_or_opposite(fingers: int) -> None:
    w, c, h = 9.525, 0.075, 12.0
    sled = Sled(w, 9.4, w - c, h)
    alike = g.width_alike(fingers, w, c)
    board = sled.board(alike, 30.0, 0.0, ["key"] * (fingers - 2))
    found = wood(board, h)
    assert len(found) == fingers and found[-1][1] == pytest.approx(alike)
    assert found[-1][1] - found[-1][0] == pytest.approx(w - c, abs=1e-9)  # a whole finger, too
    opposite = g.width_opposite(fingers, w, c)
    board = sled.board(opposite, 30.0, 0.0, ["key"] * (fingers - 1))
    found = wood(board, h)
    assert len(found) == fingers and found[-1][1] == pytest.approx(opposite - w)
