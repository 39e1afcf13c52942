"""The widths of mouth and tail that a caliper is to read on the sample: against the simulated shop,
whose truth is known, and by hand.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from building import BIT, make_cut, make_plan, make_setup
from scipy.stats import binom

from fitlog import defaults
from fitlog.advice.history import History
from fitlog.domain import Reading, SetUp
from fitlog.families import joint_of
from fitlog.families.half_blind import geometry
from fitlog.families.half_blind.layouts import Layout
from fitlog.families.half_blind.layouts.layout import regular, wide_tails
from fitlog.families.half_blind.names import set_to
from fitlog.families.half_blind.widths import Widths, widths
from fitlog.simulation import Advised, Person, Truth, run, year

SEEDS, WITHIN = 100, 0.9
HEIGHT = 9.0
PITCH = 22.5  # 2 D - 2 h tan(theta) is 22.67


def layout(setup: SetUp) -> Layout:
    plan = setup.plan
    return regular(plan.bit, HEIGHT, plan.board_width, 3, plan.pitch)  # type: ignore[attr-defined]


def of(setup: SetUp, past: History | None = None) -> Widths:
    settings = set_to(HEIGHT, 75.0, 11.0)
    return widths(setup, past or History(), layout(setup), settings)


def test_without_a_word_they_are_the_figures_less_what_bits_lack() -> None:
    """Propagated by hand: D 0.07 under its printed size (common practice, no source), 0.03 mm, an
    angle of 0.15 deg, the height's zero 0.05 mm, a pitch read on a scale 0.05 mm.
    """
    plan = make_plan(pitch=PITCH)
    found = of(make_setup(plan, set_to(HEIGHT, 75.0, 11.0)))
    theta = BIT.theta
    nominal = BIT.diameter - 2 * HEIGHT * math.tan(theta)
    by_angle = 2 * HEIGHT / math.cos(theta) ** 2 * math.radians(0.15)
    sd = math.sqrt(0.03**2 + by_angle**2 + (2 * math.tan(theta) * 0.05) ** 2)
    assert found.mouth == pytest.approx((nominal - 0.07, sd), abs=1e-9)
    assert found.tail == pytest.approx((PITCH - nominal + 0.07, math.hypot(sd, 0.05)), abs=1e-9)
    assert found.bit == pytest.approx((BIT.diameter - 0.07, 0.03))
    assert found.by == "figures" and found.rough and found.window == pytest.approx(0.03)
    assert found.doubt == pytest.approx(1.6449 * math.hypot(sd, 0.05))


def test_the_log_is_heard_and_a_measured_mouth_is_shown() -> None:
    plan = make_plan(pitch=PITCH)
    settings = set_to(HEIGHT, 75.0, 11.0)
    judged = make_setup(plan, settings, [make_cut(1, settings, "good")])
    assert of(judged).by == "log" and of(judged).mouth.sd < of(make_setup(plan, settings)).mouth.sd
    for off in (-0.04, 0.04):
        mouth = of(judged).mouth.mean + off
        slot = replace(make_cut(1, settings, readings=(Reading("mouth", mouth),)), slot=True)
        read = of(replace(judged, cuts=(*judged.cuts, slot)))
        assert read.by == "measured" and read.mouth == (mouth, defaults.CALIPER)
        assert off * (of(judged).tail.mean - read.tail.mean) > 0, "a wider mouth, a narrower tail"
        assert read.tail.sd < of(judged).tail.sd
    other = replace(slot, settings=set_to(HEIGHT - 1, 75.0, 11.0))
    assert of(replace(judged, cuts=(*judged.cuts, other))).by == "log", "at another height"
    misread = replace(slot, readings=(Reading("mouth", mouth - 3.0),))
    assert of(replace(judged, cuts=(*judged.cuts, misread))).by == "log"


def test_wide_tails_are_wider_by_what_their_slots_are_further_apart() -> None:
    plan = make_plan(pitch=PITCH)
    setup, settings = make_setup(plan, set_to(HEIGHT, 75.0, 11.0)), set_to(HEIGHT, 75.0, 11.0)
    wide = wide_tails(BIT, HEIGHT, 150.0, 3, PITCH)
    found = widths(setup, History(), wide, settings)
    assert found.tail.mean - of(setup).tail.mean == pytest.approx(50.0 - PITCH)
    assert found.mouth == of(setup).mouth


def true_widths(truth: Truth, setup: SetUp, height: float) -> tuple[float, float]:
    """Mouth and tail at a height by the shop's true diameter, angle, zero and pitch."""
    plan, settings = setup.plan, set_to(height, 75.0, 11.0)
    off = {t.key[0]: truth.value(t, setup.number) for t in joint_of(plan).terms("fit", settings)}
    mouth = geometry.mouth(
        plan.bit.diameter + off["diameter"],
        height + off["height zero"],
        plan.bit.theta + off["angle"],
    )
    return mouth, plan.pitch + off["pitch"] - mouth  # type: ignore[attr-defined]


def season(seed: int) -> list[tuple[SetUp, History, Truth]]:
    """A set-up that is the first with its bit, and the third, each with what was known before."""
    truth = Truth(seed)
    setups = [o.setup for o in run(truth, Person(seed), Advised(), year(seed, 3))]
    ended = [replace(s, outcome="finished") for s in setups]
    return [(ended[n], History(ended[:n]), truth) for n in (0, 2)]


def test_the_truth_lies_inside_as_often_as_is_said() -> None:
    """90 % of the time, for mouth and tail, over seeded shops. A right tool of 100 shops would be
    outside 80 to 97 with a chance below 0.4 % (exact binomial) for each of the four figures.
    """
    inside = {(n, what): 0 for n in (0, 1) for what in ("mouth", "tail")}
    for seed in range(SEEDS):
        for n, (setup, past, truth) in enumerate(season(seed)):
            settings = setup.pieces()[-1].settings
            laid = replace(layout(setup), height=settings["bit_height"])
            found = widths(setup, past, laid, settings)
            for what, true in zip(
                ("mouth", "tail"), true_widths(truth, setup, settings["bit_height"]), strict=True
            ):
                law = getattr(found, what)
                inside[n, what] += abs(true - law.mean) <= 1.6449 * law.sd
    law = binom(SEEDS, WITHIN)
    assert law.cdf(79) + law.sf(97) < 0.004
    assert all(80 <= count <= 97 for count in inside.values()), inside
