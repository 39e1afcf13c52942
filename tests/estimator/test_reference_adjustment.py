"""Grubbs' harmonic rule out of the same machinery: readings only, no words, no slips.

F. E. Grubbs, "An optimum procedure for setting machines or adjusting processes", 1954, reprinted in
J. Quality Technology 15(4), 1983 (the rule from memory; the closed forms below are exact): with a
flat prior, after the t-th reading move by 1/t of the deviation read; with prior N(0, sd^2) and
reading noise se by 1/(t + R), R = se^2/sd^2.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace

import pytest
from building import make_cut, make_plan, make_setup

from fitlog import defaults
from fitlog.advice import advise
from fitlog.advice.history import History
from fitlog.domain import Reading, Window, adjusters
from fitlog.estimator.choice import best_target
from fitlog.estimator.evidence import Evidence
from fitlog.estimator.posterior import Normal, posterior
from fitlog.families.half_blind import figures
from fitlog.families.half_blind.names import set_to

FLAT = Normal(0.0, math.inf)


def reading(nominal: float, read: float, read_sd: float, piece_sd: float = 0.0) -> Evidence:
    """A number read on a piece, no word and no slip, so that the background does not matter."""
    return Evidence(1, nominal, None, 0.025, read, read_sd, piece_sd, 0.0, 1.0)


@pytest.mark.parametrize(("prior_sd", "se"), [(math.inf, 1.0), (2.0, 1.0), (0.4, 0.1), (0.1, 0.3)])
@pytest.mark.parametrize("seed", range(3))
def test_each_move_is_a_harmonic_part_of_the_deviation_read(
    prior_sd: float, se: float, seed: int
) -> None:
    r, ratio = random.Random(seed), (se / prior_sd) ** 2
    evidence: list[Evidence] = []
    setting, offset = 0.0, r.gauss(0, min(prior_sd, 3 * se))
    for t in range(1, 7):
        deviation = setting + offset + r.gauss(0, se)
        evidence.append(reading(setting, deviation, se))
        law = posterior(Normal(0.0, prior_sd), evidence)
        assert -law.mean - setting == pytest.approx(
            -deviation / (t + ratio), abs=1e-9 * max(1, abs(deviation))
        )
        assert law.sd == pytest.approx(se / math.sqrt(t + ratio), rel=1e-9)
        # where the window is put: a symmetric law, so its middle, whichever rule is used
        for beyond in (0.0, math.inf):
            target = best_target(law, Window(-se, se), noise=se / 4, beyond=beyond)
            assert target == pytest.approx(-law.mean, abs=1e-5 * law.sd)
        setting = -law.mean


@pytest.mark.parametrize("t", range(1, 7))
def test_first_gains_of_a_flat_prior(t: int) -> None:
    """Gains 1, 1/2, 1/3, ...: t - 1 pieces read dead on, then one that is off by 1."""
    before = [reading(0.0, 0.0, 1.0)] * (t - 1)
    assert posterior(FLAT, [*before, reading(0.0, 1.0, 1.0)]).mean == pytest.approx(
        1 / t, abs=1e-10
    )


@pytest.mark.parametrize(
    ("prior", "expected"),
    [
        (FLAT, [2, 1.5, 1.333333, 1.25, 1.2]),
        (Normal(0.0, 2.0), [1.8, 1.444444, 1.307692, 1.235294, 1.190476]),
    ],
)
def test_expected_squared_deviation_of_the_next_piece(prior: Normal, expected: list[float]) -> None:
    """se = 1: what is left of the offset plus the next piece's own noise, pieces 2 to 6; it does
    not depend on the data.
    """
    r, found = random.Random(7), []
    for t in range(1, 6):
        law = posterior(
            prior, [reading(r.uniform(-2, 2), r.uniform(-3, 3), 0.6, 0.8) for _ in range(t)]
        )
        found.append(law.sd**2 + 1.0)  # .6^2 + .8^2: the gauge and the piece
    assert found == pytest.approx(expected, abs=6e-7)


def test_the_rule_comes_out_of_the_ordinary_path(monkeypatch: pytest.MonkeyPatch) -> None:
    """Trial cuts with nothing but the two walls measured, a prior as good as flat, through the
    advice as a user gets it.
    """
    for name, value in (("SLIP", 0.0), ("FENCE_ZERO_MEASURED", 1e4), ("FENCE_SIDE_ROUNDING", 0.0)):
        monkeypatch.setattr(figures if hasattr(figures, name) else defaults, name, value)
    monkeypatch.setattr(adjusters, "PLAIN_STEP", 1e-6)  # a fence that can be set anywhere
    first = set_to(8.7, 75.4, 11.0)
    setup, r, fence = (
        make_setup(make_plan(in_play=("centre",)), first),
        random.Random(11),
        first["fence_offset"],
    )
    for t in range(1, 7):
        deviation = (
            r.uniform(0.06, 0.4) * (-1) ** t
        )  # outside the window, so that nothing is settled
        walls = Reading("walls", 70.0 + 2 * deviation, other=70.0)
        cut = make_cut(t, first.changed(fence_offset=fence), readings=[walls])
        setup = replace(setup, cuts=(*setup.cuts, cut))
        moved = advise(setup, History()).settings["fence_offset"] - fence
        assert moved == pytest.approx(-deviation / t, abs=2e-6)
        fence += moved


def test_worked_example() -> None:
    # exact: prior N(0, .40^2), se .05, gauge .03 (reading variance .0034); there y = setting -
    # offset + noise
    cuts = [(0.00, -0.31), (0.35, 0.06), (0.30, -0.02)]
    means, sds = [0.30354957, 0.29684601, 0.30450972], [0.05769968, 0.04101375, 0.03354642]
    evidence = [reading(x, y, 0.03, 0.05) for x, y in cuts]
    for t in range(3):
        law = posterior(Normal(0.0, 0.40), evidence[: t + 1])
        assert -law.mean == pytest.approx(means[t], abs=1e-7 / 10)
        assert law.sd == pytest.approx(sds[t], abs=1e-7 / 10)


def test_a_flat_prior_without_a_reading_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one verdict"):
        posterior(FLAT, [])
