"""Cuts again on the same end: the choice against every plan counted out, and what cuts on one end
share against plain sums.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import chain, combinations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.special import ndtr
from scipy.stats import norm

from fitlog.defaults import NIBBLE
from fitlog.domain import Window
from fitlog.estimator.evidence import Evidence
from fitlog.estimator.nibble import next_cut, of_an_end, planned
from fitlog.estimator.posterior import Normal, Posterior, posterior

Array = NDArray[np.float64]
GOOD = Window(0.04, 0.1)
FRESH = 1 + NIBBLE


def every_plan(offsets: list[float], chances: list[float], targets: list[float]) -> list[float]:
    """For each first target the cost of the best plan, of all there are: which targets to cut at
    one after the other while the end is short. Verdicts are sharp.
    """
    out = []
    for first, start in enumerate(targets):
        later = targets[first + 1 :]
        best = math.inf
        for more in chain.from_iterable(combinations(later, n) for n in range(len(later) + 1)):
            cost = 0.0
            for offset, chance in zip(offsets, chances, strict=True):
                for target in (start, *more):
                    cost += chance * NIBBLE
                    if target + offset > GOOD.high:
                        cost += chance * FRESH
                    if target + offset >= GOOD.low:
                        break
                else:  # given up, or nothing left to set: a fresh end
                    cost += chance * FRESH
            best = min(best, cost)
        out.append(best)
    return out


@pytest.mark.parametrize("seed", range(12))
def test_the_plan_is_the_best_of_all_there_are(seed: int) -> None:
    r = random.Random(seed)
    offsets = sorted(r.uniform(-0.2, 0.2) for _ in range(r.randint(2, 7)))
    raw = [r.random() + 0.05 for _ in offsets]
    chances = [x / sum(raw) for x in raw]
    targets = sorted(r.uniform(-0.25, 0.35) for _ in range(3))
    found = planned(
        np.array(offsets), np.array(chances), np.array(targets), (GOOD.low, GOOD.high), 1e-9
    )
    assert found == pytest.approx(every_plan(offsets, chances, targets), abs=1e-9)


def law_of(mean: float, sd: float) -> Posterior:
    return posterior(Normal(mean, sd), [])


@pytest.mark.parametrize("upwards", [True, False])
def test_a_doubtful_end_is_cut_short_and_a_known_one_in_the_middle(upwards: bool) -> None:
    """Known to within the window, its middle; the less is known, the more of the law falls short
    of the window and the less goes beyond.
    """
    way, window = (1.0, GOOD) if upwards else (-1.0, Window(-GOOD.high, -GOOD.low))
    known, _ = next_cut(law_of(0.0, 0.003), window, 0.003, upwards=upwards)
    assert known == pytest.approx(window.middle, abs=0.004)
    before, cost_before = known, 0.0
    for sd in (0.03, 0.06, 0.12):
        target, cost = next_cut(law_of(0.0, sd), window, 0.01, upwards=upwards)
        assert way * target < way * before - 0.01 and cost > cost_before
        over = float(norm.sf((GOOD.high - way * target) / math.hypot(sd, 0.01)))
        assert over < 0.2, "an overshoot costs five nibbles"
        before, cost_before = target, cost
    # Where each cut can be measured, a cut well short of it costs no more nibbles than one.
    _, read = next_cut(law_of(0.0, 0.12), window, 0.01, upwards=upwards, read_sd=0.01)
    assert read < cost_before - 0.05 and read < 2.3 * NIBBLE


@pytest.mark.parametrize("upwards", [True, False])
def test_the_same_end_only_goes_on(upwards: bool) -> None:
    way, window = (1.0, GOOD) if upwards else (-1.0, Window(-GOOD.high, -GOOD.low))
    for now in (-0.3, -0.05, 0.05, 0.2):
        target, cost = next_cut(law_of(0.0, 0.03), window, 0.01, upwards=upwards, now=way * now)
        assert way * target > now
        free, least = next_cut(law_of(0.0, 0.03), window, 0.01, upwards=upwards)
        assert cost >= least - 1e-9
        if now < -0.1:
            assert target == pytest.approx(free, abs=0.01)


def said(r: random.Random, end: int, nominal: float, end_sd: float) -> Evidence:
    band = r.choice([(-math.inf, 0.0), (0.0, 0.1), (0.1, math.inf)])
    read = r.uniform(-0.05, 0.15) if r.random() < 0.4 else None
    return Evidence(
        0, nominal, ((*band, 1.0),), 0.02, read, 0.02, 0.01, 0.02, 0.2, end=end, end_sd=end_sd
    )


def likelihood(e: Evidence, misfit: Array) -> Array:
    """Of a verdict at its end's misfit, the cut's own variation summed over."""
    own = np.linspace(-6, 6, 61)
    at = misfit[..., None] + e.piece_sd * own
    ((low, high, _),) = e.bands or ((-math.inf, math.inf, 1.0),)
    like = ndtr((high - at) / e.word_noise) - ndtr((low - at) / e.word_noise)
    if e.read is not None:
        like = like * norm.pdf(e.read, at, e.read_sd)
    weight = norm.pdf(own)
    out: Array = (1 - e.slip) * (like @ weight / weight.sum()) + e.slip * e.background
    return out


@pytest.mark.parametrize(
    "seed", [*(pytest.param(seed, marks=pytest.mark.long) for seed in (0, 1)), 2]
)
def test_cuts_on_one_end_share_its_part(seed: int) -> None:
    """The offset's law, and the end's own, by sums over the offset and the part of each end."""
    r = random.Random(seed)
    end_sd, prior = r.uniform(0.02, 0.06), Normal(0.02, 0.08)
    found = [said(r, end, r.uniform(-0.1, 0.1), end_sd) for end in (1, 1, 1, 2, 3, 3)]
    law = posterior(prior, found)
    x, part = np.linspace(-0.7, 0.75, 727), np.linspace(-6, 6, 161)
    weight, share = norm.pdf(x, *prior), norm.pdf(part)
    for end in (1, 2, 3):
        at = x[:, None] + end_sd * part[None, :]
        like = np.ones_like(at)
        for e in found:
            if e.end == end:
                like = like * likelihood(e, e.nominal + at)
        weight = weight * (like @ share) / share.sum()
    weight = weight / weight.sum()
    mean = float(weight @ x)
    assert law.mean == pytest.approx(mean, abs=1e-5)
    assert law.sd == pytest.approx(math.sqrt(float(weight @ (x - mean) ** 2)), abs=1e-5)
    # Six ends would have told more than three: the dependence matters.
    apart = posterior(prior, [replace(e, end=n) for n, e in enumerate(found)])
    assert abs(apart.sd - law.sd) > 1e-4
    # The law of the third end.
    others = posterior(prior, [e for e in found if e.end != 3])
    own = of_an_end(others, end_sd, [e for e in found if e.end == 3])
    assert others.log_density is not None
    rest = np.exp(others.log_density(x) - others.log_density(x).max())
    density = np.array([rest @ norm.pdf(v, x, end_sd) for v in x])
    for e in found:
        if e.end == 3:
            density = density * likelihood(e, e.nominal + x)
    density /= density.sum()
    middle = float(density @ x)
    assert own.mean == pytest.approx(middle, abs=1e-4)
    assert own.sd == pytest.approx(math.sqrt(float(density @ (x - middle) ** 2)), abs=1e-4)
