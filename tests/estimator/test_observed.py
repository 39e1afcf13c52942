"""An aspect that shows its driver's misfit by any broken line, against plain sums over grids ten
times as fine as ours, from the model's statement.

Model: misfit = nominal + offset - taken(c), c = driver nominal + the driver's offset + N(0,
driver_sd^2), of which the driver's own verdict on the same piece also speaks; the driver does not
listen to what hangs on it.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import integrate
from scipy.special import ndtr
from scipy.stats import norm

from fitlog.estimator.coupled import coupled_posterior
from fitlog.estimator.evidence import Coupled, Evidence, Rooted
from fitlog.estimator.observed import PiecewiseLinear
from fitlog.estimator.posterior import Normal, posterior
from fitlog.families.half_blind.seating import RoundEnd

Array = NDArray[np.float64]
WORDS = list(pairwise((-math.inf, -0.3, -0.1, 0.1, 0.3, math.inf)))
# What is taken, by our class and by its statement.
SHAPES: dict[str, tuple[PiecewiseLinear, Callable[[Array], Array]]] = {
    "itself": (PiecewiseLinear.straight(1.0), lambda c: c),
    "divided": (PiecewiseLinear.straight(1 / 0.4987), lambda c: c / 0.4987),
    "through a shoulder": (
        PiecewiseLinear.beyond(0.4987),
        lambda c: 0.4987 * np.maximum(0.0, c),
    ),
    "the other way": (PiecewiseLinear.beyond(-2.0, 0.05), lambda c: -2 * np.maximum(0.0, c - 0.05)),
    "a corner": (
        PiecewiseLinear(((-0.1, 0.1), (0.1, -0.1)), -1.0, 2.0),
        lambda c: np.where(c < 0.1, -c, 2 * c - 0.3),
    ),
}


@pytest.mark.parametrize("name", SHAPES)
def test_a_broken_line_is_what_it_says(name: str) -> None:
    line, plain = SHAPES[name]
    c = np.linspace(-1, 1, 401)
    assert line.taken(c) == pytest.approx(plain(c), abs=1e-12)
    for at in (-0.523, -0.02, 0.033, 0.47):
        steep = (plain(np.array(at + 1e-6)) - plain(np.array(at - 1e-6))) / 2e-6
        assert line.steepness(at) == pytest.approx(float(steep), abs=1e-6)
    assert isinstance(RoundEnd(6.0), Rooted) and not isinstance(line, Rooted)


def verdict(r: random.Random, at: float, misfit: float, sd: float) -> Evidence:
    """A word, sometimes with a reading, of a piece."""
    said = misfit + r.gauss(0, 0.025)
    low, high = next(w for w in WORDS if w[0] <= said < w[1])
    read = misfit + r.gauss(0, 0.03) if r.random() < 0.4 else None
    background = 0.2 if read is None else 0.1
    return Evidence(0, at, ((low, high, 1.0),), 0.025, read, 0.03, sd, 0.02, background)


def plain_likelihood(e: Evidence, misfit: Array) -> Array:
    """Chance of one verdict at the piece's own misfit."""
    ((low, high, _),) = e.bands or ((-math.inf, math.inf, 1.0),)
    like = ndtr((high - misfit) / e.word_noise) - ndtr((low - misfit) / e.word_noise)
    if e.read is not None:
        like = like * norm.pdf(e.read, misfit, e.read_sd)
    out: Array = (1 - e.slip) * like + e.slip * e.background
    return out


def drawn(seed: int, line: PiecewiseLinear) -> tuple[Normal, Normal, list[Evidence], list[Coupled]]:
    r = random.Random(seed)
    sd = r.uniform(0.01, 0.06)
    prior_driver, prior = Normal(r.uniform(-0.1, 0.1), r.uniform(0.05, 0.15)), Normal(0.0, 0.15)
    off, own = r.gauss(prior_driver.mean, prior_driver.sd), r.gauss(0.0, 0.15)
    drivers, pieces = [], []
    for _ in range(r.randint(1, 3)):
        nominal, at = r.uniform(-0.2, 0.2), r.uniform(-0.2, 0.2)
        c = nominal + off + r.gauss(0, sd)
        said = verdict(r, nominal, c, sd) if r.random() < 0.7 else None
        drivers += [said] if said else []
        misfit = at + own - float(line.taken(np.array(c)))
        pieces.append(Coupled(verdict(r, at, misfit, 0.0), line, nominal, sd, said))
    return prior_driver, prior, drivers, pieces


def by_grids(
    prior_driver: Normal,
    prior: Normal,
    drivers: list[Evidence],
    pieces: list[Coupled],
    taken: Callable[[Array], Array],
    count: int,
) -> tuple[float, float]:
    """Mean and sd of the offset, by sums over it, the driver's offset and each piece's c."""
    f = prior_driver.mean + prior_driver.sd * np.linspace(-7, 7, count)
    s = prior.sd * np.linspace(-7, 7, count)
    away = np.linspace(-6.5, 6.5, 261)
    logs = (norm.logpdf(f, *prior_driver))[:, None] + norm.logpdf(s, *prior)[None, :]
    for e in drivers:  # the driver's own posterior
        own = norm.pdf(away) / norm.pdf(away).sum()
        like = (
            plain_likelihood(
                Evidence(0, 0, e.bands, e.word_noise, e.read, e.read_sd, 0, 0.0, 0.0),
                e.nominal + f[:, None] + e.piece_sd * away[None, :],
            )
            @ own
        )
        logs = logs + np.log((1 - e.slip) * like + e.slip * e.background)[:, None]
    for piece in pieces:
        c = piece.driver_nominal + f[:, None] + piece.driver_sd * away[None, :]
        weight = np.broadcast_to(norm.pdf(away)[None, :], c.shape)
        if piece.driver is not None:
            weight = weight * plain_likelihood(piece.driver, c)
        weight = weight / weight.sum(axis=1, keepdims=True)
        # What was said depends on offset less depth alone: looked up on a line of fine steps.
        depth = taken(c)
        line = np.arange(s[0] - depth.max() - 0.01, s[-1] - depth.min() + 0.01, 5e-4)
        table = plain_likelihood(piece.evidence, piece.evidence.nominal + line)
        like = np.empty((len(f), len(s)))
        for i in range(len(f)):
            at = s[None, :] - depth[i][:, None]
            like[i] = weight[i] @ np.interp(at, line, table)
        logs = logs + np.log(like)
    weight = np.exp(logs - logs.max()).sum(axis=0)
    weight /= weight.sum()
    mean = float(weight @ s)
    return mean, math.sqrt(float(weight @ (s - mean) ** 2))


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize(
    "seed", [2, *(pytest.param(seed, marks=pytest.mark.long) for seed in (1, 3))]
)
def test_the_posterior_over_a_driver_of_any_shape(name: str, seed: int) -> None:
    line, taken = SHAPES[name]
    prior_driver, prior, drivers, pieces = drawn(seed, line)
    law = coupled_posterior(prior, posterior(prior_driver, drivers), pieces).marginal
    mean, sd = by_grids(prior_driver, prior, drivers, pieces, taken, 241)
    assert law.mean == pytest.approx(mean, abs=2e-5)
    assert law.sd == pytest.approx(sd, abs=2e-5)


def test_the_oracle_itself_is_fine_enough() -> None:
    line, taken = SHAPES["a corner"]
    case = drawn(2, line)
    rough, fine = (by_grids(*case, taken, count) for count in (241, 401))
    assert rough == pytest.approx(fine, abs=5e-6)


@pytest.mark.parametrize("name", SHAPES)
def test_the_law_of_a_piece_to_come_against_adaptive_quadrature(name: str) -> None:
    """Mean and variance of offset - taken(c), from their definition, and given a good driver."""
    line, taken = SHAPES[name]
    prior_driver, prior, sd, nominal = Normal(0.03, 0.08), Normal(0.05, 0.12), 0.03, 0.04
    found = coupled_posterior(prior, posterior(prior_driver, []), [])
    wide, middle = math.hypot(prior_driver.sd, sd), nominal + prior_driver.mean

    def good(c: Array) -> Array:
        out: Array = np.exp(-0.5 * ((c - 0.05) / 0.1) ** 2)
        return out

    for given in (None, good):
        law = found.taken(nominal, line, sd, given)

        def density(c: float, power: int, given: Callable[[Array], Array] | None = given) -> float:
            at = np.array(c)
            chance = 1.0 if given is None else float(given(at))
            return chance * float(norm.pdf(c, middle, wide)) * float(taken(at)) ** power

        ends = (middle - 8 * wide, middle + 8 * wide)
        total, first, second = (
            integrate.quad(density, *ends, args=(p,), points=[-0.1, 0.0, 0.05, 0.1], limit=200)[0]
            for p in range(3)
        )
        mean, square = first / total, second / total
        assert law.mean == pytest.approx(0.05 - mean, abs=1e-5)
        assert law.sd == pytest.approx(math.sqrt(0.12**2 + square - mean**2), abs=2e-4)
