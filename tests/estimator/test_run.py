"""One offset and one drift a joint, on a grid: against adaptive quadrature and closed forms."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from scipy.integrate import dblquad, quad

from fitlog.estimator.evidence import Coupled, Evidence
from fitlog.estimator.posterior import Normal
from fitlog.estimator.run import Creep, pooled, run_of


def read(piece: int, value: float, slip: float = 0.0) -> Evidence:
    """A reading of a misfit at a nominal one of nought."""
    return Evidence(piece, 0.0, None, 0.025, value, 0.02, 0.01, slip, 1.0)


def word(piece: int, low: float, high: float) -> Evidence:
    """A word with this band."""
    return Evidence(piece, 0.0, ((low, high, 1.0),), 0.025, None, 0.0, 0.01, 0.02, 1 / 7)


def bell(x: float, mean: float, sd: float) -> float:
    """The normal density."""
    return math.exp(-0.5 * ((x - mean) / sd) ** 2) / (sd * math.sqrt(2 * math.pi))


def likely(e: Evidence, x: float) -> float:
    """The likelihood of a verdict at a misfit, written out anew."""
    if e.read is not None:
        good = bell(e.read, x, math.hypot(e.read_sd, e.piece_sd))
    else:
        assert e.bands is not None
        ((low, high, _),) = e.bands
        noise = math.hypot(e.word_noise, e.piece_sd) * math.sqrt(2)
        good = 0.5 * (math.erf((high - x) / noise) - math.erf((low - x) / noise))
    return (1 - e.slip) * good + e.slip * e.background


def chance_of_a_drift(
    prior: Normal, said: Sequence[Evidence], counts: Sequence[int], sd: float, chance: float
) -> float:
    """By adaptive quadrature over the offset and a normal drift."""

    def density(offset: float, rate: float) -> float:
        told = (likely(e, offset + rate * n) for e, n in zip(said, counts, strict=True))
        return bell(offset, *prior) * math.prod(told)

    ends = prior.mean - 6 * prior.sd, prior.mean + 6 * prior.sd
    none = quad(lambda x: density(x, 0.0), *ends, limit=200)[0]
    some = dblquad(
        lambda x, r: density(x, r) * bell(r, 0, sd), -4.5 * sd, 4.5 * sd, *ends, epsabs=1e-9
    )[0]
    return float(chance * some / (chance * some + (1 - chance) * none))


@pytest.mark.parametrize("rate", [0.0, 0.003])
def test_the_chance_of_a_drift_is_that_of_adaptive_quadrature(rate: float) -> None:
    """Forty equally likely drifts stand for a normal one to three hundredths of a chance."""
    prior, counts = Normal(0.05, 0.06), [0, 0, 12, 24, 48]
    said = [read(i, 0.06 + rate * n, 0.02) for i, n in enumerate(counts, 1)]
    said[1] = word(2, 0.04, 0.10)
    found = run_of(prior, said, counts, 0.0025, 0.1)
    wanted = chance_of_a_drift(prior, said, counts, 0.0025, 0.1)
    assert found.drifts == pytest.approx(wanted, abs=0.03)


def test_without_a_drift_beforehand_the_offset_is_the_conjugate_normal() -> None:
    """A tiny chance of a drift leaves one normal offset: mean and chance in closed form."""
    prior, noise = Normal(0.02, 0.05), math.hypot(0.02, 0.01)
    found = run_of(prior, [read(1, 0.08), read(2, 0.10)], [0, 10], 0.002, 1e-12)
    precision = 1 / prior.sd**2 + 2 / noise**2
    mean = (prior.mean / prior.sd**2 + (0.08 + 0.10) / noise**2) / precision
    spread = math.hypot(math.sqrt(1 / precision), 0.03)
    wanted = 0.5 * (
        math.erf((0.1 - mean) / spread / math.sqrt(2))
        - math.erf((0.04 - mean) / spread / math.sqrt(2))
    )
    chances = found.within(0.0, (0.04, 0.1), 0.03, np.array([10.0, 500.0]))
    assert chances == pytest.approx([wanted, wanted], abs=1e-4)


def test_a_drift_is_found_with_its_sign_and_size() -> None:
    counts = [0, 0, 20, 40, 60, 80]
    for rate in (-0.003, 0.003):
        said = [read(i, 0.07 + rate * n) for i, n in enumerate(counts, 1)]
        found = run_of(Normal(0.05, 0.06), said, counts, 0.0025, 0.1)
        assert found.drifts > 0.99
        assert abs(found.drift.mean - rate) < 2 * found.drift.sd < 0.002


def test_runs_that_drift_alike_tell_together_what_none_tells_alone() -> None:
    counts = [0, 12, 24, 36]
    said = [read(i, 0.07 + 0.0012 * n) for i, n in enumerate(counts, 1)]
    one = run_of(Normal(0.07, 0.05), said, counts, 0.0025, 0.1)
    chance, drift = pooled([one] * 6, 0.1)
    assert one.drifts < 0.67 < chance
    assert abs(drift.mean - 0.0012) < 0.0006
    other = [read(i, 0.07 - 0.0012 * n) for i, n in enumerate(counts, 1)]
    against = run_of(Normal(0.07, 0.05), other, counts, 0.0025, 0.1)
    assert pooled([one, against] * 3, 0.1)[0] < 0.1


def test_pooling_one_run_changes_nothing() -> None:
    counts = [0, 12, 24]
    said = [read(i, 0.07 + 0.002 * n) for i, n in enumerate(counts, 1)]
    one = run_of(Normal(0.07, 0.05), said, counts, 0.0025, 0.1)
    chance, drift = pooled([one], 0.1)
    assert chance == pytest.approx(one.drifts)
    assert drift == pytest.approx(one.drift)


def test_what_was_seen_earlier_is_carried_on_to_now() -> None:
    creep = Creep(Normal(0.002, 0.0005), {1: 0, 2: 12, 3: 24}, 24)
    assert creep.grown(Normal(0.1, 0.03)) == pytest.approx((0.148, math.hypot(0.03, 0.012)))
    said = creep.carried([read(1, 0.05), read(3, 0.05)])
    # The offset of now explains an early reading with what has grown since taken off.
    assert [e.nominal for e in said] == pytest.approx([-0.048, 0.0])
    seat = Coupled(read(2, 0.0), None, 0.07, 0.01, None)  # type: ignore[arg-type]
    assert creep.followed([seat])[0].driver_nominal == pytest.approx(0.07 - 0.024)


def test_a_run_wants_something_said_of_it() -> None:
    with pytest.raises(ValueError, match="at least one verdict"):
        run_of(Normal(0.0, 0.1), [], [], 0.002, 0.1)
    with pytest.raises(ValueError, match="no run"):
        pooled([], 0.1)
