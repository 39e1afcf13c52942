"""Getting a lost height back, checked against closed forms, JCGM 100, an independent Monte Carlo
and simulated samples.

Sources: Machinery's Handbook, "Measuring dovetail slides", for the rods; JCGM 100:2008 (GUM), 5.1.2
for the first-order propagation, 4.3.7 for a rectangular law; the worked joint is theta 14 deg, D
12.7, h 9.5, clearance 0.10, whose mouth, tail root and width over rods of 4 mm are 7.9628, 7.8628
and 16.9825 mm (worked out from the handbook's formula). The Monte Carlo and the simulated samples
use the full geometry, written out here, not the tool's sensitivities.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kept import (
    ALL,
    BETWEEN,
    GAP,
    LIFT,
    MIDDLE,
    MOUTH,
    OVER,
    ROD,
    TAIL,
    THETA,
    D,
    H,
    P,
    found,
    joint_plan,
)
from numpy.typing import NDArray
from scipy.stats import binom

from fitlog import defaults
from fitlog.domain import Bit, Reading
from fitlog.families.half_blind import figures
from fitlog.families.half_blind.sample import pitch_of

Array = NDArray[np.float64]
GOOD_SD = math.hypot(
    0.03 / math.sqrt(3), 0.025
)  # rectangular over the window, a word's noise on top
UNSURE = (
    "ANGLE_DEG",
    "PITCH_BY_SCALE",
    "HEIGHT_ZERO",
    "STOCK_EFFECT",
    "DAY_TO_DAY_FIT",
    "CALIPER",
    "FEELER",
    "HEIGHT_REPEAT",
)


def rods(d: Array | float, theta: Array | float) -> Array | float:
    """What two rods add: d (1 + cot(alpha / 2)), alpha = 90 deg - theta (Machinery's Handbook)."""
    return d * (1 + 1 / np.tan((np.pi / 2 - theta) / 2))


@pytest.fixture
def sure(monkeypatch: pytest.MonkeyPatch) -> None:
    """A shop where almost nothing is unsure."""
    for name in UNSURE:
        monkeypatch.setattr(figures if hasattr(figures, name) else defaults, name, 1e-6)
    monkeypatch.setattr(defaults, "DIAMETER_MEASURED", (0.0, 1e-6))


# --- closed forms ---------------------------------------------------------------------------------


@pytest.mark.usefixtures("sure")
def test_a_measured_bit_and_exact_readings_give_the_closed_form() -> None:
    back = found(ALL)
    assert back.height.mean == pytest.approx(
        (2 * D - P - MIDDLE) / LIFT, abs=2e-4
    )  # four decimals of the readings / LIFT
    assert back.height.mean - (0.10 - MIDDLE) / LIFT == pytest.approx(
        H, abs=2e-4
    )  # the sample itself has 0.10
    assert back.cut_at is not None
    assert back.cut_at.mean == pytest.approx(H, abs=2e-4)
    assert back.offer.chance > 0.999
    assert not back.test_piece


@pytest.mark.usefixtures("sure")
def test_a_lost_diameter_comes_back_from_tail_end_and_gap(monkeypatch: pytest.MonkeyPatch) -> None:
    """D = t + c, whatever the catalogue says: here half a millimetre too much, and not known to
    better than that.
    """
    monkeypatch.setattr(defaults, "DIAMETER_PRINTED", (0.0, 0.5))
    bit = Bit("heron", D + 0.5, 14.0, 15.0)
    back = found([TAIL, GAP], joint_plan(bit=bit))
    assert back.diameter.mean == pytest.approx(D, abs=1e-4)
    assert back.height.mean == pytest.approx((2 * D - P - MIDDLE) / LIFT, abs=2e-4)
    assert back.figures.mean == pytest.approx((2 * (D + 0.5) - P - MIDDLE) / LIFT, abs=2e-4)


def test_exact_readings_agree_with_what_is_assumed() -> None:
    back = found(ALL)
    assert back.height.mean == pytest.approx((2 * D - P - MIDDLE) / LIFT, abs=back.height.sd / 2)
    assert all(abs(h.off) < 1 and not h.left_out for h in back.heard)
    assert back.cut_at is not None
    assert back.cut_at.mean == pytest.approx(H, abs=2e-4)
    assert back.cut_at.sd == pytest.approx(
        math.sqrt(  # JCGM 100, 5.1.2, of h = (D - m) / (2 tan(theta)) less the zero
            (0.02**2 + 0.03**2) / LIFT**2
            + (H / (math.sin(THETA) * math.cos(THETA)) * math.radians(0.15)) ** 2
            + 0.05**2
        ),
        rel=1e-4,
    )


def test_two_sizes_of_rods_tell_the_angle() -> None:
    """k = (x1 - x2) / (d1 - d2), theta = 2 atan(k - 1) - 90 deg; its uncertainty by finite
    differences of that.
    """
    wide = Reading("over_rods", 7.8628 + float(rods(8.0, THETA)), rod=8.0)
    back = found([OVER, wide])
    assert back.rods_angle is not None
    assert back.rods_angle.mean == pytest.approx(14.0, abs=2e-3)
    step, k = 1e-6, float(rods(1.0, THETA))
    slope = 2 * (math.atan(k - 1 + step) - math.atan(k - 1 - step)) / (2 * step)
    assert back.rods_angle.sd == pytest.approx(
        math.degrees(slope * math.sqrt(2) * 0.03 / 4.0), rel=1e-3
    )
    assert found([OVER]).rods_angle is None


def test_a_samples_own_widths_add_up_to_its_pitch() -> None:
    assert pitch_of([MOUTH, TAIL]) == pytest.approx(P)  # P = m + t
    assert pitch_of([BETWEEN, OVER]) == pytest.approx(P, abs=2e-4)  # P - D + d k + D - d k
    assert pitch_of([MOUTH, OVER]) is None
    assert pitch_of([BETWEEN, replace(OVER, rod=5.0)]) is None


# --- uncertainty ----------------------------------------------------------------------------------


def causes(size: int, rng: np.random.Generator) -> dict[str, Array]:
    """Draws of all that is unsure, from the assumed laws: a measured bit at 14 deg, a pitch by
    scale.
    """
    draw = {
        name: rng.normal(0.0, sd, size)
        for name, sd in (
            ("dD", 0.02),
            ("dtheta", math.radians(0.15)),
            ("dP", 0.05),
            ("zero", 0.05),
            ("wood", defaults.STOCK_EFFECT),
            ("then", 0.025),
            ("today", 0.025),
        )
    }
    draw["felt"] = MIDDLE + rng.uniform(-0.03, 0.03, size) + rng.normal(0.0, 0.025, size)
    return draw


def widths(x: dict[str, Array]) -> dict[str, Array]:
    """The true widths of samples that were felt to have the clearance x["felt"], the height they
    were cut at left out.
    """
    d, pitch, theta = D + x["dD"], P + x["dP"], THETA + x["dtheta"]
    play = x["felt"] - x["wood"] - x["then"]
    return {
        "mouth": pitch - d + play,
        "tail_width": d - play,
        "over_rods": pitch - d + rods(ROD, theta),
    }


def right_height(x: dict[str, Array]) -> Array:
    """The height on the scale that gives the window's middle today."""
    d, pitch, theta = D + x["dD"], P + x["dP"], THETA + x["dtheta"]
    free = 2 * d - pitch + x["wood"] + x["today"] - MIDDLE
    return np.asarray(free / (2 * np.tan(theta)) - x["zero"])


def test_the_uncertainty_without_a_sample_is_that_of_jcgm_100() -> None:
    height = found([]).height
    terms = (
        2 * 0.02,
        2 * height.mean / math.cos(THETA) ** 2 * math.radians(0.15),
        0.05,
        LIFT * 0.05,
        0.03,
        0.025,
    )
    assert height.sd == pytest.approx(math.sqrt(sum(t * t for t in terms)) / LIFT, rel=1e-4)


NAMES = ("dD", "dtheta", "dP", "zero", "wood", "then", "today", "felt")
SDS = np.array([0.02, math.radians(0.15), 0.05, 0.05, 0.03, 0.025, 0.025, GOOD_SD])


@pytest.mark.parametrize(
    "kinds",
    [("mouth",), ("tail_width",), ("mouth", "tail_width"), ("mouth", "tail_width", "over_rods")],
)
def test_the_uncertainty_with_a_sample_is_that_of_jcgm_100(kinds: tuple[str, ...]) -> None:
    """In matrix form, from numerical sensitivities of the geometry: u^2 = g S g' - g S A' (A S A' +
    R)^-1 A S g'.

    Mouth and tail end share the clearance: with two of them taken as independent the last two cases
    would come out smaller.
    """

    def at(row: Array) -> tuple[float, list[float]]:
        x = {name: np.array([value]) for name, value in zip(NAMES, row, strict=True)}
        made = widths(x)
        return float(right_height(x)[0]), [float(made[kind][0]) for kind in kinds]

    base = np.array([0.0] * 7 + [MIDDLE])
    moved = [(at(base + step), at(base - step)) for step in np.diag([1e-6] * len(base))]
    g = np.array([(up[0] - down[0]) / 2e-6 for up, down in moved])
    a = np.array(
        [[(u - v) / 2e-6 for u, v in zip(up[1], down[1], strict=True)] for up, down in moved]
    ).T
    s, r = np.diag(SDS**2), 0.03**2 * np.eye(len(kinds))
    left = g @ s @ g - g @ s @ a.T @ np.linalg.solve(a @ s @ a.T + r, a @ s @ g)
    back = found([x for x in (MOUTH, TAIL, OVER) if x.kind in kinds])
    assert back.height.sd == pytest.approx(
        math.sqrt(left), rel=2e-3
    )  # the angle's share is taken at the height itself
    assert back.height.sd < back.figures.sd


def test_first_order_against_a_monte_carlo() -> None:
    """The posterior by weighting 400,000 draws with how well they explain the readings, in the full
    geometry.

    Three standard errors of a weighted mean and sd from the effective number of draws (Kish): a
    right tool fails one fresh seed in 185; this seed is fixed. What first order leaves out is some
    0.001 mm here, far below these.
    """
    rng = np.random.default_rng(20310)
    x = causes(400_000, rng)
    made, truth = widths(x), right_height(x)
    told = {"mouth": 7.99, "tail_width": 12.585, "over_rods": 17.01}
    logs = sum(-0.5 * ((made[kind] - value) / 0.03) ** 2 for kind, value in told.items())
    weight = np.exp(logs - np.max(logs))
    weight /= weight.sum()
    effective = 1 / float(np.sum(weight**2))
    mean = float(weight @ truth)
    sd = math.sqrt(float(weight @ (truth - mean) ** 2))
    back = found(
        [
            Reading("mouth", told["mouth"]),
            Reading("tail_width", told["tail_width"]),
            Reading("over_rods", told["over_rods"], ROD),
        ]
    )
    assert effective > 20_000
    assert back.height.mean == pytest.approx(mean, abs=3 * sd / math.sqrt(effective) + 0.001)
    assert back.height.sd == pytest.approx(sd, abs=3 * sd / math.sqrt(2 * effective) + 0.001)


SAMPLES = 2000


@pytest.mark.parametrize("pitch_known", [True, False])
def test_ninety_of_a_hundred_intervals_hold_the_right_height(pitch_known: bool) -> None:
    """And as many joints are good as was promised.

    A right tool's 2000 intervals hold 88 to 92 % but for one fresh set of seeds in 340 (exact
    binomial, checked here); the share of good joints lies within three standard errors of the mean
    chance stated.
    """
    assert 1 - (binom.cdf(1840, SAMPLES, 0.9) - binom.cdf(1759, SAMPLES, 0.9)) < 1 / 340
    rng = np.random.default_rng(77 if pitch_known else 78)
    x = causes(SAMPLES, rng)
    if (
        not pitch_known
    ):  # the sample's pitch is what it was; today's is set anew to what its widths add up to
        x = {**x, "dP": rng.normal(0.0, 0.5, SAMPLES)}
    read = {kind: value + rng.normal(0.0, 0.03, SAMPLES) for kind, value in widths(x).items()}
    repeat, set_to = rng.normal(0.0, 0.03, SAMPLES), rng.normal(0.0, 0.05, SAMPLES)
    inside, good, promised = 0, 0, 0.0
    for i in range(SAMPLES):
        readings = [Reading(k, float(read[k][i]), ROD if k == "over_rods" else None) for k in read]
        one = {name: draws[i : i + 1] for name, draws in x.items()}
        pitch = P
        if not pitch_known:
            pitch = readings[0].value + readings[1].value
            one["dP"] = np.array([pitch - P + set_to[i]])
        back = found(readings, joint_plan(pitch=pitch), pitch_known=pitch_known)
        low, high = back.range90
        right = float(right_height(one)[0])
        inside += low <= right <= high
        theta = THETA + float(one["dtheta"][0])
        play = MIDDLE - 2 * math.tan(theta) * (back.offer.height + repeat[i] - right)
        good, promised = good + (0.04 <= play <= 0.10), promised + back.offer.chance
    assert 0.88 <= inside / SAMPLES <= 0.92
    share = promised / SAMPLES
    assert good / SAMPLES == pytest.approx(share, abs=3 * math.sqrt(share * (1 - share) / SAMPLES))


ANY = st.sampled_from(
    [
        *ALL,
        Reading("over_rods", 21.54, rod=6.0),
        Reading("between_rods", 1.30, rod=5.0),
        Reading("mouth", 7.99),
        Reading("tail_width", 12.57),
        Reading("pull_gap", 0.1),
        Reading("mouth", 12.0),
    ]
)


@settings(max_examples=150, deadline=None, derandomize=True, database=None)
@given(readings=st.lists(ANY, max_size=6), more=ANY, pitch_known=st.booleans())
def test_one_more_reading_never_widens_the_interval(
    readings: list[Reading], more: Reading, pitch_known: bool
) -> None:
    """At one height, exactly. A reading that moves the height also moves what the angle's doubt is
    worth there: by the triangle inequality the sd grows with that by at most 2 sec^2(theta)
    u(theta) / (2 tan(theta)) a mm, 1 % of the move.
    """
    before, after = (found(r, pitch_known=pitch_known) for r in (readings, [*readings, more]))
    moved = (
        abs(after.height.mean - before.height.mean)
        * math.radians(0.15)
        / (math.sin(THETA) * math.cos(THETA))
    )
    assert after.height.sd <= before.height.sd + moved + 1e-9
