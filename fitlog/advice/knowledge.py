"""What is known of a set-up: the law of each aspect's offset, from its causes, earlier set-ups and
its pieces.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache

import numpy as np

from .. import defaults
from ..domain import Aspect, AspectKind, Piece, Plan, Settings
from ..estimator.choice import chance_good
from ..estimator.coupled import CoupledMixture, Leaning, coupled_posterior
from ..estimator.evidence import Coupled, Evidence, Observed, TermReading
from ..estimator.history import Lessons, suspect
from ..estimator.hypotheses import Hypothesis, Weighed, plausible, turned, weigh
from ..estimator.linearised import uncoupled
from ..estimator.posterior import Posterior, posterior
from ..estimator.prior import Normal, Prior, scaled
from ..estimator.run import Creep
from ..families import Joint, joint_of
from .history import History
from .settled import SAME, nominal
from .woods import fit_before

AS_SAID, SWAPPED, FAR_OFF = "as said", "swapped", "far off"


@dataclass(frozen=True)
class Knowledge:
    """Laws of the offsets, each worked out when it is first asked for.

    cold: those before this set-up's pieces.  before: the fit's before its pieces in the wood at
    work. real: that of the real boards before pieces in them.  apart: how much looser those come
    out than the pieces at work. stock: the joint of pieces in the stock itself.  past: what earlier
    set-ups taught.  misread: readings left out. measured: readings of the bit itself, on slots and
    pieces, that count. leans: of a coupled aspect where its driver's offset is at its
    mean, and how it moves with that. doubt: of the scale of each prior's sd, as the sd of its log.
    about: the settings that the causes are taken about. creep: of the lead's offset in a run, whose
    law is then that of now, with what was seen earlier carried on to now; None without.
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
    measured: tuple[TermReading, ...] = ()
    leans: dict[Aspect, tuple[Normal, Leaning]] = field(default_factory=dict)
    doubt: dict[Aspect, float] = field(default_factory=dict)
    about: Settings = field(kw_only=True)
    creep: Creep | None = field(default=None, kw_only=True)
    # Each made once: laws of coupled aspects at settings, of aspects alone, and of coupled ones.
    taken: dict[tuple[Aspect, float, Observed, bool], Posterior] = field(
        init=False, default_factory=dict, compare=False
    )
    _alone: dict[Aspect, Weighed] = field(init=False, default_factory=dict, compare=False)
    _together: dict[Aspect, tuple[CoupledMixture, dict[str, float]]] = field(
        init=False, default_factory=dict, compare=False
    )

    def kind(self, aspect: Aspect) -> AspectKind:
        """An aspect as its family declares it."""
        return self.joint.plan.family.kind(aspect)

    def prior(self, aspect: Aspect) -> Prior:
        """Law of an offset before this set-up's pieces (of the lead: those in the wood at work),
        its scale uncertain.
        """
        law, _ = self.leans.get(aspect, (self.cold[aspect], None))
        if aspect == self.joint.plan.family.lead:
            law = self.before if self.creep is None else self.creep.grown(self.before)
        return scaled(law, self.doubt.get(aspect, 0.0))

    def weighed(self, aspect: Aspect) -> Weighed:
        """An aspect's offset by itself, with what may have gone wrong."""
        if aspect not in self._alone:
            said = self._carried(aspect, self.joint.evidence(aspect, self.pieces))
            self._alone[aspect] = weigh(self._hypotheses(aspect, said))
        return self._alone[aspect]

    def _carried(self, aspect: Aspect, said: tuple[Evidence, ...]) -> tuple[Evidence, ...]:
        """Evidence of an aspect, of the lead's carried on to now."""
        creeps = self.creep is not None and aspect == self.joint.plan.family.lead
        return self.creep.carried(said) if self.creep is not None and creeps else said

    def law(self, aspect: Aspect) -> Posterior:
        """Posterior of the offset of an aspect, whatever its driver's."""
        if self.kind(aspect).driver is not None:
            return self.coupled(aspect).marginal
        return self.weighed(aspect).law

    def _joined(self, aspect: Aspect) -> tuple[CoupledMixture, dict[str, float]]:
        if aspect not in self._together:
            self._together[aspect] = self._weighed_with(aspect, self.law(self._driver(aspect)))
        return self._together[aspect]

    def _driver(self, aspect: Aspect) -> Aspect:
        driver = self.kind(aspect).driver
        assert driver is not None
        return driver

    def _weighed_with(
        self, aspect: Aspect, driver: Posterior
    ) -> tuple[CoupledMixture, dict[str, float]]:
        said: Sequence[Coupled] = self.joint.coupled(self.pieces)
        said = said if self.creep is None else self.creep.followed(said)
        about = Normal(driver.mean, driver.sd)
        rough = self._hypotheses(aspect, tuple(uncoupled(s, about)[0] for s in said))
        kept = plausible(rough)
        ways = {AS_SAID: said, FAR_OFF: said, SWAPPED: _turned(said)}
        _, leaning = self.leans.get(aspect, (None, Leaning()))
        found = [coupled_posterior(h.prior, driver, ways[h.name], leaning) for h in kept]
        logs = np.array(
            [math.log(h.chance) + f.log_evidence for h, f in zip(kept, found, strict=True)]
        )
        chances = np.exp(logs - logs.max()) / np.exp(logs - logs.max()).sum()
        parts = tuple((float(c), f) for c, f in zip(chances, found, strict=True))
        named = {h.name: float(c) for h, c in zip(kept, chances, strict=True)}
        return CoupledMixture(parts), named

    def coupled(self, aspect: Aspect) -> CoupledMixture:
        """Joint posterior of the driver's offset and a coupled aspect's."""
        return self._joined(aspect)[0]

    def chance_of(self, aspect: Aspect, name: str) -> float:
        """Return the chance of one way to take an aspect's verdicts."""
        if self.kind(aspect).driver is not None:
            return self._joined(aspect)[1].get(name, 0.0)
        return self.weighed(aspect).of(name)

    def as_taken(self, aspect: Aspect) -> tuple[Normal, tuple[Evidence, ...]]:
        """Prior and verdicts of an aspect that hangs on no other under the likeliest hypothesis:
        what else is odd is odd beside it.
        """
        likeliest = self.weighed(aspect).likeliest
        return Normal(likeliest.prior.mean, likeliest.prior.sd), likeliest.evidence

    def _hypotheses(self, aspect: Aspect, evidence: tuple[Evidence, ...]) -> list[Hypothesis]:
        """The ways to take an aspect's verdicts, as they were said first."""
        prior, (far, far_sd) = self.prior(aspect), self.joint.far_off(aspect)
        ways = [Hypothesis(AS_SAID, 1 - defaults.SWAPPED - far, prior, evidence)]
        swapped = defaults.SWAPPED * defaults.SWAPPED_SAID_AGAIN ** self._said_again(aspect)
        if swapped and any(e.other is not None for e in evidence):
            ways.append(Hypothesis(SWAPPED, swapped, prior, turned(evidence)))
        if not far:
            return ways
        wide = Normal(prior.mean, math.hypot(prior.sd, far_sd))
        return [*ways, Hypothesis(FAR_OFF, far, wide, evidence)]

    def _said_again(self, aspect: Aspect) -> int:
        """How often an aspect's side was said again of a piece cut alike: who is asked and repeats
        it means it.

        Not where numbers tell: two that contradict the first outweigh the word, and the setting
        goes the other way.
        """
        kind = self.kind(aspect)
        if not kind.tried and any(self.joint.reading_of(aspect, p) for p in self.pieces):
            return 0
        judged = [p for p in self.pieces if (v := p.verdict.of(aspect)) is not None and v.side]
        return len(judged) - len({self._as_cut(aspect, p) for p in judged})

    def _as_cut(self, aspect: Aspect, piece: Piece) -> tuple[float, ...]:
        """What pieces that are cut and called alike in an aspect have in common."""
        said, kind = piece.verdict.of(aspect), self.kind(aspect)
        at = nominal(self.joint, aspect, piece) / self.joint.slope(aspect, piece.settings)
        alike = (at, 0.0 if kind.zeroed else piece.settings.of(kind.driver or aspect))
        return (said.side if said else 0, *(round(value / SAME) for value in alike))

    def real_chance(self, nominal: float) -> float:
        """Chance that the real boards' lead aspect, as one more piece comes out, is inside its
        window.

        nominal: what the figures give there, mm.
        """
        lead, at = self.joint.plan.family.lead, np.array([nominal])
        window, varies = self.joint.window(lead), self.joint.piece_sd(lead)
        found = self.stock.evidence(lead, self.pieces) if self.joint.wood else ()
        if found:
            before = self.real if self.creep is None else self.creep.grown(self.real)
            law = posterior(before, self._carried(lead, found))
            return float(chance_good(law, at, window, varies)[0])
        spread = math.hypot(self.apart.sd, varies)
        return float(chance_good(self.law(lead), at + self.apart.mean, window, spread)[0])


def _turned(said: Sequence[Coupled]) -> tuple[Coupled, ...]:
    other = turned([s.evidence for s in said])
    return tuple(
        Coupled(e, s.observed, s.driver_nominal, s.driver_sd, s.driver)
        for s, e in zip(said, other, strict=True)
    )


def know(
    plan: Plan,
    pieces: Sequence[Piece],
    past: History,
    about: Settings,
    by: str = "",
    slots: Sequence[Piece] = (),
) -> Knowledge:
    """Return what is known of `plan` from its pieces, its measured slots and earlier finished
    set-ups.

    about: the first settings, about which causes are taken.  by: the person at work.
    Pure: the same log gives the same answer.
    """

    @cache
    def opened(wood: str) -> Joint:
        return joint_of(plan, past.voices, by, wood)

    # The next piece is cut in what the last one was.
    wood = plan.wood(pieces[-1].scrap if pieces else "")
    joint = opened(wood)
    readings = joint.term_readings([*slots, *pieces])
    misread = tuple(r for r in readings if suspect(r))
    family, lead = plan.family, plan.family.lead
    lessons: dict[Aspect, Lessons] = {a: past.of(a) for a in family.setting_of}
    doubt = {a: doubt_of(len(lessons[a])) for a in lessons}
    measured = tuple(r for r in readings if r not in misread)
    first = lessons[lead] = lessons[lead].and_(measured)
    cold = {a: lessons[a].law(joint.terms(a, about)) for a in family.setting_of}
    before = fit_before(plan, pieces, wood, opened, first, about, doubt[lead])
    real = fit_before(plan, pieces, "", opened, first, about, doubt[lead]) if wood else before
    doubt[lead] *= before == cold[lead]  # pieces in another wood have told the scale
    apart = first.law(joint.wood_terms(""))
    leans = {
        kind.name: past.together(kind.name, kind.driver, joint, about, measured).leaning()
        for kind in family.kinds
        if kind.driver is not None and kind.name != lead  # whose prior is that of the wood at work
    }
    return Knowledge(
        joint,
        tuple(pieces),
        cold,
        before,
        real,
        apart,
        opened(""),
        past,
        misread,
        measured,
        leans,
        doubt,
        about=about,
    )


def doubt_of(lessons: int) -> float:
    """Return how uncertain the scale of a prior's sd is, as the sd of its log, after so many
    lessons.
    """
    return defaults.SCALE_DOUBT / math.sqrt(1 + lessons / defaults.COMPONENT_LESSONS[0])
