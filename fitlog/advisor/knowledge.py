"""What is known of a set-up: the law of each aspect's offset, from its causes, earlier set-ups and its pieces."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from ..domain import Aspect, Piece, Plan, SetUp
from ..estimator.causes import learnt, predict, suspect
from ..estimator.coupled import CoupledPosterior, coupled_posterior
from ..estimator.posterior import Normal, Posterior, posterior
from ..evidence import Term, TermReading
from ..joints import Joint, joint_of

_ROUGH = 161  # grid points for an earlier set-up, of which only mean and sd are kept


@dataclass(frozen=True)
class Knowledge:
    """Laws of the offsets. cold: those before this set-up's pieces; taught: how many earlier set-ups spoke."""

    joint: Joint
    cold: dict[Aspect, Normal]
    fit: Posterior
    centre: Posterior
    seat: CoupledPosterior
    taught: int = 0
    misread: tuple[TermReading, ...] = ()
    seats: dict[tuple[float, float, bool], Posterior] = field(default_factory=dict, compare=False)  # by clearance, made once


def know(plan: Plan, pieces: Sequence[Piece], past: Sequence[SetUp], height: float) -> Knowledge:
    """Return what is known of `plan` from its pieces and from earlier finished set-ups.

    height: the bit height about which the fit's causes are taken, mm. Pure: the same log gives the same answer.
    """
    joint = joint_of(plan)
    lessons = [lesson for setup in past for lesson in _lessons(setup)]
    readings = joint.term_readings(pieces)
    sound = [r for r in readings if not suspect(r)]
    cold = {
        aspect: predict(_own_day(joint.terms(aspect, height), "now"), [*lessons, *(sound if aspect == "fit" else [])])
        for aspect in ("fit", "centre", "seat")
    }
    fit = posterior(cold["fit"], joint.evidence("fit", pieces))
    return Knowledge(
        joint, {"fit": cold["fit"], "centre": cold["centre"], "seat": cold["seat"]}, fit,
        posterior(cold["centre"], joint.evidence("centre", pieces)),
        coupled_posterior(cold["seat"], fit, joint.coupled(pieces)),
        len({lesson.kind for lesson in lessons}), tuple(r for r in readings if suspect(r)),
    )  # fmt: skip


def _lessons(setup: SetUp) -> Iterable[TermReading]:
    """What a finished set-up teaches: for each aspect the sum of its causes, as uncertain as it ended."""
    joint, pieces, name = joint_of(setup.plan), setup.pieces(), f"set-up {setup.number}"
    terms: dict[Aspect, tuple[Term, ...]] = {
        a: _own_day(joint.terms(a, setup.first.bit_height), name) for a in ("fit", "centre", "seat")
    }
    prior = {a: predict(t) for a, t in terms.items()}
    fit = posterior(prior["fit"], joint.evidence("fit", pieces), _ROUGH)
    centre = posterior(prior["centre"], joint.evidence("centre", pieces), _ROUGH)
    seats = joint.coupled(pieces)
    laws: dict[Aspect, Posterior] = {"fit": fit, "centre": centre}
    if seats:
        laws["seat"] = coupled_posterior(prior["seat"], fit, seats, rough=True).marginal
    for aspect, law in laws.items():
        found = learnt(prior[aspect], Normal(law.mean, law.sd))
        if found is not None:
            yield TermReading(name, terms[aspect], found.mean, found.sd)
    for reading in joint.term_readings(pieces):
        if not suspect(reading):
            yield replace(reading, kind=name)


def _own_day(terms: Sequence[Term], day: str) -> tuple[Term, ...]:
    """Give the day-to-day term a key of its own: no other set-up shares it."""
    return tuple(replace(t, key=("day", day)) if t.key == ("day",) else t for t in terms)
