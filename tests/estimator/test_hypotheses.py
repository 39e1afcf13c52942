"""Lapses as hypotheses and priors of uncertain scale, against closed forms and adaptive quadrature.

Outside sources: products of normals in closed form and scipy.stats.norm for the densities;
scipy.integrate.quad, on the model's statement written out here, for posteriors that have no closed
form.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import norm

from fitlog.defaults import bands
from fitlog.estimator.evidence import Evidence
from fitlog.estimator.hypotheses import UNLIKELY, Hypothesis, turned, weigh
from fitlog.estimator.likelihood import Verdicts, log_likelihood
from fitlog.estimator.posterior import posterior
from fitlog.estimator.prior import Normal, Scaled, scaled
from fitlog.families.half_blind.figures import SEAT_EDGES

STEADY = {"derandomize": True, "deadline": None, "database": None}
WORDS = bands(SEAT_EDGES)
SHY, FLUSH, PROUD = 1, 3, 5


def reading(value: float, sd: float, nominal: float = 0.0, **more: object) -> Evidence:
    """A number alone, that cannot be a slip unless said so."""
    return replace(Evidence(1, nominal, None, 0.025, value, sd, 0.0, 0.0, 1.0), **more)  # type: ignore[arg-type]


def word(index: int, nominal: float, slip: float = 0.0, swap: float = 0.0) -> Evidence:
    """A word of the seat at a nominal step, with its other side."""
    one, other = (
        Evidence(1, nominal, WORDS[i], 0.025, None, 0.0, 0.01, slip, 1 / 7)
        for i in (index, 6 - index)
    )
    return replace(one, other=other, swap=swap)


# --- two laws, one reading: closed form -----------------------------------------------------------


@settings(max_examples=60, **STEADY)
@given(
    chance=st.floats(0.05, 0.6),
    far=st.floats(-1.0, 1.0),
    near_sd=st.floats(0.1, 0.4),
    far_sd=st.floats(0.3, 3.0),
    read_sd=st.floats(0.03, 0.2),
    value=st.floats(-0.8, 0.8),
    nominal=st.floats(-0.3, 0.3),
)
def test_the_odds_of_two_laws_are_their_densities_at_the_reading(
    chance: float,
    far: float,
    near_sd: float,
    far_sd: float,
    read_sd: float,
    value: float,
    nominal: float,
) -> None:
    """Posterior odds = prior odds x N(y; m1, s1^2 + u^2) / N(y; m2, s2^2 + u^2), each law then a
    product of normals.
    """
    laws = ((1 - chance, 0.0, near_sd), (chance, far, far_sd))
    heard = (reading(value, read_sd, nominal),)
    found = weigh(
        [
            Hypothesis(name, c, Normal(m, s), heard)
            for name, (c, m, s) in zip("ab", laws, strict=True)
        ]
    )
    y = value - nominal
    odds = np.array([c * norm.pdf(y, m, math.hypot(s, read_sd)) for c, m, s in laws])
    odds /= odds.sum()
    if odds.min() < 2 * UNLIKELY:  # then the less likely one may have been left out
        assert abs(found.of("b") - odds[1]) < 2 * UNLIKELY
        return
    assert (found.of("a"), found.of("b")) == pytest.approx(tuple(odds), abs=1e-4)
    assert found.likeliest.name == "ab"[int(odds.argmax())] or abs(odds[0] - odds[1]) < 1e-3
    gain = [s**2 / (s**2 + read_sd**2) for _, _, s in laws]
    means = np.array([m + g * (y - m) for g, (_, m, _) in zip(gain, laws, strict=True)])
    variances = np.array([g * read_sd**2 for g in gain])
    mean = float(odds @ means)
    assert found.law.mean == pytest.approx(mean, abs=1e-4)
    assert found.law.sd == pytest.approx(
        math.sqrt(float(odds @ (variances + means**2)) - mean**2), rel=1e-3
    )


def test_a_fence_millimetres_off_is_taken_for_one_once_it_is_said() -> None:
    """5 % of fences are off by another 3 mm: 1.5 mm read where 0.25 is usual, six sds, is such a
    fence, by the densities.
    """
    usual, wide = Normal(0.0, 0.25), Normal(0.0, math.hypot(0.25, 3.0))
    heard = (reading(1.5, 0.02),)
    found = weigh(
        [Hypothesis("as said", 0.95, usual, heard), Hypothesis("far off", 0.05, wide, heard)]
    )
    one, other = (
        0.95 * norm.pdf(1.5, 0, math.hypot(0.25, 0.02)),
        0.05 * norm.pdf(1.5, 0, math.hypot(wide.sd, 0.02)),
    )
    assert (
        found.of("far off") == pytest.approx(other / (one + other), abs=1e-6)
        and found.of("far off") > 0.999
    )
    assert found.law.mean == pytest.approx(1.5, abs=0.002)


def test_what_is_next_to_impossible_is_left_out_but_never_what_was_said() -> None:
    far, near = Normal(50.0, 0.1), Normal(0.0, 0.1)
    heard = (reading(0.0, 0.05),)
    found = weigh(
        [Hypothesis("as said", 0.95, near, heard), Hypothesis("far off", 0.05, far, heard)]
    )
    assert found.chance == {"as said": 1.0} and found.of("far off") == 0.0
    assert found.law.mean == pytest.approx(0.0, abs=1e-9)
    found = weigh(
        [Hypothesis("as said", 0.95, far, heard), Hypothesis("far off", 0.05, near, heard)]
    )
    assert set(found.chance) == {"as said", "far off"} and found.of("far off") > 1 - 1e-9


def test_without_evidence_the_first_way_stands_alone() -> None:
    found = weigh(
        [
            Hypothesis("as said", 0.9, Normal(0.1, 0.2), ()),
            Hypothesis("far off", 0.1, Normal(0.1, 2.0), ()),
        ]
    )
    assert found.chance == {"as said": 1.0} and found.law.sd == pytest.approx(0.2, rel=1e-6)


# --- swapped sides --------------------------------------------------------------------------------


def test_swapped_evidence_mirrors_and_turns_back() -> None:
    heard = (word(SHY, 0.1, 0.02, 0.01), reading(0.3, 0.03), word(PROUD, -0.2, 0.02, 0.01))
    back = turned(heard)
    assert [e.bands for e in back] == [WORDS[PROUD], None, WORDS[SHY]] and back[1] == heard[1]
    assert [e.bands for e in (b.other for b in back) if e is not None] == [WORDS[SHY], WORDS[PROUD]]
    assert [e.swap for e in back] == [0.01, 0.0, 0.01]
    mirrored = [replace(e, nominal=-e.nominal) for e in (back[0], back[2])]
    at = np.linspace(-1.5, 1.5, 61)
    one, other = (
        log_likelihood(Verdicts([heard[0], heard[2]]), at),
        log_likelihood(Verdicts(mirrored), -at),
    )
    assert one == pytest.approx(other, abs=1e-12), "the words lie evenly about flush"


@settings(max_examples=60, **STEADY)
@given(
    st.sampled_from([0, 1, 2, 4, 5, 6]),
    st.floats(-1, 1),
    st.floats(0, 0.3),
    st.floats(0.001, 0.5),
    st.floats(-1.5, 1.5),
)
def test_a_swap_mixes_the_two_sides_within_the_slip(
    index: int, nominal: float, slip: float, swap: float, at: float
) -> None:
    """L = (1 - slip) ((1 - s) L1 + s L2) + slip * background, with L1 and L2 from scipy's normal
    law.
    """
    e = word(index, nominal, slip, swap)

    def band(i: int, blur: float, centre: float) -> float:
        ((low, high, _),) = WORDS[i]
        return float(norm.cdf(high, centre, blur) - norm.cdf(low, centre, blur))

    for blur, given_ in ((math.hypot(0.025, 0.01), "log"), (0.025, "plain")):
        sides = (1 - swap) * band(index, blur, nominal + at) + swap * band(
            6 - index, blur, nominal + at
        )
        expected = (1 - slip) * sides + slip / 7
        verdicts, misfit = Verdicts([e]), np.array([[nominal + at]])
        found = np.exp(verdicts.log(misfit)) if given_ == "log" else verdicts.plain(misfit)
        assert float(found[0, 0]) == pytest.approx(expected, abs=1e-12), given_


def moments_by_quad(
    density: Callable[[float], float], low: float, high: float, at: Sequence[float]
) -> tuple[float, float, float]:
    """Integral, mean and sd of a density."""
    whole, first, second = (
        quad(
            lambda x, k=k: x**k * density(x),
            low,
            high,
            points=list(at),
            limit=400,
            epsabs=1e-13,
            epsrel=1e-10,
        )[0]
        for k in range(3)
    )
    return whole, first / whole, math.sqrt(second / whole - (first / whole) ** 2)


@pytest.mark.parametrize("swap", [0.0, 0.01, 0.2])
def test_a_posterior_with_swaps_is_its_integral(swap: float) -> None:
    """Two words of the seat, the second one as if shallower had made it worse, and a number; all of
    them may be swapped.
    """
    heard = (word(SHY, 0.0, 0.02, swap), word(SHY, 0.4, 0.02, swap), reading(0.15, 0.2, 0.1))
    prior = Normal(0.05, 0.25)

    def one(e: Evidence, x: float) -> float:
        if e.read is not None:
            return float(norm.pdf(e.read, e.nominal + x, e.read_sd))
        blur, total = math.hypot(0.025, 0.01), 0.0
        for found, share in ((e, 1 - e.swap), (e.other, e.swap)):
            assert found is not None and found.bands is not None
            ((low, high, _),) = found.bands
            total += share * float(
                norm.cdf(high, e.nominal + x, blur) - norm.cdf(low, e.nominal + x, blur)
            )
        return 0.98 * total + 0.02 / 7

    def density(x: float) -> float:
        return float(norm.pdf(x, prior.mean, prior.sd)) * math.prod(one(e, x) for e in heard)

    whole, mean, sd = moments_by_quad(density, -2.0, 2.1, (-1.0, -0.6, -0.2, 0.0, 0.2, 0.6))
    found = posterior(prior, heard)
    assert found.log_evidence == pytest.approx(math.log(whole), abs=1e-5)
    assert (found.mean, found.sd) == pytest.approx((mean, sd), abs=1e-5)


# --- a prior whose scale is uncertain -------------------------------------------------------------


@settings(max_examples=40, **STEADY)
@given(st.floats(-0.5, 0.5), st.floats(0.01, 1.0), st.floats(0.05, 0.8))
def test_an_uncertain_scale_integrates_to_one_and_has_its_sd(
    mean: float, sd: float, doubt: float
) -> None:
    law = scaled(Normal(mean, sd), doubt)
    assert isinstance(law, Scaled)
    times = [math.exp(k * doubt * math.sqrt(3)) for k in (-1, 0, 1)]

    def density(z: float) -> float:
        return float(np.exp(law.log(np.array([mean + sd * z])))[0]) * sd

    knots = [k * t for t in times for k in (-2.0, 2.0)]
    whole, middle, spread = moments_by_quad(density, -9 * times[2], 9 * times[2], [0.0, *knots])
    assert whole == pytest.approx(1, abs=1e-7) and middle == pytest.approx(0, abs=1e-7)
    assert law.sd == pytest.approx(sd * spread, rel=1e-6)
    assert law.sd == pytest.approx(
        sd * math.sqrt(sum(c * t**2 for c, t in zip((1 / 6, 2 / 3, 1 / 6), times, strict=True)))
    )


@pytest.mark.parametrize("doubt", [0.1, 0.4])
def test_three_points_match_five_moments_of_the_log_normal_scale(doubt: float) -> None:
    """Gauss and Hermite: the log of the scale has the moments 0, d^2, 0, 3 d^4, 0 of a normal of sd
    d.
    """
    law = scaled(Normal(0.0, 1.0), doubt)
    assert isinstance(law, Scaled)
    logs = [(c, math.log(s)) for c, s in law.parts]
    for power, moment in enumerate((1.0, 0.0, doubt**2, 0.0, 3 * doubt**4, 0.0)):
        assert sum(c * x**power for c, x in logs) == pytest.approx(moment, abs=1e-12)


def test_a_law_that_is_known_or_not_at_all_keeps_its_scale() -> None:
    for law, doubt in (
        (Normal(0.1, 0.2), 0.0),
        (Normal(0.1, 0.0), 0.4),
        (Normal(0.1, math.inf), 0.4),
    ):
        assert scaled(law, doubt) is law


def test_pieces_teach_their_own_scale() -> None:
    """A reading four sds out: with a known scale it is shrunk by s^2 / (s^2 + u^2); with an
    uncertain one nearly believed.
    """
    heard = (reading(0.4, 0.05),)
    sure, open_ = (
        posterior(Normal(0.0, 0.1), heard),
        posterior(scaled(Normal(0.0, 0.1), 0.4), heard),
    )
    assert sure.mean == pytest.approx(0.4 * 0.1**2 / (0.1**2 + 0.05**2), abs=1e-6)
    parts = scaled(Normal(0.0, 0.1), 0.4).parts  # type: ignore[union-attr]
    weight = np.array([c * norm.pdf(0.4, 0.0, math.hypot(s, 0.05)) for c, s in parts])
    means = np.array([0.4 * s**2 / (s**2 + 0.05**2) for _, s in parts])
    assert open_.mean == pytest.approx(float(weight @ means / weight.sum()), abs=1e-5)
    assert open_.mean > sure.mean + 0.02
