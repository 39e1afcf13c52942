"""The grids against adaptive quadrature, from the model's statement and scipy.stats, not from our
code.

Model: a piece's own misfit is nominal + offset + N(0, piece_sd^2); a word says that misfit + N(0,
word_noise^2) fell in its band; a reading is misfit + N(0, read_sd^2); with chance `slip` the
verdict has likelihood `background` instead. The seat: misfit = nominal + offset - sqrt(round_end
max(0, c)), with c = driver nominal + the fit's offset + N(0, driver_sd^2), of which the fit's
verdict on the same piece also speaks.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest
from scipy import integrate
from scipy.special import ndtr
from scipy.stats import multivariate_normal, norm

from fitlog import defaults
from fitlog.estimator.coupled import coupled_posterior
from fitlog.estimator.evidence import Coupled, Evidence, Term, TermReading
from fitlog.estimator.history import Lessons, learnt, suspect
from fitlog.estimator.posterior import Normal, posterior
from fitlog.families.half_blind import figures
from fitlog.families.half_blind.seating import RoundEnd

FIT_WORDS = defaults.bands(figures.FIT_EDGES)
SEAT_WORDS = defaults.bands(figures.SEAT_EDGES)
CENTRE_WORDS = figures.centre_bands()


# --- one offset -----------------------------------------------------------------------------------


def bell(x: float, mean: float, sd: float) -> float:
    """Normal density."""
    return math.exp(-0.5 * ((x - mean) / sd) ** 2) / (sd * math.sqrt(2 * math.pi))


def between(low: float, high: float) -> float:
    """Chance of a standard normal between two ends, from the error function of the standard
    library.
    """
    if low > 0:
        low, high = -high, -low
    return 0.5 * (math.erfc(-high / math.sqrt(2)) - math.erfc(-low / math.sqrt(2)))


def likelihood(e: Evidence, misfit: float) -> float:
    """Chance of one verdict at an expected misfit, the piece's own variation integrated out by
    hand.

    A reading tells of the piece's variation too: given the reading, the variation is normal with
    mean g (read - misfit) and variance (1 - g) piece_sd^2, g = piece_sd^2 / (piece_sd^2 +
    read_sd^2) (product of two normals).
    """
    plain, centre, spread = 1.0, misfit, e.piece_sd
    if e.read is not None:
        total = math.hypot(e.piece_sd, e.read_sd)
        plain = bell(e.read, misfit, total)
        centre = misfit + (e.piece_sd / total) ** 2 * (e.read - misfit)
        spread = e.piece_sd * e.read_sd / total
    if e.bands is not None:
        blur = math.hypot(spread, e.word_noise)
        plain *= sum(w * between((a - centre) / blur, (b - centre) / blur) for a, b, w in e.bands)
    return (1 - e.slip) * plain + e.slip * e.background


def by_quadrature(prior: Normal, evidence: Sequence[Evidence], points: int) -> tuple[float, float]:
    """Mean and sd by adaptive quadrature over even panels, so that no narrow peak is missed."""

    def density(offset: float) -> float:
        out = bell(offset, *prior)
        for e in evidence:
            out *= likelihood(e, e.nominal + offset)
        return out

    scan = np.linspace(prior.mean - 8 * prior.sd, prior.mean + 8 * prior.sd, 801)
    height = np.array([density(b) for b in scan])
    used = np.flatnonzero(height > height.max() * 1e-17)
    low, high = scan[max(used[0] - 1, 0)], scan[min(used[-1] + 1, 800)]
    middle = float(scan[height.argmax()])
    edges = np.linspace(low, high, points + 1)
    sums = [0.0, 0.0, 0.0]
    for a, b in pairwise(edges):
        for k in range(3):
            sums[k] += integrate.quad(
                lambda x, k=k: (x - middle) ** k * density(x) / height.max(),
                a,
                b,
                epsabs=1e-13,
                epsrel=1e-9,
            )[0]
    mean = sums[1] / sums[0]
    return middle + mean, math.sqrt(sums[2] / sums[0] - mean**2)


def random_fit(r: random.Random) -> tuple[Normal, list[Evidence]]:
    prior = Normal(r.uniform(-0.15, 0.0), r.uniform(0.05, 0.2))
    slope = 2 * math.tan(math.radians(r.choice([7, 8, 14])))
    offset, found = r.gauss(*prior), []
    for number in range(r.randint(1, 6)):
        nominal = 0.07 - prior.mean + r.uniform(-0.15, 0.15)
        piece_sd = slope * defaults.HEIGHT_REPEAT
        misfit = nominal + offset + r.gauss(0, piece_sd)
        if r.random() < 0.15:
            misfit += r.uniform(-0.3, 0.3)  # a slip
        kind = r.choice(["word", "reading", "both"])
        said = misfit + r.gauss(0, 0.025)
        bands = (
            next(w for w in FIT_WORDS if w[0][0] <= said < w[0][1]) if kind != "reading" else None
        )
        read = misfit + r.gauss(0, slope * 0.05) if kind != "word" else None
        background = (1 / 7 if bands else 1.0) * (
            1.0 if read is None else 1 / figures.SLIP_RANGE["fit"]
        )
        slip = r.choice([defaults.SLIP, defaults.SLIP, 0.0])
        found.append(
            Evidence(number, nominal, bands, 0.025, read, slope * 0.05, piece_sd, slip, background)
        )
    return prior, found


def random_centre(r: random.Random) -> tuple[Normal, list[Evidence]]:
    prior, found = Normal(r.uniform(-0.05, 0.05), r.choice([0.1, 0.25, 0.5])), []
    offset = r.gauss(*prior)
    for number in range(r.randint(1, 5)):
        nominal = r.uniform(-0.3, 0.5)
        e = nominal + offset
        if r.random() < 0.15:
            e = -e  # the wrong edge on the fence
        if r.random() < 0.5:
            bands, read = CENTRE_WORDS[1 + (e > 0.05) - (e < -0.05)], None
        else:
            bands, read = None, e + r.gauss(0, 0.015)
        background = 1 / 3 * (1.0 if read is None else 1 / figures.SLIP_RANGE["centre"])
        found.append(
            Evidence(number, nominal, bands, 0.025, read, 0.015, 0.0, defaults.SLIP, background)
        )
    return prior, found


@pytest.mark.parametrize("seed", range(40))
def test_fit(seed: int) -> None:
    prior, evidence = random_fit(random.Random(seed))
    law = posterior(prior, evidence)
    mean, sd = by_quadrature(prior, evidence, 40)
    assert law.mean == pytest.approx(mean, abs=1e-6)
    assert law.sd == pytest.approx(sd, abs=1e-6)


@pytest.mark.parametrize("seed", range(100, 125))
def test_centre(seed: int) -> None:
    prior, evidence = random_centre(random.Random(seed))
    law = posterior(prior, evidence)
    mean, sd = by_quadrature(prior, evidence, 40)
    assert law.mean == pytest.approx(mean, abs=1e-6)
    assert law.sd == pytest.approx(sd, abs=1e-6)


@pytest.mark.parametrize("seed", range(130, 142))
def test_readings_that_agree_are_a_narrow_peak_in_a_wide_prior(seed: int) -> None:
    """A fence set by eye, then one to three errors read to 0.012: slips keep far tails alive around
    a sharp peak.
    """
    r = random.Random(seed)
    prior = Normal(0.0, figures.FENCE_ZERO_BY_EYE)
    offset, found = r.gauss(*prior), []
    for number in range(1 + seed % 3):
        nominal = r.uniform(-0.1, 0.3)
        read = nominal + offset + r.gauss(0, 0.0122)
        found.append(
            Evidence(number, nominal, None, 0.025, read, 0.0122, 0.0, defaults.SLIP, 1 / 6)
        )
    law = posterior(prior, found)
    mean, sd = by_quadrature(prior, found, 40)
    assert law.mean == pytest.approx(mean, abs=1e-6)
    assert law.sd == pytest.approx(sd, abs=1e-6)


@pytest.mark.parametrize("seed", [3, 17, 104])
def test_the_oracle_itself(seed: int) -> None:
    """Other panels give the same to 1e-8, so the oracle is good to far better than what
    it judges.
    """
    prior, evidence = (random_fit if seed < 100 else random_centre)(random.Random(seed))
    assert by_quadrature(prior, evidence, 40) == pytest.approx(
        by_quadrature(prior, evidence, 67), abs=1e-8
    )


def test_word_and_reading_share_the_piece() -> None:
    """The closed form above against brute force over the piece's own variation."""
    e = Evidence(1, 0.1, ((0.04, 0.10, 1.0),), 0.025, 0.13, 0.014, 0.02, 0.02, 1 / 7)
    for misfit in (0.02, 0.07, 0.15):

        def inside(dev: float, misfit: float = misfit) -> float:
            words = norm.cdf((0.10 - misfit - dev) / 0.025) - norm.cdf(
                (0.04 - misfit - dev) / 0.025
            )
            return float(norm.pdf(dev, 0, 0.02) * norm.pdf(0.13, misfit + dev, 0.014) * words)

        brute = (
            0.98 * integrate.quad(inside, -0.2, 0.2, points=[0.0, 0.13 - misfit], epsabs=1e-13)[0]
            + 0.02 / 7
        )
        assert likelihood(e, misfit) == pytest.approx(brute, abs=1e-9)


# --- the seat over the posterior of the fit -------------------------------------------------------


def own(e: Evidence, misfit: np.ndarray) -> np.ndarray:
    """Chance of a verdict where `misfit` is the piece's own."""
    plain = np.ones_like(misfit)
    if e.read is not None:
        plain = np.exp(-0.5 * ((e.read - misfit) / e.read_sd) ** 2) / (
            e.read_sd * math.sqrt(2 * math.pi)
        )
    if e.bands is not None:
        plain = plain * sum(
            w * (ndtr((b - misfit) / e.word_noise) - ndtr((a - misfit) / e.word_noise))
            for a, b, w in e.bands
        )
    return (1 - e.slip) * plain + e.slip * e.background


def clearances(
    c: np.ndarray, sd: float, order: int, panels: int
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Gauss-Legendre nodes over a piece's own clearance about each c: (clearance, weight, depth /
    sqrt(radius)).

    Below 0 in the clearance itself; above it in its square root, where the seat is smooth.
    """
    x, w = np.polynomial.legendre.leggauss(order)
    out = []
    for root in (False, True):
        low, high = c - 8.5 * sd, c + 8.5 * sd
        low, high = (
            (np.sqrt(np.maximum(low, 0)), np.sqrt(np.maximum(high, 0)))
            if root
            else (np.minimum(low, 0), np.minimum(high, 0))
        )
        half = (high - low) / (2 * panels)
        mids = low[:, None] + half[:, None] * (2 * np.arange(panels) + 1)
        at = (mids[:, :, None] + half[:, None, None] * x).reshape(len(c), -1)
        weight = np.tile(w, panels) * half[:, None]
        out.append((at**2, weight * 2 * at, at) if root else (at, weight, np.zeros_like(at)))
    value, weight, depth = (np.concatenate(parts, axis=1) for parts in zip(*out, strict=True))
    return (
        value,
        weight * np.exp(-0.5 * ((value - c[:, None]) / sd) ** 2) / (sd * math.sqrt(2 * math.pi)),
        depth,
    )


def seat_by_quadrature(
    prior_fit: Normal,
    prior_seat: Normal,
    fits: Sequence[Evidence],
    pieces: Sequence[Coupled],
    *,
    step: float = 1.0,
    order: int = 48,
    panels: int = 3,
) -> tuple[float, float]:
    """Mean and sd of the seat's offset: every cause written out, nothing taken from the posterior
    of the fit.

    The joint density is prior(f) prior(o) times, for each piece, the integral over its own
    clearance of what was said of its fit and of its seat. Both outer integrals are trapezoidal,
    which converges exponentially for smooth densities.
    """
    sd = min((p.driver_sd for p in pieces), default=0.01)
    noise = min(
        (p.evidence.word_noise if p.evidence.read is None else p.evidence.read_sd for p in pieces),
        default=0.05,
    )
    f = np.arange(
        prior_fit.mean - 7.5 * prior_fit.sd, prior_fit.mean + 7.5 * prior_fit.sd, 0.6 * sd * step
    )
    seated = {p.evidence.piece for p in pieces}
    logs = -0.5 * ((f - prior_fit.mean) / prior_fit.sd) ** 2
    for e in fits:
        value, weight, _ = clearances(e.nominal + f, e.piece_sd, order, panels)
        alone = np.log((weight * own(e, value)).sum(axis=1))
        logs = logs + alone
    f = f[logs > logs.max() - 30]
    o = np.arange(
        prior_seat.mean - 7.5 * prior_seat.sd,
        prior_seat.mean + 7.5 * prior_seat.sd,
        0.5 * noise * step,
    )
    joint = (
        np.exp(-0.5 * ((f - prior_fit.mean) / prior_fit.sd) ** 2)[:, None]
        * norm.pdf(o, *prior_seat)[None, :]
    )
    for e in fits:
        if e.piece not in seated:
            value, weight, _ = clearances(e.nominal + f, e.piece_sd, order, panels)
            joint *= (weight * own(e, value)).sum(axis=1)[:, None]
    for p in pieces:
        value, weight, depth = clearances(p.driver_nominal + f, p.driver_sd, order, panels)
        if p.driver is not None:
            weight = weight * own(p.driver, value)
        for i in range(len(f)):
            taken = math.sqrt(p.observed.radius) * depth[i]
            joint[i] *= weight[i] @ own(
                p.evidence, p.evidence.nominal + o[None, :] - taken[:, None]
            )
    law = joint.sum(axis=0) / joint.sum()
    mean = float(law @ o)
    return mean, math.sqrt(float(law @ (o - mean) ** 2))


def random_seat(
    r: random.Random, loose: bool
) -> tuple[Normal, Normal, list[Evidence], list[Coupled]]:
    """One to three pieces, some with a word for the seat and some with a number, most with a word
    for the fit.
    """
    theta = math.radians(r.choice([7, 8, 14]))
    slope, radius = 2 * math.tan(theta), r.uniform(5, 8)
    sd = slope * defaults.HEIGHT_REPEAT
    prior_fit, prior_seat = (
        Normal(r.uniform(-0.1, 0.0), r.uniform(0.04, 0.12)),
        Normal(0.0, r.uniform(0.1, 0.27)),
    )
    offset, seat_offset = r.gauss(prior_fit.mean, 0.5 * prior_fit.sd), r.gauss(*prior_seat)
    fits, pieces = [], []
    for number in range(r.randint(1, 3)):
        nominal = (r.uniform(0.05, 0.2) if loose else r.uniform(-0.12, 0.01)) - prior_fit.mean
        c = nominal + offset + r.gauss(0, sd)
        driver = None
        if r.random() < 0.8:
            said = c + r.gauss(0, 0.025)
            bands = next(w for w in FIT_WORDS if w[0][0] <= said < w[0][1])
            read = max(0.01, c + r.gauss(0, slope * 0.05)) if r.random() < 0.4 and c > 0 else None
            background = 1 / 7 * (1.0 if read is None else 1 / figures.SLIP_RANGE["fit"])
            driver = Evidence(
                number, nominal, bands, 0.025, read, slope * 0.05, sd, defaults.SLIP, background
            )
            fits.append(driver)
        base = math.sqrt(radius * 0.07) + r.uniform(-0.3, 0.3)
        step = base + seat_offset - math.sqrt(radius * max(0.0, c))
        if r.random() < 0.5:
            said = step + r.gauss(0, 0.025)
            words = next(w for w in SEAT_WORDS if w[0][0] <= said < w[0][1])
            seat = Evidence(number, base, words, 0.025, None, 0.0, 0.0, defaults.SLIP, 1 / 7)
        else:
            seat = Evidence(
                number, base, None, 0.025, step + r.gauss(0, 0.03), 0.03, 0.0, defaults.SLIP, 1 / 28
            )
        pieces.append(Coupled(seat, RoundEnd(radius), nominal, sd, driver))
    return prior_fit, prior_seat, fits, pieces


@pytest.mark.parametrize(
    "seed",
    [*range(200, 207), *(pytest.param(s, marks=pytest.mark.long) for s in range(207, 214))],
)
def test_seat(seed: int) -> None:
    prior_fit, prior_seat, fits, pieces = random_seat(random.Random(seed), loose=seed % 3 != 0)
    law = coupled_posterior(prior_seat, posterior(prior_fit, fits), pieces).marginal
    mean, sd = seat_by_quadrature(prior_fit, prior_seat, fits, pieces)
    assert law.mean == pytest.approx(mean, abs=1e-6)
    assert law.sd == pytest.approx(sd, abs=1e-6)


@pytest.mark.parametrize(
    "seed", [201, *(pytest.param(seed, marks=pytest.mark.long) for seed in (204, 206))]
)
def test_the_oracle_of_the_seat_itself(seed: int) -> None:
    case = random_seat(random.Random(seed), loose=seed % 3 != 0)
    rough = seat_by_quadrature(*case)
    assert rough == pytest.approx(seat_by_quadrature(*case, step=0.7, order=64, panels=4), abs=1e-7)


def test_seat_without_verdicts_is_its_prior() -> None:
    law = coupled_posterior(Normal(0.1, 0.25), posterior(Normal(0.0, 0.1), []), []).marginal
    assert law.mean == pytest.approx(0.1, abs=1e-9)
    assert law.sd == pytest.approx(0.25, abs=1e-6)


# --- offsets from shared causes -------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(20))
def test_causes_against_a_multivariate_normal_conditional(seed: int) -> None:
    """Lessons against the textbook conditional of the joint normal of all causes and readings."""
    r = np.random.default_rng(seed)
    names = [(f"cause {i}",) for i in range(6)]
    means, sds = r.normal(0, 0.1, 6), r.uniform(0.01, 0.3, 6)

    def terms(count: int) -> tuple[Term, ...]:
        chosen = r.choice(6, count, replace=False)
        return tuple(
            Term(names[i], float(r.normal(0, 1)), float(means[i]), float(sds[i])) for i in chosen
        )

    def row(ts: Sequence[Term]) -> np.ndarray:
        out = np.zeros(6)
        for t in ts:
            out[names.index(t.key)] += t.factor
        return out

    goal = terms(4)
    readings = [
        TermReading(
            f"r{k}",
            terms(int(r.integers(1, 5))),
            float(r.normal(0, 0.3)),
            float(r.uniform(0.02, 0.1)),
        )
        for k in range(seed % 5)
    ]
    law = Lessons(readings).law(goal)
    # covariance form, not the precision form that the code uses
    rows = np.array([row(reading.terms) for reading in readings]).reshape(-1, 6)
    spread = (rows * sds**2) @ rows.T + np.diag([reading.sd**2 for reading in readings])
    gain = np.linalg.solve(spread, (rows * sds**2) @ row(goal))
    surplus = np.array([reading.value for reading in readings]) - rows @ means
    assert law.mean == pytest.approx(float(row(goal) @ means + gain @ surplus), abs=1e-10)
    left = float(row(goal) ** 2 @ sds**2) - float(gain @ ((rows * sds**2) @ row(goal)))
    assert law.sd == pytest.approx(math.sqrt(left), abs=1e-10)
    if len(readings) == 1:  # and by Bayes' rule from densities alone
        a, g, reading = row(readings[0].terms), row(goal), readings[0]
        both = np.stack([g, a]) * sds**2 @ np.stack([g, a]).T + np.diag([0.0, reading.sd**2])
        joint = multivariate_normal([g @ means, a @ means], both)
        at = np.linspace(law.mean - 3 * law.sd, law.mean + 3 * law.sd, 7)
        density = np.array([joint.pdf([x, reading.value]) for x in at])
        assert density / density[3] == pytest.approx(
            norm.pdf(at, *law) / norm.pdf(law.mean, *law), rel=1e-6
        )


def test_what_was_learnt_is_the_reading_itself() -> None:
    terms = (Term(("a",), 2.0, -0.07, 0.03), Term(("b",), -1.0, 0.0, 0.05))
    prior = Lessons().law(terms)
    found = learnt(prior, Lessons([TermReading("x", terms, 0.04, 0.02)]).law(terms))
    assert found is not None
    assert found == pytest.approx((0.04, 0.02), abs=1e-10)
    assert learnt(prior, prior) is None


def test_suspect_is_four_sds_off_what_the_causes_allow() -> None:
    terms = (Term(("a",), 1.0, 0.1, 0.03),)
    edge = 4 * math.hypot(0.03, 0.04)
    assert not suspect(TermReading("x", terms, 0.1 + 0.999 * edge, 0.04))
    assert suspect(TermReading("x", terms, 0.1 - 1.001 * edge, 0.04))
