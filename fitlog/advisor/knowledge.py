"""What is known of a set-up: the law of each aspect's offset, from its causes, earlier set-ups and its pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from ..domain import ASPECTS, Aspect, Piece, Plan
from ..estimator.coupled import CoupledPosterior, coupled_posterior
from ..estimator.history import Lessons, suspect
from ..estimator.posterior import Normal, Posterior, posterior
from ..evidence import TermReading
from ..joints import Joint, joint_of
from .history import History


@dataclass(frozen=True)
class Knowledge:
    """Laws of the offsets, each worked out when it is first asked for.

    cold: those before this set-up's pieces.  wood: how much looser the real boards come out than the pieces.
    taught: how many earlier set-ups there are.  misread: readings left out.
    """

    joint: Joint
    pieces: tuple[Piece, ...]
    cold: dict[Aspect, Normal]
    wood: Normal
    taught: int = 0
    misread: tuple[TermReading, ...] = ()
    seats: dict[tuple[float, float, bool], Posterior] = field(default_factory=dict, compare=False)  # by clearance, made once

    @cached_property
    def fit(self) -> Posterior:
        """Posterior of the fit's offset."""
        return posterior(self.cold["fit"], self.joint.evidence("fit", self.pieces))

    @cached_property
    def centre(self) -> Posterior:
        """Posterior of the centre's offset."""
        return posterior(self.cold["centre"], self.joint.evidence("centre", self.pieces))

    @cached_property
    def seat(self) -> CoupledPosterior:
        """Joint posterior of the fit's offset and the seat's."""
        return coupled_posterior(self.cold["seat"], self.fit, self.joint.coupled(self.pieces))


def know(plan: Plan, pieces: Sequence[Piece], past: History, height: float, by: str = "") -> Knowledge:
    """Return what is known of `plan` from its pieces and from earlier finished set-ups.

    height: the bit height about which the fit's causes are taken, mm.  by: the person at work.
    Pure: the same log gives the same answer.
    """
    wood = plan.wood(pieces[-1].scrap if pieces else "")  # the next piece is cut in what the last one was
    joint, fit = joint_of(plan, past.voices, by, wood), past.of("fit")
    readings = joint.term_readings(pieces)
    misread = tuple(r for r in readings if suspect(r))
    lessons: dict[Aspect, Lessons] = {a: past.of(a) for a in ASPECTS}
    lessons["fit"] = fit.and_(r for r in readings if r not in misread)
    cold = {aspect: lessons[aspect].law(joint.terms(aspect, height)) for aspect in ASPECTS}
    return Knowledge(joint, tuple(pieces), cold, fit.law(joint.wood_terms()), len(past), misread)
