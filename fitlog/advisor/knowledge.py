"""What is known of a set-up: the law of each aspect's offset, from its causes, earlier set-ups and its pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property

import numpy as np

from ..domain import ASPECTS, Aspect, Piece, Plan
from ..estimator.choice import chance_good
from ..estimator.coupled import CoupledPosterior, coupled_posterior
from ..estimator.history import Lessons, suspect
from ..estimator.posterior import Normal, Posterior, posterior
from ..evidence import TermReading
from ..joints import Joint, joint_of
from .history import History
from .woods import fit_before


@dataclass(frozen=True)
class Knowledge:
    """Laws of the offsets, each worked out when it is first asked for.

    cold: those before this set-up's pieces.  before: the fit's before its pieces in the wood at work.
    real: that of the real boards before pieces in them.  apart: how much looser those come out than the pieces at work.
    stock: the joint of pieces in the stock itself.  past: what earlier set-ups taught.  misread: readings left out.
    """

    joint: Joint
    pieces: tuple[Piece, ...]
    cold: dict[Aspect, Normal]
    before: Normal
    real: Normal
    apart: Normal
    stock: Joint
    past: History
    misread: tuple[TermReading, ...] = ()
    seats: dict[tuple[float, float, bool], Posterior] = field(default_factory=dict, compare=False)  # by clearance, made once

    @cached_property
    def fit(self) -> Posterior:
        """Posterior of the fit's offset in the wood at work."""
        return posterior(self.before, self.joint.evidence("fit", self.pieces))

    def real_chance(self, nominal: float) -> float:
        """Chance that the real boards' clearance is inside its window where the figures give `nominal`, mm."""
        at, window = np.array([nominal]), self.joint.window("fit")
        found = self.stock.evidence("fit", self.pieces) if self.joint.wood else ()
        if found:
            return float(chance_good(posterior(self.real, found), at, window, 0.0)[0])
        return float(chance_good(self.fit, at + self.apart.mean, window, self.apart.sd)[0])

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

    @cache
    def opened(wood: str) -> Joint:
        return joint_of(plan, past.voices, by, wood)

    wood = plan.wood(pieces[-1].scrap if pieces else "")  # the next piece is cut in what the last one was
    joint = opened(wood)
    readings = joint.term_readings(pieces)
    misread = tuple(r for r in readings if suspect(r))
    lessons: dict[Aspect, Lessons] = {a: past.of(a) for a in ASPECTS}
    fit = lessons["fit"] = lessons["fit"].and_(r for r in readings if r not in misread)
    cold = {aspect: lessons[aspect].law(joint.terms(aspect, height)) for aspect in ASPECTS}
    before = fit_before(plan, pieces, wood, opened, fit, height)
    real = fit_before(plan, pieces, "", opened, fit, height) if wood else before
    apart = fit.law(joint.wood_terms(""))
    return Knowledge(joint, tuple(pieces), cold, before, real, apart, opened(""), past, misread)
