"""What is known of a set-up: the law of each aspect's offset, from its causes, earlier set-ups and
its pieces.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property

import numpy as np

from .. import defaults
from ..domain import Aspect, Piece, Plan
from ..estimator.choice import chance_good
from ..estimator.coupled import CoupledMixture, Leaning, coupled_posterior
from ..estimator.evidence import Coupled, Evidence, TermReading
from ..estimator.history import Lessons, suspect
from ..estimator.hypotheses import Hypothesis, Weighed, plausible, turned, weigh
from ..estimator.linearised import uncoupled
from ..estimator.posterior import Posterior, posterior
from ..estimator.prior import Normal, Prior, scaled
from ..families import Joint, joint_of
from ..families.half_blind.names import ASPECTS
from .history import History
from .settled import SAME, misplaced
from .woods import fit_before

AS_SAID, SWAPPED, FAR_OFF = "as said", "swapped", "far off"


@dataclass(frozen=True)
class Knowledge:
    """Laws of the offsets, each worked out when it is first asked for.

    cold: those before this set-up's pieces.  before: the fit's before its pieces in the wood at
    work. real: that of the real boards before pieces in them.  apart: how much looser those come
    out than the pieces at work. stock: the joint of pieces in the stock itself.  past: what earlier
    set-ups taught.  misread: readings left out. measured: readings of the bit itself, on slots and
    pieces, that count. seat_given_fit, leaning: the seat's where the fit's offset is at its mean,
    and how it moves with that. doubt: of the scale of each prior's sd, as the sd of its log.
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
    seat_given_fit: Normal | None = None
    leaning: Leaning = field(default_factory=Leaning)
    doubt: dict[Aspect, float] = field(default_factory=dict)
    seats: dict[tuple[float, float, bool], Posterior] = field(
        default_factory=dict, compare=False
    )  # by clearance, made once

    def prior(self, aspect: Aspect) -> Prior:
        """Law of an offset before this set-up's pieces (of the fit: those in the wood at work), its
        scale uncertain.
        """
        law = {
            "fit": self.before,
            "centre": self.cold["centre"],
            "seat": self.seat_given_fit or self.cold["seat"],
        }[aspect]
        return scaled(law, self.doubt.get(aspect, 0.0))

    @cached_property
    def weighed_fit(self) -> Weighed:
        """The fit's offset in the wood at work, with what may have gone wrong."""
        return weigh(self._hypotheses("fit", self.joint.evidence("fit", self.pieces)))

    @cached_property
    def weighed_centre(self) -> Weighed:
        """The centre's offset, with what may have gone wrong."""
        return weigh(self._hypotheses("centre", self.joint.evidence("centre", self.pieces)))

    @property
    def fit(self) -> Posterior:
        """Posterior of the fit's offset in the wood at work."""
        return self.weighed_fit.law

    @property
    def centre(self) -> Posterior:
        """Posterior of the centre's offset."""
        return self.weighed_centre.law

    @cached_property
    def _seat(self) -> tuple[CoupledMixture, dict[str, float]]:
        said = self.joint.coupled(self.pieces)
        fit = Normal(self.fit.mean, self.fit.sd)
        rough = self._hypotheses("seat", tuple(uncoupled(s, fit)[0] for s in said))
        kept = plausible(rough)
        seats = {AS_SAID: said, FAR_OFF: said, SWAPPED: _turned(said)}
        found = [coupled_posterior(h.prior, self.fit, seats[h.name], self.leaning) for h in kept]
        logs = np.array(
            [math.log(h.chance) + f.log_evidence for h, f in zip(kept, found, strict=True)]
        )
        chances = np.exp(logs - logs.max()) / np.exp(logs - logs.max()).sum()
        parts = tuple((float(c), f) for c, f in zip(chances, found, strict=True))
        named = {h.name: float(c) for h, c in zip(kept, chances, strict=True)}
        return CoupledMixture(parts), named

    @property
    def seat(self) -> CoupledMixture:
        """Joint posterior of the fit's offset and the seat's."""
        return self._seat[0]

    def chance_of(self, aspect: Aspect, name: str) -> float:
        """Return the chance of one way to take an aspect's verdicts."""
        if aspect == "seat":
            return self._seat[1].get(name, 0.0)
        return (self.weighed_fit if aspect == "fit" else self.weighed_centre).of(name)

    def as_taken(self, aspect: Aspect) -> tuple[Normal, tuple[Evidence, ...]]:
        """Prior and verdicts of the fit or the centre under the likeliest hypothesis: what else is
        odd is odd beside it.
        """
        likeliest = (self.weighed_fit if aspect == "fit" else self.weighed_centre).likeliest
        return Normal(likeliest.prior.mean, likeliest.prior.sd), likeliest.evidence

    def _hypotheses(self, aspect: Aspect, evidence: tuple[Evidence, ...]) -> list[Hypothesis]:
        """The ways to take an aspect's verdicts, as they were said first."""
        prior, far = self.prior(aspect), defaults.FAR_OFF[aspect]
        ways = [Hypothesis(AS_SAID, 1 - defaults.SWAPPED - far, prior, evidence)]
        if (
            defaults.SWAPPED
            and not self._said_again(aspect)
            and any(e.other is not None for e in evidence)
        ):
            ways.append(Hypothesis(SWAPPED, defaults.SWAPPED, prior, turned(evidence)))
        if not far:
            return ways
        wide = Normal(prior.mean, math.hypot(prior.sd, defaults.FAR_OFF_SD[aspect]))
        return [*ways, Hypothesis(FAR_OFF, far, wide, evidence)]

    def _said_again(self, aspect: Aspect) -> bool:
        """Whether an aspect's side was said again of a second piece cut alike: who is asked and
        repeats it means it.

        Not where numbers tell: two that contradict the first outweigh the word, and the setting
        goes the other way.
        """
        judged = [(p, said.side) for p in self.pieces if (said := p.verdict.of(aspect)) is not None]
        if len(judged) < 2 or judged[-1][1] == 0:
            return False
        (before, side), (now, again) = judged[-2:]
        if aspect != "fit" and any(
            self.joint.reading_of(aspect, p) is not None for p in self.pieces
        ):
            return False
        alike = (
            abs(now.settings["bit_height"] - before.settings["bit_height"]) <= SAME
            or aspect == "centre"
        )
        return side == again and alike and abs(misplaced(self.joint, aspect, now, before)) <= SAME

    def real_chance(self, nominal: float) -> float:
        """Chance that the real boards' clearance, as one more piece comes out, is inside its
        window.

        nominal: what the figures give there, mm.
        """
        at, window, varies = (
            np.array([nominal]),
            self.joint.window("fit"),
            self.joint.piece_sd("fit"),
        )
        found = self.stock.evidence("fit", self.pieces) if self.joint.wood else ()
        if found:
            return float(chance_good(posterior(self.real, found), at, window, varies)[0])
        return float(
            chance_good(self.fit, at + self.apart.mean, window, math.hypot(self.apart.sd, varies))[
                0
            ]
        )


def _turned(said: Sequence[Coupled]) -> tuple[Coupled, ...]:
    seats = turned([s.evidence for s in said])
    return tuple(
        Coupled(e, s.round_end, s.driver_nominal, s.driver_sd, s.driver)
        for s, e in zip(said, seats, strict=True)
    )


def know(
    plan: Plan,
    pieces: Sequence[Piece],
    past: History,
    height: float,
    by: str = "",
    slots: Sequence[Piece] = (),
) -> Knowledge:
    """Return what is known of `plan` from its pieces, its measured slots and earlier finished
    set-ups.

    height: the bit height about which the fit's causes are taken, mm.  by: the person at work.
    Pure: the same log gives the same answer.
    """

    @cache
    def opened(wood: str) -> Joint:
        return joint_of(plan, past.voices, by, wood)

    wood = plan.wood(
        pieces[-1].scrap if pieces else ""
    )  # the next piece is cut in what the last one was
    joint = opened(wood)
    readings = joint.term_readings([*slots, *pieces])
    misread = tuple(r for r in readings if suspect(r))
    lessons: dict[Aspect, Lessons] = {a: past.of(a) for a in ASPECTS}
    doubt = {a: doubt_of(len(lessons[a])) for a in ASPECTS}
    measured = tuple(r for r in readings if r not in misread)
    fit = lessons["fit"] = lessons["fit"].and_(measured)
    cold = {aspect: lessons[aspect].law(joint.terms(aspect, height)) for aspect in ASPECTS}
    before = fit_before(plan, pieces, wood, opened, fit, height, doubt["fit"])
    real = fit_before(plan, pieces, "", opened, fit, height, doubt["fit"]) if wood else before
    doubt["fit"] *= before == cold["fit"]  # pieces in another wood have told the scale
    apart = fit.law(joint.wood_terms(""))
    given, leaning = past.seat_and_fit(
        joint.terms("seat", height), joint.terms("fit", height), measured
    ).leaning()
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
        given,
        leaning,
        doubt,
    )


def doubt_of(lessons: int) -> float:
    """Return how uncertain the scale of a prior's sd is, as the sd of its log, after so many
    lessons.
    """
    return defaults.SCALE_DOUBT / math.sqrt(1 + lessons / defaults.COMPONENT_LESSONS[0])
