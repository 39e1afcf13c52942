"""The closed forms of a box joint by steps of the fence against check values, a polygon library and
finite differences of what is measured on the polygons.

Check values: derived by hand and checked by building the parts as polygons. That a slot is widened
away from the fence is published: Woodsmith, router-table grooves, 2015; Fine Woodworking, 7 May
2014, on the climb cut in a second pass.
"""

from __future__ import annotations

import random
from collections.abc import Mapping

import pytest
from fingers import stepped, travel, wood

from fitlog.domain import Bit, Stock
from fitlog.families.box_steps.joint import SLOPES, StepsJoint
from fitlog.families.box_steps.names import CENTRE, FENCE, SECOND, set_to
from fitlog.families.box_steps.plan import StepsPlan
from fitlog.families.fingers import geometry as g
from fitlog.families.fingers.names import ENDS, FIT, HEIGHT

Case = Mapping[str, float]
BOARD = Stock("ash", "ash", 12.0, 150.0)
WIDE, FINGERS = 400.0, 5


def drawn(case: Case, half_off: float = 0.0) -> dict[str, float]:
    """What is measured on two boards cut along the fence: play, where the second board stands with
    its play halved, the ends' step, and the extra width after a turn, halved.
    """
    b, d, pitch, x, h = (case[name] for name in ("b", "d", "P", "x", "h"))
    at = [x + i * pitch for i in range(FINGERS)]
    other = [a + pitch / 2 + half_off for a in at]
    first, second = (
        stepped(WIDE, 3 * h, [p for a in passes for p in (a, a + d)], b, h)
        for passes in (at, other)
    )
    one, two = wood(first, h)[: FINGERS + 1], wood(second, h)[1:FINGERS]
    low, high = travel(one, two, -half_off)
    floor = max(y for _, y in first.exterior.coords if y < 3 * h - 1e-6)
    turned = stepped(case["W"], 3 * h, [case["x0"], case["W"] - case["x0"]], b, h)
    slot = wood(turned, h)
    extra = slot[1][0] - slot[0][1] - b
    side = 1.0 if case["x0"] > case["W"] / 2 else -1.0
    return {
        "c": high - low,
        "edge": (high + low) / 2,
        "step": floor - case["T"],
        "centre": side * extra / 2,
    }


def case_of(seed: int) -> Case:
    r = random.Random(seed)
    b, d = r.uniform(5, 16), r.uniform(0.05, 0.6)
    pitch = 2 * (b + d) - r.uniform(0.06, 0.4)
    h, wide = r.uniform(6, 15), r.uniform(90, 160)
    return {
        **{"b": b, "d": d, "P": pitch, "x": r.uniform(b, 2 * b), "h": h, "T": r.uniform(6, 15)},
        **{"W": wide, "x0": wide / 2 + r.choice((-1, 1)) * r.uniform(0.03, 0.4)},
    }


def test_check_values() -> None:
    assert g.play_by_steps(12.70, 0.05, 25.40) == pytest.approx(0.10)
    assert g.play_by_steps(12.70, 0.08, 25.40) == pytest.approx(0.16)


@pytest.mark.parametrize("seed", range(50))
def test_the_closed_forms_are_what_the_polygons_show(seed: int) -> None:
    case = case_of(seed)
    seen = drawn(case)
    assert seen["c"] == pytest.approx(g.play_by_steps(case["b"], case["d"], case["P"]), abs=1e-6)
    assert seen["step"] == pytest.approx(case["h"] - case["T"], abs=1e-6)
    assert seen["centre"] == pytest.approx(case["x0"] - case["W"] / 2, abs=1e-6)
    assert seen["edge"] == pytest.approx(0.0, abs=1e-6)
    off = seen["c"] / 3  # of half a step: closed by the play up to c / 2
    assert drawn(case, off)["edge"] == pytest.approx(-off, abs=1e-6)


@pytest.mark.parametrize("seed", range(10))
def test_signs_and_slopes_are_those_of_what_is_measured(seed: int) -> None:
    """By finite differences of what the polygons show, moved by 0.01 mm."""
    case, by = case_of(seed), 0.01
    bit = Bit("plain", case["b"], 0.0, 40.0, measured=True)
    sizes = case["W"], case["T"], case["T"]
    joint = StepsJoint(StepsPlan(bit, BOARD, BOARD, None, *sizes, pitch=case["P"]))
    about, seen = set_to(case["d"], case["x0"], case["h"]), drawn(case)
    shown = {FIT: "c", CENTRE: "centre", ENDS: "step"}
    for aspect, what in shown.items():
        for name, moved in ((SECOND, "d"), (FENCE, "x0"), (HEIGHT, "h")):
            slope = (drawn({**case, moved: case[moved] + by})[what] - seen[what]) / by
            assert slope == pytest.approx(joint.slope(aspect, about, name), abs=1e-5), (
                aspect,
                name,
            )
        assert SLOPES[aspect][joint.plan.family.setting_of[aspect]] == joint.slope(aspect, about)
        nominal = joint.nominal(aspect, about, joint.plan.figures())
        loss = joint.loss if aspect == FIT else 0.0
        assert nominal == pytest.approx(seen[what] - loss, abs=1e-6)
    terms = {t.key[0]: t.factor for t in joint.terms(FIT, about)}
    for kind, moved in (("diameter", "b"), ("pitch", "P")):
        slope = (drawn({**case, moved: case[moved] + by})["c"] - seen["c"]) / by
        assert slope == pytest.approx(terms[kind], abs=1e-5), kind


@pytest.mark.parametrize("seed", range(5))
def test_a_fence_moved_out_is_no_free_cut_on_the_same_end(seed: int) -> None:
    """Passing the slots of an end again with the fence further out widens each of them by that
    much, on both boards: the play grows by twice the move, so that the fence wants a fresh end.
    """
    case, by = case_of(seed), 0.05
    b, d, pitch, h = (case[name] for name in ("b", "d", "P", "h"))
    at = [case["x"] + i * pitch for i in range(FINGERS)]
    boards = [
        stepped(WIDE, 3 * h, [p for a in passes for p in (a, a + d, a + by, a + by + d)], b, h)
        for passes in (at, [a + pitch / 2 for a in at])
    ]
    one, two = wood(boards[0], h)[: FINGERS + 1], wood(boards[1], h)[1:FINGERS]
    low, high = travel(one, two, 0.0)
    assert high - low == pytest.approx(g.play_by_steps(b, d, pitch) + 2 * by, abs=1e-6)
    assert StepsPlan.__dataclass_fields__["family"].default.setting(FENCE).free == ""
