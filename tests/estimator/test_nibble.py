"""Cuts again on the same end: the choice against the best plan there is, and what cuts on one end
share against plain sums.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.special import ndtr
from scipy.stats import norm

from fitlog.defaults import NIBBLE, bands
from fitlog.domain import Window
from fitlog.estimator.evidence import Evidence
from fitlog.estimator.nibble import Told, next_cut, of_an_end
from fitlog.estimator.posterior import Normal, Posterior, posterior

Array = NDArray[np.float64]
GOOD = Window(0.04, 0.1)
WORDS = bands((GOOD.low, GOOD.high))
DEGREES = bands((-0.06, 0.0, *(GOOD.low, GOOD.high), 0.18, 0.3))


def told(noise: float, read_sd: float | None = None, *, upwards: bool = True) -> Told:
    """Short, good or beyond; a number goes with what is short, too."""
    words = WORDS if upwards else bands((-GOOD.high, -GOOD.low))
    return Told(words, 1, noise, read_sd, (0, 1, 2), 0.0, upwards)


@cache
def least(count: int, inside: int) -> float:
    """What the best plan there is costs where the offset is any of so many, of which a window takes
    so many. Verdicts are sharp.
    """
    return min((by_plan(count, inside, short) for short in range(count)), default=0.0)


def by_plan(count: int, inside: int, short: int) -> float:
    """The same where the first cut leaves so many of them short."""
    beyond = max(0, count - short - inside)
    further = short * least(short, inside) + beyond * (1 + least(beyond, inside))
    return NIBBLE + further / count


@pytest.mark.parametrize("count", [6, 12, 24, 48])
def test_the_plan_is_nearly_the_best_there_is(count: int) -> None:
    """Against exact dynamic programming over what verdicts leave possible: the law is a row of
    offsets, six of which a window takes.
    """
    inside, apart = 6, (GOOD.high - GOOD.low) / 6
    law = Posterior(apart * np.arange(count), np.full(count, 1 / count))
    found = next_cut(law, told(1e-4))
    short = sum(1 for x in law.grid if found.misfit + x < GOOD.low)
    best = least(count, inside)
    # What is planned by normal laws costs beside these flat ones, measured: nothing; told, 11.7 %.
    assert by_plan(count, inside, short) <= best * 1.001
    assert found.cost == pytest.approx(best, rel=0.12)


def law_of(mean: float, sd: float) -> Posterior:
    return posterior(Normal(mean, sd), [])


@pytest.mark.parametrize("upwards", [True, False])
def test_a_doubtful_end_is_cut_short_and_a_known_one_in_the_middle(upwards: bool) -> None:
    """Known to within the window, its middle; the less is known, the more of the law falls short
    of the window, but never all of it: a cut that is surely short tells nothing.
    """
    way = 1.0 if upwards else -1.0
    known = next_cut(law_of(0.0, 0.003), told(0.003, upwards=upwards))
    assert way * known.misfit == pytest.approx(GOOD.middle, abs=0.004)
    assert (known.cost, known.cuts) == pytest.approx((NIBBLE, 1), abs=0.01)
    before = known
    for sd in (0.03, 0.06, 0.12, 0.24, 0.5, 1.0):
        found = next_cut(law_of(0.0, sd), told(0.01, upwards=upwards))
        assert way * found.misfit < way * before.misfit and found.cost > before.cost
        assert found.cuts > before.cuts
        over = float(norm.sf((GOOD.high - way * found.misfit) / math.hypot(sd, 0.01)))
        assert 0.02 < over < 0.4
        before = found


def test_what_tells_more_saves_cuts() -> None:
    """Numbers more than words of several degrees, those more than short, good and beyond."""
    law = law_of(0.0, 0.12)
    plain, read = next_cut(law, told(0.02)), next_cut(law, told(0.02, 0.02))
    degrees = next_cut(law, Told(DEGREES, 3, 0.02))
    assert read.cost < degrees.cost - 0.05 < plain.cost - 0.1


def test_of_marks_one_is_chosen_and_no_mark_is_worth_more_than_all() -> None:
    free = next_cut(law_of(0.0, 0.06), told(0.02))
    marks = [0.1 * k + 0.03 for k in range(-5, 6)]
    found = next_cut(law_of(0.0, 0.06), told(0.02), made=marks)
    assert any(found.misfit == pytest.approx(mark) for mark in marks)
    assert abs(found.misfit - free.misfit) < 0.1 and found.cost >= free.cost - 1e-9
    assert next_cut(law_of(0.0, 0.06), told(0.02), now=0.44, made=marks).misfit == marks[-1]


@pytest.mark.parametrize("upwards", [True, False])
def test_the_same_end_only_goes_on(upwards: bool) -> None:
    way = 1.0 if upwards else -1.0
    law, how = law_of(0.0, 0.03), told(0.01, upwards=upwards)
    free = next_cut(law, how)
    for now in (-0.3, -0.05, 0.05, 0.2):
        found = next_cut(law, how, now=way * now)
        assert way * found.misfit > now and found.cost >= free.cost - 1e-4  # by places
        if now < -0.1:
            assert found.misfit == pytest.approx(free.misfit, abs=0.01)


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
