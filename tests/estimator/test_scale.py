"""A person's words learned from readings, against statsmodels, published fits, brute force and
simulated people.

The source stands beside each check. The prior (0.05 mm an edge, 0.7 of it shared, noise within a
factor of 2): common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize
from scipy.stats import binom, multivariate_normal, norm

from fitlog.defaults import BAND_EDGES, SLIP, WORD_NOISE
from fitlog.estimator.scale import LEAST_BAND, LOG_NOISE_SD, Meeting, Scale, assumed, learn_scale
from fitlog.families.half_blind.figures import FIT_EDGES, SEAT_EDGES

Vector = np.ndarray
FIT = assumed(FIT_EDGES, WORD_NOISE, BAND_EDGES)
TWO = assumed((-0.05, 0.05), WORD_NOISE, BAND_EDGES)


def meetings_of(
    words: Sequence[int] | Vector, means: Sequence[float] | Vector, sds: Sequence[float] | Vector
) -> list[Meeting]:
    return [Meeting(int(k), float(m), float(s)) for k, m, s in zip(words, means, sds, strict=True)]


def talk(
    r: np.random.Generator,
    edges: Vector,
    noise: float,
    n: int,
    span: tuple[float, float] = (-0.15, 0.4),
) -> list[Meeting]:
    """What a person with these edges says of n pieces whose readings lie evenly over `span`."""
    mean, sd = r.uniform(*span, n), r.uniform(0.015, 0.05, n)
    word = np.searchsorted(edges, mean + sd * r.standard_normal(n) + noise * r.standard_normal(n))
    word = np.where(r.random(n) < SLIP, r.integers(0, len(edges) + 1, n), word)
    return meetings_of(word, mean, sd)


# --- maximum likelihood: flat prior, exact readings, no slips -------------------------------------


def flat(edges: Sequence[float], noise: float) -> Scale:
    """A scale about which nothing is known."""
    return Scale(tuple(edges), (1e4,) * len(edges), noise, (noise * 1e-20, noise * 1e20), 0)


@pytest.mark.parametrize("seed", range(6))
def test_flat_prior_gives_the_ordered_probit_of_statsmodels(seed: int) -> None:
    """OrderedModel(y, x) has P(y <= k) = Phi(t_k - beta x): edges t/beta, noise 1/beta."""
    ordinal = pytest.importorskip("statsmodels.miscmodels.ordinal_model")
    r = np.random.default_rng(seed)
    edges, noise = np.array(FIT_EDGES)[: 2 + seed % 5], r.uniform(0.02, 0.06)
    x = r.uniform(-0.15, 0.4, 400)
    y = np.searchsorted(edges, x + noise * r.standard_normal(400))
    model = ordinal.OrderedModel(y, x[:, None] / 0.05, distr="probit")
    theirs = model.fit(method="bfgs", disp=False, gtol=1e-8, maxiter=500)
    beta = theirs.params[0] / 0.05
    cuts = model.transform_threshold_params(theirs.params)[1:-1] / beta
    ours = learn_scale(flat(edges + 0.01, 0.03), meetings_of(y, x, np.full(400, 1e-9)), slip=0.0)
    assert ours.edges == pytest.approx(cuts, abs=1e-6)
    assert ours.noise == pytest.approx(1 / beta, abs=1e-6)
    # The sd of an edge t_k/beta from theirs, by the delta method on their numerical Hessian.
    first = np.zeros(len(theirs.params))
    first[:2] = -theirs.params[1] / theirs.params[0] ** 2 * 0.05, 0.05 / theirs.params[0]
    assert ours.edge_sds[0] == pytest.approx(
        math.sqrt(first @ theirs.cov_params() @ first), rel=1e-3
    )


def test_the_published_thresholds_of_the_wine_ratings() -> None:
    """Randall 1989; Christensen's "clm" article, Table 4: exact probit warm 1.499375, contact
    .867744.

    With x those slopes' sum, the edges are the published thresholds and the noise is 1.
    """
    counts = {
        (0, 0): (4, 9, 5, 0, 0),
        (0, 1): (1, 7, 8, 2, 0),
        (1, 0): (0, 5, 8, 3, 2),
        (1, 1): (0, 1, 5, 7, 5),
    }
    said = [
        Meeting(k, 1.499375 * w + 0.867744 * c, 0.0)
        for (w, c), row in counts.items()
        for k, n in enumerate(row)
        for _ in range(n)
    ]
    # The published latent is slope x - threshold, so that a larger x is a higher word: ours as
    # well.
    ours = learn_scale(flat((-0.5, 0.5, 1.5, 2.5), 0.5), said, slip=0.0)
    assert ours.edges == pytest.approx([-0.773263, 0.736021, 2.044680, 2.941345], abs=1e-4)
    assert ours.noise == pytest.approx(1.0, abs=1e-4)


# --- brute force: two edges and the noise, the posterior written out once more with scipy.stats ---


def log_posterior(prior: Scale, meetings: Sequence[Meeting], theta: Vector) -> Vector:
    """Log posterior at theta, shape (.., 3): two edges and the log of the noise."""
    sd = BAND_EDGES
    cov = (0.7 * sd) ** 2 * np.ones((2, 2)) + (1 - 0.7**2) * sd**2 * np.eye(2)
    out: Vector = multivariate_normal(np.array(prior.edges), cov).logpdf(theta[..., :2])
    out = out + norm.logpdf(theta[..., 2], math.log(prior.noise), LOG_NOISE_SD)
    for m in meetings:
        spread = np.hypot(m.sd, np.exp(theta[..., 2]))
        below = 1.0 if m.word == 2 else norm.cdf((theta[..., m.word] - m.mean) / spread)
        above = 0.0 if m.word == 0 else norm.cdf((theta[..., m.word - 1] - m.mean) / spread)
        out = out + np.log((1 - SLIP) * np.maximum(below - above, 0.0) + SLIP / 3)
    return out


def brute_force(prior: Scale, meetings: Sequence[Meeting]) -> tuple[Vector, Vector, Vector]:
    """The grid's points, shape (n, 3), log posterior and weights, where the edges are in order."""
    low, high = np.linspace(-0.3, 0.5, 61), np.linspace(-0.2, 0.6, 61)
    noise = math.log(prior.noise) + np.linspace(-1.6, 1.6, 17)
    points = np.stack(np.meshgrid(low, high, noise, indexing="ij"), axis=-1).reshape(-1, 3)
    points = points[points[:, 1] - points[:, 0] >= LEAST_BAND]
    logs = log_posterior(prior, meetings, points)
    weights = np.exp(logs - logs.max())
    return points, logs, weights / weights.sum()


def curvature(prior: Scale, meetings: Sequence[Meeting], at: Vector, e: float = 1e-4) -> Vector:
    """Minus the Hessian of the log posterior, by central differences."""
    steps = e * np.eye(3)
    return -np.array(
        [
            [
                log_posterior(prior, meetings, at + a + b)
                - log_posterior(prior, meetings, at + a - b)
                - log_posterior(prior, meetings, at - a + b)
                + log_posterior(prior, meetings, at - a - b)
                for b in steps
            ]
            for a in steps
        ]
    ) / (4 * e * e)


@pytest.mark.parametrize("shift", [0.0, 0.03, 0.3])
@pytest.mark.parametrize("count", [1, 4, 12, 40])
def test_mode_and_sd_against_a_grid(count: int, shift: float) -> None:
    """The highest of all modes, also for a person far off (0.3), who looks like one that slips all
    the time.
    """
    r = np.random.default_rng(count)
    said = talk(r, np.array([-0.05, 0.06]) + shift, 0.02, count, (shift - 0.15, shift + 0.15))
    points, logs, weights = brute_force(TWO, said)
    ours = learn_scale(TWO, said)
    at = np.array([*ours.edges, math.log(ours.noise)])
    peak = optimize.minimize(
        lambda t: -float(log_posterior(TWO, said, t)),
        points[logs.argmax()],
        method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-12, "maxiter": 4000},
    )
    assert at == pytest.approx(peak.x, abs=1e-5)
    sds = np.sqrt(np.diag(np.linalg.inv(curvature(TWO, said, at))))
    assert ours.edge_sds == pytest.approx(sds[:2], rel=1e-3)
    low, high = ours.noise_range
    assert math.log(high / low) / 2 == pytest.approx(norm.ppf(0.95) * sds[2], rel=1e-3)
    if (
        shift < 0.3
    ):  # the curvature at the mode stands for the whole posterior, a slip's tails left aside
        mean = weights @ points
        whole = np.sqrt(weights @ (points - mean) ** 2)
        assert np.abs(at - mean)[:2] == pytest.approx([0, 0], abs=0.35 * whole[:2].max())
        assert ours.edge_sds == pytest.approx(whole[:2], rel=0.2)


def test_edges_that_meetings_would_swap_are_held_apart() -> None:
    """Word 0 said of looser pieces than word 2: the mode lies on the bound, and nowhere on the grid
    is higher.
    """
    said = meetings_of([0] * 6 + [2] * 6, [0.06] * 6 + [-0.06] * 6, [0.02] * 12)
    ours = learn_scale(TWO, said)
    assert ours.edges[1] - ours.edges[0] == pytest.approx(LEAST_BAND, abs=1e-8)
    peak = optimize.minimize(
        lambda t: -float(log_posterior(TWO, said, np.array([t[0], t[0] + LEAST_BAND, t[1]]))),
        [0.0, -3.0],
        method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-12, "maxiter": 4000},
    )
    assert [ours.edges[0], math.log(ours.noise)] == pytest.approx(peak.x, abs=1e-5)
    assert brute_force(TWO, said)[1].max() <= -peak.fun


# --- simulated people: the prior's own draws, so that the sds must be true (Bayes) ----------------


def person(r: np.random.Generator) -> tuple[Vector, float]:
    """Edges and noise of a person drawn from the prior, in order."""
    while True:
        edges = np.array(FIT_EDGES) + BAND_EDGES * (
            0.7 * r.standard_normal() + math.sqrt(0.51) * r.standard_normal(6)
        )
        if (np.diff(edges) >= LEAST_BAND).all():
            return edges, WORD_NOISE * math.exp(LOG_NOISE_SD * r.standard_normal())


def within(hits: int, trials: int, chance: float) -> bool:
    """Tell whether so many hits are what chance gives: false alarms one in 10,000 a check
    (two-sided binomial).
    """
    return bool(binom.ppf(0.5e-4, trials, chance) <= hits <= binom.ppf(1 - 0.5e-4, trials, chance))


def test_300_people_are_known_after_60_meetings() -> None:
    r = np.random.default_rng(20)
    off, before, sure, quiet = np.zeros((300, 6)), np.zeros((300, 6)), np.zeros((300, 6), bool), 0
    for i in range(300):
        edges, noise = person(r)
        scale = learn_scale(FIT, talk(r, edges, noise, 60))
        off[i], before[i] = (
            np.abs(np.array(scale.edges) - edges),
            np.abs(np.array(FIT_EDGES) - edges),
        )
        sure[i] = off[i] < 2 * np.array(scale.edge_sds)
        quiet += scale.noise_range[0] < noise < scale.noise_range[1]
    assert [within(int(k), 300, 0.9545) for k in sure.sum(axis=0)] == [True] * 6
    assert within(quiet, 300, 0.9)
    assert (off.mean(axis=0) < 0.5 * before.mean(axis=0)).all()


# --- what never meets a reading, and what must not matter -----------------------------------------


def test_edges_that_no_reading_meets_stay_as_assumed() -> None:
    """Tight joints are never read: their edges may move together, as the Gaussian conditional law
    has it, and no more.
    """
    said = talk(np.random.default_rng(5), np.array(FIT_EDGES) + 0.02, WORD_NOISE, 400)
    scale = learn_scale(FIT, [m for m in said if m.word >= 3], read=(3, 6))
    moved = np.array(scale.edges) - FIT_EDGES
    cov = BAND_EDGES**2 * (0.49 * np.ones((6, 6)) + 0.51 * np.eye(6))
    gain = cov[:3, 3:] @ np.linalg.inv(cov[3:, 3:])
    assert moved[:3] == pytest.approx(gain @ moved[3:], abs=1e-6)
    assert np.ptp(moved[:3]) < 1e-9
    known = np.sqrt(
        BAND_EDGES**2 - np.diag(gain @ cov[3:, :3])
    )  # were the other three edges exactly known
    assert (known < scale.edge_sds[:3]).all() and max(scale.edge_sds[:3]) < BAND_EDGES
    assert scale.edge_sds[4] < 0.2 * BAND_EDGES


def test_the_first_word_that_is_read_does_not_drag_its_edge() -> None:
    """300 people who never read a tight joint; without saying so, the edge below `good` comes out
    far too tight.
    """
    r = np.random.default_rng(21)
    off, naive, sds = np.zeros((300, 6)), np.zeros((300, 6)), np.zeros((300, 6))
    for i in range(300):
        edges, noise = person(r)
        said = [m for m in talk(r, edges, noise, 60) if m.word >= 3]
        scale = learn_scale(FIT, said, read=(3, 6))
        off[i], sds[i] = np.array(scale.edges) - edges, scale.edge_sds
        naive[i] = np.array(learn_scale(FIT, said).edges) - edges
    assert [within(int(k), 300, 0.9545) for k in (np.abs(off) < 2 * sds).sum(axis=0)] == [True] * 6
    assert abs(off[:, 2].mean()) < 0.5 * abs(naive[:, 2].mean())


def test_without_meetings_the_scale_is_the_assumed_one() -> None:
    assert learn_scale(FIT, []) is FIT
    assert (FIT.edges, FIT.edge_sds, FIT.noise, FIT.met) == (
        FIT_EDGES,
        (BAND_EDGES,) * 6,
        WORD_NOISE,
        0,
    )
    assert norm.cdf(np.log(np.array(FIT.noise_range) / WORD_NOISE) / LOG_NOISE_SD) == pytest.approx(
        [0.05, 0.95]
    )


def test_one_slip_among_sixty_changes_next_to_nothing() -> None:
    said = talk(np.random.default_rng(8), np.array(FIT_EDGES), WORD_NOISE, 60)
    plain, slipped = learn_scale(FIT, said), learn_scale(FIT, [*said, Meeting(0, 0.4, 0.02)])
    assert np.abs(np.array(plain.edges) - slipped.edges).max() < 0.05 * min(plain.edge_sds)
    assert slipped.met == 61


def test_a_mirrored_person_has_mirrored_edges() -> None:
    said = talk(np.random.default_rng(9), np.array(FIT_EDGES), WORD_NOISE, 60)
    ours = learn_scale(FIT, said)
    mirror = learn_scale(
        assumed([-e for e in FIT_EDGES[::-1]], WORD_NOISE, BAND_EDGES),
        [Meeting(6 - m.word, -m.mean, m.sd) for m in said],
    )
    assert [-e for e in mirror.edges[::-1]] == pytest.approx(ours.edges, abs=1e-7)
    assert mirror.edge_sds[::-1] == pytest.approx(ours.edge_sds, rel=1e-5)


MEETINGS = st.lists(
    st.builds(
        Meeting,
        st.integers(0, 6),
        st.one_of(st.floats(-1, 1), st.floats(allow_nan=False, allow_infinity=False)),
        st.one_of(st.floats(0, 0.1), st.floats(0, allow_infinity=False)),
    ),
    max_size=30,
)


@settings(deadline=None, max_examples=150)
@given(
    st.sampled_from(
        [FIT, assumed(SEAT_EDGES, 0.2, 0.3), assumed((0, 1e-4, 2e-4, 3e-4, 1, 2), 1e-3, 1.0)]
    ),
    MEETINGS,
    st.integers(1, 20),
    st.sampled_from([SLIP, 0.0, 0.5]),
    st.sampled_from([None, (3, 6), (0, 2)]),
    st.randoms(use_true_random=False),
)
def test_any_meetings_give_a_scale_and_their_order_does_not_matter(
    prior: Scale,
    said: list[Meeting],
    times: int,
    slip: float,
    read: tuple[int, int] | None,
    random: object,
) -> None:
    """Contradictory, repeated, one-sided, far off: edges finite and in order, sds and noise
    positive.
    """
    said = said * times
    scale = learn_scale(prior, said, slip, read)
    assert np.isfinite([*scale.edges, *scale.edge_sds, *scale.noise_range]).all()
    assert not said or (np.diff(scale.edges) >= LEAST_BAND).all()
    assert min(scale.edge_sds) > 0 and 0 < scale.noise_range[0] < scale.noise < scale.noise_range[1]
    random.shuffle(said)  # type: ignore[attr-defined]
    assert learn_scale(prior, said, slip, read) == scale


@pytest.mark.parametrize(
    "bad", [Meeting(7, 0, 0.1), Meeting(-1, 0, 0.1), Meeting(3, math.nan, 0.1), Meeting(3, 0, -0.1)]
)
def test_what_is_no_meeting_is_refused(bad: Meeting) -> None:
    with pytest.raises(ValueError, match="meeting"):
        learn_scale(FIT, [Meeting(3, 0.05, 0.02), bad])


@pytest.mark.parametrize(
    "edges, noise, sd",
    [((0.1, 0.1), 0.02, 0.05), ((), 0.02, 0.05), ((0.0,), 0.0, 0.05), ((0.0,), 1, 0)],
)
def test_what_is_no_scale_is_refused(edges: tuple[float, ...], noise: float, sd: float) -> None:
    with pytest.raises(ValueError, match="edges"):
        assumed(edges, noise, sd)
