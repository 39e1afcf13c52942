"""The likelihood and the posterior of words against published probit fits, statsmodels and closed
forms.

Sources beside each check. Our own model has a known slope; where a published fit has an unknown
one, the test searches over it and takes every likelihood from `band_chance` or `Verdicts`.
"""

from __future__ import annotations

import csv
import math
import random
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
import pytest
from scipy import integrate, optimize
from scipy.stats import norm

from fitlog.defaults import bands
from fitlog.domain import Window
from fitlog.estimator.choice import best_target
from fitlog.estimator.evidence import Evidence
from fitlog.estimator.likelihood import Verdicts, band_chance, log_likelihood
from fitlog.estimator.posterior import Normal, Posterior, from_log_density, posterior

INF = math.inf


def word(
    nominal: float,
    low: float,
    high: float,
    noise: float,
    *,
    slip: float = 0.0,
    background: float = 0.0,
) -> Evidence:
    """A word whose band is (low, high), of a piece cut at `nominal`."""
    return Evidence(1, nominal, ((low, high, 1.0),), noise, None, 0.0, 0.0, slip, background)


def yes_no(x: Sequence[float], y: Sequence[int], noise: float) -> list[Evidence]:
    """Trials with P(y = 1) = Phi((x - mu) / noise), as words on x + offset, offset = -mu."""
    return [
        word(a, 0.0, INF, noise) if b else word(a, -INF, 0.0, noise)
        for a, b in zip(x, y, strict=True)
    ]


def log_like(x: Sequence[float], y: Sequence[int], mu: float, sigma: float) -> float:
    """Log-likelihood of yes/no trials, through `band_chance`."""
    at, hit = np.array(x), np.array(y, dtype=bool)
    low, high = np.where(hit, mu, -INF), np.where(hit, INF, mu)
    return float(np.log(band_chance(low, high, at, sigma)).sum())


def fit(
    x: Sequence[float], y: Sequence[int], start: tuple[float, float]
) -> tuple[float, float, float]:
    """Maximum-likelihood mu, sigma and the log-likelihood there."""

    def cost(p: np.ndarray) -> float:
        return -log_like(x, y, p[0], math.exp(p[1]))

    found = optimize.minimize(
        cost,
        [start[0], math.log(start[1])],
        method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-13, "maxiter": 2000},
    )
    return float(found.x[0]), math.exp(found.x[1]), -float(found.fun)


def curvature(f: Callable[[np.ndarray], float], at: np.ndarray, e: float = 1e-3) -> np.ndarray:
    """Hessian by central differences."""
    n = len(at)
    out = np.zeros((n, n))
    for i in range(n):
        for j in range(n):
            a, b = np.eye(n)[i] * e, np.eye(n)[j] * e
            out[i, j] = (f(at + a + b) - f(at + a - b) - f(at - a + b) + f(at - a - b)) / (
                4 * e * e
            )
    return out


# --- A1: B. T. Neyer, "A D-Optimality-Based Sensitivity Test", Technometrics 36(1), 1994, Table 1 -

NEYER_X = [
    1.00,
    1.20,
    1.40,
    1.80,
    2.60,
    4.20,
    3.40,
    3.80,
    4.00,
    4.10,
    4.28,
    4.52,
    5.55,
    5.24,
    6.37,
    6.08,
    7.38,
    7.09,
    6.89,
    6.74,
]
NEYER_Y = [0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 0, 1, 0, 1, 1, 1, 1]


def test_neyer_final_fit() -> None:
    mu, sigma, top = fit(NEYER_X, NEYER_Y, (5.0, 1.0))
    assert (mu, sigma) == pytest.approx((5.39, 1.04), abs=0.005)  # as published
    assert (mu, sigma, top) == pytest.approx(
        (5.392185, 1.041225, -5.739762), abs=2e-6
    )  # to more digits


def test_neyer_standard_errors() -> None:
    mu, sigma, _ = fit(NEYER_X, NEYER_Y, (5.0, 1.0))
    observed = -curvature(lambda p: log_like(NEYER_X, NEYER_Y, p[0], p[1]), np.array([mu, sigma]))
    assert np.sqrt(np.diag(np.linalg.inv(observed))) == pytest.approx(
        [0.439344, 0.408129], abs=2e-5
    )
    expected = np.zeros((2, 2))
    for x in NEYER_X:  # information of one trial: (dp)(dp)' / (p (1 - p))
        p, e = float(band_chance(mu, INF, np.array(x), sigma)), 1e-6
        slope = np.array(
            [
                float(
                    band_chance(mu + e, INF, np.array(x), sigma)
                    - band_chance(mu - e, INF, np.array(x), sigma)
                ),
                float(
                    band_chance(mu, INF, np.array(x), sigma + e)
                    - band_chance(mu, INF, np.array(x), sigma - e)
                ),
            ]
        ) / (2 * e)
        expected += np.outer(slope, slope) / (p * (1 - p))
    assert np.sqrt(np.diag(np.linalg.inv(expected))) == pytest.approx(
        [0.438711, 0.398003], abs=2e-5
    )


@pytest.mark.parametrize(
    ("before", "published"),
    [
        (15, (5.22, 0.96)),
        (16, (5.10, 0.83)),
        (17, (5.70, 1.39)),
        (18, (5.58, 1.25)),
        (19, (5.50, 1.16)),
        (20, (5.44, 1.09)),
    ],
)
def test_neyer_running_estimates(before: int, published: tuple[float, float]) -> None:
    mu, sigma, _ = fit(NEYER_X[: before - 1], NEYER_Y[: before - 1], (5.0, 1.0))
    assert (mu, sigma) == pytest.approx(published, abs=0.0051)


# --- A2: M. Hamada et al., Quality Engineering, 2019, Table 1, x = log10 height -------------------

HAMADA_H = [
    25.4,
    28.5,
    25.4,
    28.5,
    32.0,
    35.9,
    32.0,
    35.9,
    40.3,
    35.9,
    32.0,
    28.5,
    32.0,
    28.5,
    32.0,
    28.5,
    32.0,
    35.9,
    40.3,
    35.9,
    32.0,
    35.9,
    40.3,
    35.9,
    40.3,
]
HAMADA_Y = [0, 1, 0, 0, 0, 1, 0, 0, 1, 1, 1, 0, 1, 0, 1, 0, 0, 0, 1, 1, 0, 0, 1, 0, 1]
HAMADA_X = [math.log10(h) for h in HAMADA_H]


def test_hamada_fit() -> None:
    assert fit(HAMADA_X, HAMADA_Y, (1.5, 0.1))[:2] == pytest.approx((1.531691, 0.073732), abs=2e-6)


def test_hamada_posterior() -> None:
    # priors mu ~ N(1.5, 0.4^2), ln sigma ~ N(-2.8, 1); published from 10,000 draws: median 1.535,
    # 95 % 1.475-1.649
    mu = np.linspace(0.5, 2.5, 2001)
    density = np.zeros_like(mu)
    for log_sigma in np.linspace(-2.8 - 5, -2.8 + 5, 101):
        verdicts = Verdicts(yes_no(HAMADA_X, HAMADA_Y, math.exp(log_sigma)))
        density += np.exp(
            log_likelihood(verdicts, -mu)
            - 0.5 * ((mu - 1.5) / 0.4) ** 2
            - 0.5 * (log_sigma + 2.8) ** 2
        )
    law = Posterior(mu, density / density.sum())
    found = (law.quantile(0.5), *law.interval(0.95))
    assert found == pytest.approx((1.535, 1.475, 1.649), abs=0.015)
    assert found == pytest.approx((1.5346, 1.4709, 1.6361), abs=5e-4)  # the same by an exact grid


# --- A3: C. F. J. Wu, Y. Tian, J. Stat. Plan. Inference 149, 2014, Table 1 ------------------------


def test_wu_tian_after_nine() -> None:
    x = [5.5, 16.5, 11, 13.8, 10.1, 14.7, 10.4, 11.7, 9.7]
    y = [0, 1, 0, 1, 0, 1, 1, 1, 1]
    assert fit(x, y, (10.0, 2.0))[:2] == pytest.approx((9.9726, 2.0705), abs=6e-5)


# --- A4: Silvapulle 1981: without overlap there is no unique maximum-likelihood fit; a posterior st

NO_OVERLAP = ([1.0, 2.0, 3.0, 4.0, 5.0, 6.0], [0, 0, 0, 1, 1, 1])


def test_without_overlap_the_likelihood_runs_away() -> None:
    x, y = NO_OVERLAP
    tops = [log_like(x, y, 3.5, sigma) for sigma in (1.0, 0.3, 0.1, 0.03)]
    assert tops == sorted(tops)
    assert tops[-1] == pytest.approx(
        0.0, abs=1e-12
    )  # a perfect fit at sigma -> 0, for any mu between 3 and 4


@pytest.mark.parametrize("y", [NO_OVERLAP[1], [0] * 6, [1] * 6])
@pytest.mark.parametrize("noise", [0.7, 0.05])
def test_without_overlap_the_posterior_answers(y: list[int], noise: float) -> None:
    law = posterior(Normal(-3.2, 1.5), yes_no(NO_OVERLAP[0], y, noise))

    def density(offset: float) -> float:
        signs = np.where(np.array(y) == 1, 1.0, -1.0)
        return float(
            norm.pdf(offset, -3.2, 1.5)
            * norm.cdf(signs * (np.array(NO_OVERLAP[0]) + offset) / noise).prod()
        )

    breaks = [-x for x in NO_OVERLAP[0]]
    whole, first, second = (
        integrate.quad(
            lambda b, k=k: b**k * density(b), -16, 9, points=breaks, limit=400, epsabs=1e-13
        )[0]
        for k in range(3)
    )
    mean = first / whole
    assert law.mean == pytest.approx(mean, abs=1e-6)
    assert law.sd == pytest.approx(math.sqrt(second / whole - mean**2), abs=1e-6)


def test_without_overlap_even_a_flat_prior_answers() -> None:
    law = posterior(Normal(0.0, INF), yes_no(*NO_OVERLAP, 0.2))
    assert law.mean == pytest.approx(-3.5, abs=1e-9)  # by symmetry
    # a plateau of width 1 with two blurred ends: variance 1/12 + noise^2 up to the ends' overlap of
    # Phi(-2.5)
    assert law.sd == pytest.approx(math.sqrt(1 / 12 + 0.2**2), rel=5e-3)


# --- B1, B2: ordered probit with covariates -------------------------------------------------------


def ordered_fit(
    x: np.ndarray, y: np.ndarray, weight: np.ndarray, words: int
) -> tuple[np.ndarray, np.ndarray, float]:
    """Coefficients, thresholds and log-likelihood of an ordered probit, with every chance from
    `band_chance`.
    """

    def edges(p: np.ndarray) -> np.ndarray:
        return np.concatenate(
            [[-INF], p[0] + np.concatenate([[0], np.cumsum(np.exp(p[1:]))]), [INF]]
        )

    def cost(p: np.ndarray) -> float:
        cuts = edges(p[x.shape[1] :])
        chance = band_chance(cuts[y], cuts[y + 1], x @ p[: x.shape[1]], 1.0)
        return -float(weight @ np.log(chance)) / weight.sum()

    start = np.concatenate([np.zeros(x.shape[1]), [0.0], np.zeros(words - 2)])
    found = optimize.minimize(cost, start, method="BFGS", options={"gtol": 1e-7})
    assert np.abs(found.jac).max() < 1e-6
    return (
        found.x[: x.shape[1]],
        edges(found.x[x.shape[1] :])[1:-1],
        -float(found.fun * weight.sum()),
    )


def test_apply_data() -> None:
    # The "apply" data ship with statsmodels; R's MASS::polr, probit, as quoted in its tests: pared
    # .59811, public .01016, gpa .35815; thresholds 1.2968, 2.5028.
    results = pytest.importorskip("statsmodels.miscmodels.tests.results")
    ordinal = pytest.importorskip("statsmodels.miscmodels.ordinal_model")
    path = Path(results.__path__[0]) / "ologit_ucla.csv"
    if not path.exists():
        pytest.skip("this build of statsmodels carries no test data")
    with path.open() as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 400
    classes = ["unlikely", "somewhat likely", "very likely"]
    y = np.array([classes.index(r["apply"]) for r in rows])
    x = np.array([[float(r[name]) for name in ("pared", "public", "gpa")] for r in rows])
    slopes, cuts, top = ordered_fit(x, y, np.ones(400), 3)
    assert slopes == pytest.approx([0.59811, 0.01016, 0.35815], abs=2e-5)
    assert cuts == pytest.approx([1.2968, 2.5028], abs=1e-4)
    theirs = ordinal.OrderedModel(y, x, distr="probit").fit(method="bfgs", disp=False)
    assert slopes == pytest.approx(theirs.params[:3], abs=1e-4)
    assert top == pytest.approx(theirs.llf, abs=1e-6)


def test_wine_data() -> None:
    # Randall 1989; Christensen, "clm" article, Table 4: counts of ratings 1-5; exact probit as in
    # references.
    counts = {
        (0, 0): (4, 9, 5, 0, 0),
        (0, 1): (1, 7, 8, 2, 0),
        (1, 0): (0, 5, 8, 3, 2),
        (1, 1): (0, 1, 5, 7, 5),
    }
    x = np.array([key for key in counts for _ in range(5)], dtype=float)
    y = np.tile(np.arange(5), 4)
    slopes, cuts, top = ordered_fit(
        x, y, np.concatenate([np.array(c, float) for c in counts.values()]), 5
    )
    assert slopes == pytest.approx([1.499375, 0.867744], abs=1e-5)
    assert cuts == pytest.approx([-0.773263, 0.736021, 2.044680, 2.941345], abs=1e-5)
    assert top == pytest.approx(-85.7611, abs=5e-5)


# --- B3: OrderedModel with an offset is our known-slope model with free thresholds ----------------


@pytest.mark.parametrize("seed", range(8))
def test_known_slope_model_against_statsmodels(seed: int) -> None:
    """Its thresholds times the noise are band edges less offset; given those edges, our mode is
    that offset.

    From words alone only these sums are identifiable: any other split gives the same likelihood.
    """
    ordinal = pytest.importorskip("statsmodels.miscmodels.ordinal_model")
    r = np.random.default_rng(seed)
    noise, offset, edges = (
        r.uniform(0.03, 0.08),
        r.uniform(-0.1, 0.1),
        np.array([-0.06, 0.0, 0.05, 0.11])[: 1 + seed % 4],
    )
    x = r.uniform(-0.2, 0.25, 400)
    y = np.searchsorted(edges, x + offset + noise * r.standard_normal(400))
    model = ordinal.OrderedModel(y, None, offset=x / noise, distr="probit")
    theirs = model.fit(method="bfgs", disp=False, gtol=1e-9, maxiter=500)
    cuts = model.transform_threshold_params(theirs.params)[1:-1] * noise
    assert cuts == pytest.approx(
        edges - offset, abs=0.03
    )  # seeded draws: the truth within sampling error
    split = 0.37  # any split of the sums into edges and offset
    words = bands(tuple(cuts + split))
    law = posterior(
        Normal(0.0, INF),
        [
            Evidence(i, a, words[b], noise, None, 0.0, 0.0, 0.0, 0.0)
            for i, (a, b) in enumerate(zip(x, y, strict=True))
        ],
    )
    density = law.log_density
    assert density is not None
    mode = optimize.minimize_scalar(
        lambda b: -float(density(np.array([b]))[0]),
        bounds=(law.grid[0], law.grid[-1]),
        method="bounded",
        options={"xatol": 1e-10},
    ).x
    assert mode == pytest.approx(split, abs=1e-5)
    assert float(density(np.array([split]))[0]) == pytest.approx(theirs.llf, abs=1e-6)


# --- B4: one verdict on a normal prior, closed forms ----------------------------------------------


@pytest.mark.parametrize(
    ("band", "evidence", "mean", "sd"),
    [
        ((0.10, INF), 0.4023635327, -0.3804054475, 0.2291182277),
        ((-INF, -0.08), 0.4216057530, 0.3670600444, 0.2323479246),
        ((-0.08, 0.10), 0.1760307143, -0.0096196093, 0.0780143589),
    ],
)
def test_one_verdict_printed(
    band: tuple[float, float], evidence: float, mean: float, sd: float
) -> None:
    # closed form: prior N(0, .16), noise .06, edges -.08 and .10, setting 0; there the verdict is
    # on x - offset
    prior = Normal(0.0, 0.4)
    law = posterior(prior, [word(0.0, *band, 0.06)])
    assert math.exp(law.log_evidence) == pytest.approx(evidence, abs=1e-9)
    assert law.mean == pytest.approx(-mean, abs=1e-8)
    assert law.sd == pytest.approx(sd, abs=1e-8)


@pytest.mark.parametrize("seed", range(40))
def test_one_verdict_closed_form(seed: int) -> None:
    """Derivatives of the evidence E = Phi(zb) - Phi(za): mean = m + v E'/E, variance = v + v^2
    (E''/E - (E'/E)^2).
    """
    r = random.Random(seed)
    m, sd, noise, piece = (
        r.uniform(-0.2, 0.2),
        r.uniform(0.05, 0.4),
        r.uniform(0.02, 0.1),
        r.choice([0.0, 0.02]),
    )
    x, low = r.uniform(-0.3, 0.3), r.uniform(-0.2, 0.1)
    a, b = r.choice([(low, INF), (-INF, low), (low, low + r.uniform(0.04, 0.2))])
    v = sd**2
    root = math.sqrt(v + noise**2 + piece**2)
    za, zb = (a - x - m) / root, (b - x - m) / root
    whole = norm.cdf(zb) - norm.cdf(za)
    first = (norm.pdf(za) - norm.pdf(zb)) / root
    second = (
        sum(s * (z * norm.pdf(z) if math.isfinite(z) else 0.0) for s, z in ((1, za), (-1, zb)))
        / root**2
    )
    prior = Normal(m, sd)
    law = posterior(prior, [Evidence(1, x, ((a, b, 1.0),), noise, None, 0.0, piece, 0.0, 0.0)])
    assert math.exp(law.log_evidence) == pytest.approx(whole, abs=1e-9)
    assert law.mean == pytest.approx(m + v * first / whole, abs=1e-8)
    assert law.sd == pytest.approx(
        math.sqrt(v + v**2 * (second / whole - (first / whole) ** 2)), abs=1e-8
    )


# --- Horstein 1963; Waeber, Frazier, Henderson 2013: halving with wrong answers -------------------


def test_a_law_cut_off_at_its_ends_has_the_right_quantiles() -> None:
    """A uniform law on [0, 1]: the chance below x is x, and so is the quantile."""
    law = from_log_density(np.linspace(0.0, 1.0, 11), np.zeros(11))
    for x in (0.05, 0.1, 0.3, 0.5, 0.95):
        assert float(law.cdf(np.array([x]))[0]) == pytest.approx(x, abs=1e-12)
        assert law.quantile(x) == pytest.approx(x, abs=1e-12)


def test_halving_with_wrong_answers() -> None:
    """Uniform prior on [0, 1], right with chance 3/4, answers + - + + -: queries 1/2 2/3 5/9 17/27
    19/27, then 157/243.

    An answer is a word with next to no noise that is a slip half the time, of which half come out
    right; "+" means the target lies above the query. The queries come from our rule that puts the
    window on the median. The grid's points lie on every query, where a step is met half way, so
    that the trapezoidal rule stays exact.
    """
    grid = np.linspace(0.0, 1.0, 54 * 20 + 1)
    evidence: list[Evidence] = []
    queries = []
    for answer in ("+", "-", "+", "+", "-", None):
        law = from_log_density(grid, log_likelihood(Verdicts(evidence), grid))
        queries.append(-best_target(law, Window(-1e-6, 1e-6), noise=0.0, beyond=0.0))
        band = (0.0, INF) if answer == "+" else (-INF, 0.0)
        evidence.append(word(-queries[-1], *band, 1e-5, slip=0.5, background=0.5))
    assert queries == pytest.approx([1 / 2, 2 / 3, 5 / 9, 17 / 27, 19 / 27, 157 / 243], abs=1e-6)
