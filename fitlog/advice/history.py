"""What finished set-ups teach: for each aspect the sum of its causes, as uncertain as the set-up
ended.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

from .. import defaults
from ..domain import Aspect, Piece, Plan, Settings, SetUp, merge
from ..domain.standing import ended
from ..estimator.coupled import Leaning
from ..estimator.evidence import Evidence, Term, TermReading, Voices
from ..estimator.history import Components, Lessons, learnt, suspect
from ..estimator.linearised import uncoupled
from ..estimator.moments import moments
from ..estimator.posterior import Normal
from ..estimator.scale import Meeting, Scale
from ..families import Joint, joint_of
from ..families.half_blind.plan import dovetail
from .voices import Speaker, meetings, scale_of, voices


@dataclass(frozen=True, slots=True)
class Lesson:
    """What one finished set-up teaches. heard: readings of sums of causes, by aspect; those of the
    bit under the lead.

    leaning: what it says of a coupled aspect and its driver together, where that was judged.
    """

    setup: int
    heard: Mapping[Aspect, tuple[TermReading, ...]]
    leaning: Mapping[Aspect, tuple[TermReading, ...]]


class Joined(NamedTuple):
    """Laws of a coupled aspect's and its driver's offset before a set-up's pieces, and their
    covariance, mm2.
    """

    seat: Normal
    fit: Normal
    shared: float

    def leaning(self) -> tuple[Normal, Leaning]:
        """Return the seat's law given that the fit's offset is at its mean, and how it moves with
        the fit's.
        """
        if self.fit.sd <= 0 or self.shared == 0:
            return self.seat, Leaning()
        slope = self.shared / self.fit.sd**2
        left = max(self.seat.sd**2 - slope * self.shared, 1e-6)
        return Normal(self.seat.mean, math.sqrt(left)), Leaning(slope, self.fit.mean)


class History:
    """What finished set-ups teach, given oldest first: a pure function of the log.

    components: the true multiples of the assumed sds, where a simulation knows them; None:
    estimated.
    """

    def __init__(self, setups: Sequence[SetUp] = (), components: Components | None = None) -> None:
        self._opened = [(s, merge(s.cuts)) for s in setups]
        self._components = components
        self._by_aspect: dict[Aspect, Lessons] = {}
        self._both: dict[Aspect, Lessons] = {}

    def __len__(self) -> int:
        return len(self._opened)

    def last_like(self, plan: Plan) -> int | None:
        """Return the number of the newest set-up with a plan's bit, machine and pitch, or None: its
        stops can stay.
        """
        found = self.like(plan)
        return None if found is None or ended(found) == "as it is" else found.number

    def like(self, plan: Plan) -> SetUp | None:
        """Return the newest set-up with a plan's bit, machine and pitch, one that ended good before
        one that did not.
        """

        def what(p: Plan) -> tuple[object, ...]:
            return p.bit.name, p.machine.name if p.machine else None, round(dovetail(p).pitch, 6)

        alike = [s for s, _ in self._opened if what(s.plan) == what(plan)]
        good = [s for s in alike if ended(s) != "as it is"]
        return next(reversed(good or alike), None)

    @cached_property
    def met(self) -> dict[Speaker, list[Meeting]]:
        """The words that met a reading, by who said them."""
        found: dict[Speaker, list[Meeting]] = {}
        for setup, pieces in self._opened:
            for speaker, meeting in meetings(joint_of(setup.plan), pieces):
                found.setdefault(speaker, []).append(meeting)
        return found

    @cached_property
    def scales(self) -> dict[Speaker, Scale]:
        """How people use their words, where readings met them."""
        return {speaker: scale_of(speaker[1], met) for speaker, met in self.met.items()}

    @cached_property
    def voices(self) -> Voices:
        """The same as the joints use it."""
        return voices(self.scales)

    @cached_property
    def lessons(self) -> list[Lesson]:
        """The lesson of each set-up."""
        return _learn(self._opened, self.voices)

    def of(self, aspect: Aspect) -> Lessons:
        """Return what is known of an aspect's causes."""
        if aspect not in self._by_aspect:
            heard = [r for lesson in self.lessons for r in lesson.heard.get(aspect, ())]
            self._by_aspect[aspect] = Lessons(heard, self._components)
        return self._by_aspect[aspect]

    def together(
        self,
        aspect: Aspect,
        driver: Aspect,
        joint: Joint,
        about: Settings,
        measured: Sequence[TermReading],
    ) -> Joined:
        """Return the laws of a coupled aspect's offset and its driver's together, by the newest
        set-ups and readings of the bit. about: the first settings.
        """
        if aspect not in self._both:
            self._both[aspect] = self._lessons_of_both(aspect, driver)
        lessons = self._both[aspect]
        lessons = lessons.and_(measured) if measured else lessons
        return Joined(*lessons.both(joint.terms(aspect, about), joint.terms(driver, about)))

    def _lessons_of_both(self, aspect: Aspect, driver: Aspect) -> Lessons:
        heard = [
            _of_its_day(r, lesson.setup)
            for lesson in self.lessons[-defaults.HISTORY_NEWEST :]
            for r in (*lesson.heard.get(driver, ()), *lesson.leaning.get(aspect, ()))
        ]
        return Lessons(heard, {**self.of(aspect).components, **self.of(driver).components})

    def taught(self, aspect: Aspect, terms: Sequence[Term]) -> int:
        """Return how many set-ups spoke of a cause that an aspect's offset is made of."""
        return len(set().union(*(self._spoke.get((aspect, t.key), ()) for t in terms if not t.own)))

    @cached_property
    def _spoke(self) -> dict[tuple[Aspect, tuple[str, ...]], set[int]]:
        """The set-ups that spoke of each cause, by aspect and key."""
        found: dict[tuple[Aspect, tuple[str, ...]], set[int]] = {}
        for place, lesson in enumerate(self.lessons):
            for aspect, readings in lesson.heard.items():
                for term in (t for r in readings for t in r.terms if not t.own):
                    found.setdefault((aspect, term.key), set()).add(place)
        return found

    def and_(self, *setups: SetUp) -> History:
        """Return this history and more set-ups."""
        more = History((), self._components)
        more._opened = [*self._opened, *((s, merge(s.cuts)) for s in setups)]
        if more.voices == self.voices:  # then the earlier lessons stay what they are
            more.lessons = [*self.lessons, *_learn(more._opened[len(self) :], self.voices)]
        return more


def _learn(setups: Sequence[tuple[SetUp, tuple[Piece, ...]]], spoken: Voices) -> list[Lesson]:
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
        Lesson(s.number, h, both) for (s, _), h, both in zip(setups, heard, leaning, strict=True)
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


def _of_its_day(reading: TermReading, setup: int) -> TermReading:
    """A reading whose own causes are named for their set-up, so that two readings of one set-up
    share them.
    """
    terms = tuple(
        replace(t, key=(*t.key, str(setup)), own=False) if t.own else t for t in reading.terms
    )
    return replace(reading, terms=terms)


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
