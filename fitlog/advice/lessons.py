"""What each finished set-up teaches by itself: for each aspect the sum of its causes, as uncertain
as the set-up ended.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from .. import defaults
from ..domain import Aspect, Piece, SetUp
from ..estimator.evidence import Evidence, Term, TermReading, Voices
from ..estimator.history import Lessons, learnt, suspect
from ..estimator.linearised import uncoupled
from ..estimator.moments import moments
from ..estimator.posterior import Normal
from ..families import Joint, joint_of


class Lesson(NamedTuple):
    """What one finished set-up teaches. heard: readings of sums of causes, by aspect; those of the
    bit under the lead.

    leaning: what it says of a coupled aspect and its driver together, where that was judged.
    """

    setup: int
    lead: Aspect
    heard: Mapping[Aspect, tuple[TermReading, ...]]
    leaning: Mapping[Aspect, tuple[TermReading, ...]]

    def of(self, aspect: Aspect | None) -> tuple[TermReading, ...]:
        """Return what it says of an aspect's causes; None: of those of its lead."""
        return self.heard.get(aspect or self.lead, ())


def learn(setups: Sequence[tuple[SetUp, tuple[Piece, ...]]], spoken: Voices) -> list[Lesson]:
    """Return the lesson of each set-up, all worked out in one sweep."""
    opened = [_Opened(s, pieces, spoken) for s, pieces in setups]
    heard: list[dict[Aspect, tuple[TermReading, ...]]] = [{} for _ in opened]
    leaning: list[dict[Aspect, tuple[TermReading, ...]]] = [{} for _ in opened]
    laws: dict[Aspect, dict[int, Normal]] = {}
    for aspect in dict.fromkeys(a for o in opened for a in o.family.tuned):
        laws[aspect] = _learn_aspect(aspect, opened, laws, heard, leaning)
    for i, o in enumerate(opened):
        own = tuple(r for r in o.joint.term_readings(o.pieces) if not suspect(r))
        if own:
            heard[i][o.family.lead] = (*heard[i].get(o.family.lead, ()), *own)
    return [
        Lesson(s.number, s.plan.family.lead, h, both)
        for (s, _), h, both in zip(setups, heard, leaning, strict=True)
    ]


def _learn_aspect(
    aspect: Aspect,
    opened: Sequence[_Opened],
    laws: Mapping[Aspect, Mapping[int, Normal]],
    heard: Sequence[dict[Aspect, tuple[TermReading, ...]]],
    leaning: Sequence[dict[Aspect, tuple[TermReading, ...]]],
) -> dict[int, Normal]:
    """Put what each set-up teaches of one aspect into `heard` and `leaning`; return the laws of its
    offset, by the set-up's place. laws: those of the aspects before it.
    """
    of = {i: o for i, o in enumerate(opened) if aspect in o.family.setting_of}
    drivers = {i: o.family.kind(aspect).driver for i, o in of.items()}
    driver_laws = {i: laws.get(d, {}).get(i) for i, d in drivers.items() if d is not None}
    said = {i: e for i, o in of.items() if (e := o.evidence(aspect, driver_laws.get(i)))}
    terms = {i: opened[i].joint.terms(aspect, opened[i].about) for i in said}
    wide = {i: _prior(terms[i]) for i in said}
    found = dict(zip(said, moments(list(wide.values()), list(said.values())), strict=True))
    for i, law in found.items():
        lesson = learnt(wide[i], law)
        if lesson is None:
            continue
        driver = drivers[i]
        if driver is not None:
            slope = opened[i].leans(aspect, driver_laws.get(i))
            by = opened[i].driver_law(driver, driver_laws.get(i))
            leaning[i][aspect] = (_leaning(opened[i], aspect, driver, slope, by, lesson),)
            lesson = Normal(lesson.mean, math.hypot(lesson.sd, slope * by.sd))
        heard[i][aspect] = (TermReading(aspect, terms[i], lesson.mean, lesson.sd),)
    return found


def _leaning(
    opened: _Opened, aspect: Aspect, driver: Aspect, slope: float, by: Normal, lesson: Normal
) -> TermReading:
    """The seat's lesson with the part that hangs on the fit's offset: a reading of both together.

    What is known of the seat is where its tails came to rest, and that is the seat's offset less
    the depth that the clearance took. At another set-up with the same bit the clearance is off in
    the same way, so that the two errors cancel.
    """
    driver_terms = (
        replace(t, factor=-slope * t.factor) for t in opened.joint.terms(driver, opened.about)
    )
    return TermReading(
        aspect,
        (*opened.joint.terms(aspect, opened.about), *driver_terms),
        lesson.mean - slope * by.mean,
        lesson.sd,
    )


_NOTHING = Lessons()


def _prior(terms: Sequence[Term]) -> Normal:
    """The assumed law of an offset, widened: a lesson must not lean on the prior that it will be
    put together with.
    """
    law = _NOTHING.law(terms)
    return Normal(law.mean, defaults.LESSON_WIDTH * law.sd)


class _Opened:
    """A finished set-up taken apart once."""

    def __init__(self, setup: SetUp, pieces: tuple[Piece, ...], spoken: Voices) -> None:
        wood = setup.plan.wood(pieces[-1].scrap if pieces else "")
        self.joint: Joint = joint_of(setup.plan, spoken, wood=wood)
        self.family, self.pieces = setup.plan.family, pieces
        self.about = pieces[-1].settings if pieces else setup.first

    def evidence(self, aspect: Aspect, driver_law: Normal | None) -> tuple[Evidence, ...]:
        """What its pieces say of an aspect's offset; of a coupled one, that of `leans` taken
        off.
        """
        driver = self.family.kind(aspect).driver
        if driver is None:
            return self.joint.evidence(aspect, self.pieces)
        # The piece judged last tells where the seat ended; the depth that its clearance took leans
        # on the fit.
        last = self.joint.coupled(self.pieces)[-1:]
        return tuple(uncoupled(c, self.driver_law(driver, driver_law))[0] for c in last)

    def driver_law(self, driver: Aspect, found: Normal | None) -> Normal:
        """The driver's offset: as its own pieces left it, or as it is assumed where none was
        judged.
        """
        return found or _NOTHING.law(self.joint.terms(driver, self.about))

    def leans(self, aspect: Aspect, driver_law: Normal | None) -> float:
        """By how much a coupled aspect fell short for each mm that its driver's offset lies above
        its mean.
        """
        driver, last = self.family.kind(aspect).driver, self.joint.coupled(self.pieces)[-1:]
        if driver is None or not last:
            return 0.0
        return uncoupled(last[0], self.driver_law(driver, driver_law))[1]
