"""Honest chances: what the tool says of the next piece, of what it calls ready and of the misfits,
against what comes.

Cold set-ups of fit, centre and seat, verdicts slips at the assumed rate, the true sds of all causes
0.5, 1 and 2 times the assumed ones, and the three mixed.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np

from fitlog.advice.decision import Decision
from fitlog.advice.laws import law_of
from fitlog.advice.settled import judged
from fitlog.domain import Aspect, Piece, SetUp
from fitlog.families import Joint
from fitlog.families.half_blind.names import ASPECTS, SETTLING_WORD
from fitlog.simulation import MOST, Advised, Conditions, Truth, one_joint, run
from fitlog.simulation.plans import MACHINE
from fitlog.simulation.truth import causes

SDS = (0.5, 1.0, 2.0)
# cases in a tenth below which its share says little; with fewer seeds than usual, an eighth of them
LEAST = 2500
USUAL_SEEDS = 20_000
ALONE, MIXED = (
    (4.0, 10.0),
    (4.0, 4.0),
)  # points that a tenth of what is called ready may be too sure, and too modest
NEXT_ALONE, NEXT_MIXED = (8.0, 8.0), (4.0, 4.0)  # and of the next piece's chance
Spread = Callable[[Any, Sequence[Any]], list[Any]]
Case = tuple[str, float, bool]  # what it is about, the chance stated, whether it came


@dataclass(frozen=True)
class Claims:
    """What was claimed in one set-up and what came.

    ready: of the real boards where it was called ready.  ends: by aspect, whether the 90 % interval
    of the misfit at the end holds the truth, and the truth's rank in its posterior.
    """

    following: list[Case]
    ready: list[Case]
    ends: dict[str, tuple[bool, float]]


class Watched(Advised):
    """The tool, remembering what it said."""

    def __init__(self) -> None:
        super().__init__()
        self.made: list[Decision] = []

    def after(self, setup: SetUp) -> Any:
        self.made.append(self.decided(setup))
        return super().after(setup)


def good(joint: Joint, aspect: Aspect, piece: Piece) -> bool:
    """What a stated chance of good is about: the settling word, or a step inside its window."""
    said = piece.verdict.of(aspect)
    if aspect == "seat" or said is None:  # of a centre whose walls were measured there is no word
        return bool(judged(joint, aspect, piece))
    return said.word == SETTLING_WORD[aspect]


def claims(job: tuple[int, bool, float]) -> Claims:
    """Work one cold set-up with this seed, words only or not, and true sds this many times the
    assumed ones.
    """
    seed, words_only, times = job
    told, plan, method = (
        Conditions(sds=times),
        one_joint(seed, MACHINE, ASPECTS, words_only),
        Watched(),
    )
    truth = told.truth(seed)
    outcome = run(truth, told.person(seed, words_only), method, [plan], MOST)[0]
    last = method.made[-1]
    ready = [("ready", real_chance(last), outcome.within)] if outcome.solved else []
    calm = Truth(seed, {**dict.fromkeys(causes(), times), "piece": 0.0})
    return Claims(_following(method, outcome.setup), ready, _ends(last, truth, calm, outcome.setup))


def real_chance(made: Decision) -> float:
    """The chance stated that the real boards come out inside every window."""
    stated = getattr(made, "chance_real", None)
    return float((stated or made.outlook.within())["all"] or 0.0)


def _following(method: Watched, setup: SetUp) -> list[Case]:
    out: list[Case] = []
    for made, following, piece in zip(
        method.made, method.made[1:], setup.pieces()[1:], strict=False
    ):
        stated, came = (
            made.outlook.good(made.unsettled),
            {a: good(made.known.joint, a, piece) for a in made.unsettled},
        )
        out += [(a, float(stated[a] or 0.0), came[a]) for a in made.unsettled]
        out.append(
            ("all", float(stated["all"] or 0.0), following.ready)
        )  # by words, numbers or figures
    return out


def _ends(last: Decision, truth: Truth, calm: Truth, setup: SetUp) -> dict[str, tuple[bool, float]]:
    plan, at, out = setup.plan, setup.pieces()[-1].settings, {}
    true = {
        **calm.misfits(plan, 1, 99, at),
        "seat": truth.misfits(plan, 1, 99, at)["seat"],
    }  # the seat's: a next piece
    for aspect in ASPECTS:
        law = law_of(last.known, aspect, at)
        offset = true[aspect] - last.known.joint.nominal(aspect, at, plan.figures())
        low, high = law.interval(0.90)
        out[aspect] = (low <= offset <= high, float(law.cdf(np.array([offset]))[0]))
    return out


@dataclass(frozen=True)
class Tenth:
    """The cases whose stated chance lies in one tenth. off: share that came less the mean stated,
    points; se: of that.
    """

    place: int
    n: int
    off: float
    se: float

    def __str__(self) -> str:
        return (
            f"{self.off:+.1f} +- {self.se:.1f} ({self.n} in "
            f"{self.place / 10:.1f}-{self.place / 10 + 0.1:.1f})"
        )


def tenths(cases: Sequence[Case], least: int) -> list[Tenth]:
    """Return the tenths of the stated chances that hold at least `least` cases."""
    values = np.array([c[1:] for c in cases], dtype=float).reshape(-1, 2)
    place, out = np.clip((values[:, 0] * 10).astype(int), 0, 9), []
    for k in range(10):
        off = values[place == k, 1] - values[place == k, 0]
        if len(off) >= max(2, least):
            out.append(
                Tenth(
                    k,
                    len(off),
                    100 * float(off.mean()),
                    100 * float(off.std(ddof=1)) / math.sqrt(len(off)),
                )
            )
    return out


# --- the tables -----------------------------------------------------------------------------------


def report(seeds: int, spread: Spread) -> None:
    """Print intervals and ranks (simulation-based calibration, Talts et al. 2018), then both kinds
    of chances.
    """
    modes = list(product((True, False), SDS))
    found = {mode: spread(claims, [(s, *mode) for s in range(seeds)]) for mode in modes}
    intervals(found)
    least = min(LEAST, max(2, LEAST * seeds // USUAL_SEEDS))
    print(
        f"\n| stated chance (tenths of at least {least}) | true sds | cases | stated, came | most "
        "too sure | too modest |"
    )
    print(f"|{' --- |' * 6}")
    for words in (True, False):
        groups = {f"x {t:g}": found[words, t] for t in SDS}
        groups["mixed"] = [c for t in SDS for c in found[words, t]]
        for name, each in groups.items():
            mode = "words" if words else "feeler"
            bars = (MIXED, NEXT_MIXED) if name == "mixed" else (ALONE, NEXT_ALONE)
            print(
                _row(
                    f"{mode}: ready, all inside",
                    name,
                    [k for c in each for k in c.ready],
                    least,
                    bars[0],
                )
            )
            for aspect in (*ASPECTS, "all"):
                cases = [k for c in each for k in c.following if k[0] == aspect]
                print(
                    _row(f"{mode}: next piece, {aspect}", name, cases, least, bars[1]), flush=True
                )


def _row(what: str, sds: str, cases: Sequence[Case], least: int, bars: tuple[float, float]) -> str:
    if not cases:
        return f"| {what} | {sds} | 0 | - | - | - |"
    stated, came = (100 * statistics.fmean(float(c[k]) for c in cases) for k in (1, 2))
    parts, worst = tenths(cases, least), ["-", "-"]
    if parts:
        sure, modest = min(parts, key=lambda t: t.off), max(parts, key=lambda t: t.off)
        worst = [
            f"{sure}{' BEYOND' * (-sure.off > bars[0])}",
            f"{modest}{' BEYOND' * (modest.off > bars[1])}",
        ]
    return f"| {what} | {sds} | {len(cases)} | {stated:.1f}, {came:.1f} | {worst[0]} | {worst[1]} |"


def intervals(found: dict[tuple[bool, float], list[Claims]]) -> None:
    """Print how often the 90 % intervals hold the truth, and whether its ranks are even."""
    from scipy.stats import chisquare, kstest

    print(
        "| cold set-ups | aspect | 90 % interval covers | ranks uniform: KS p, chi2(20) p |\n| --- "
        "| --- | --- | --- |"
    )
    for (words, times), each in found.items():
        for aspect in ASPECTS:
            cover, ranks = zip(*(c.ends[aspect] for c in each), strict=True)
            p = (
                f"{kstest(ranks, 'uniform').pvalue:.3f}, "
                f"{chisquare(np.histogram(ranks, 20, (0, 1))[0]).pvalue:.3f}"
            )
            mode = f"{'words' if words else 'feeler'}, sds x {times:g}"
            print(f"| {mode} | {aspect} | {statistics.fmean(cover):.1%} | {p} |", flush=True)
