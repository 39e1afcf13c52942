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
from ..domain import Aspect, Piece, Plan, SetUp, merge
from ..domain.standing import ended
from ..estimator.coupled import Leaning
from ..estimator.evidence import Evidence, Term, TermReading, Voices
from ..estimator.history import Components, Lessons, learnt, suspect
from ..estimator.linearised import uncoupled
from ..estimator.moments import moments
from ..estimator.posterior import Normal
from ..estimator.scale import Meeting, Scale
from ..families import Joint, joint_of
from ..families.half_blind.names import ASPECTS
from .voices import Speaker, meetings, scale_of, voices


@dataclass(frozen=True, slots=True)
class Lesson:
    """What one finished set-up teaches. heard: readings of sums of causes, by aspect; those of the
    bit under "fit".

    leaning: what it says of seat and fit together, where its seat was judged.
    """

    setup: int
    heard: Mapping[Aspect, tuple[TermReading, ...]]
    leaning: TermReading | None = None


class Joined(NamedTuple):
    """Laws of the seat's and the fit's offset before a set-up's pieces, and their
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
            return p.bit.name, p.machine.name if p.machine else None, round(p.pitch, 6)

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

    def seat_and_fit(
        self, seat: Sequence[Term], fit: Sequence[Term], measured: Sequence[TermReading]
    ) -> Joined:
        """Return the laws of the seat's and the fit's offset together, by the newest set-ups and
        readings of the bit.
        """
        lessons = self._together.and_(measured) if measured else self._together
        return Joined(*lessons.both(seat, fit))

    @cached_property
    def _together(self) -> Lessons:
        heard = [
            _of_its_day(r, lesson.setup)
            for lesson in self.lessons[-defaults.HISTORY_NEWEST :]
            for r in (*lesson.heard.get("fit", ()), *((lesson.leaning,) if lesson.leaning else ()))
        ]
        return Lessons(heard, {**self.of("seat").components, **self.of("fit").components})

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
    fits: dict[int, Normal] = {}
    leaning: dict[int, TermReading] = {}
    for aspect in ASPECTS:
        said = {i: e for i, o in enumerate(opened) if (e := o.evidence(aspect, fits.get(i)))}
        terms = {i: opened[i].joint.terms(aspect, opened[i].height) for i in said}
        wide = {i: _prior(terms[i]) for i in said}
        found = dict(zip(said, moments(list(wide.values()), list(said.values())), strict=True))
        if aspect == "fit":
            fits = found
        for i, law in found.items():
            lesson = learnt(wide[i], law)
            if lesson is None:
                continue
            if aspect == "seat":
                slope, fit = opened[i].leans(fits.get(i)), opened[i].fit_law(fits.get(i))
                leaning[i] = _leaning(opened[i], slope, fit, lesson)
                lesson = Normal(lesson.mean, math.hypot(lesson.sd, slope * fit.sd))
            heard[i][aspect] = (TermReading(aspect, terms[i], lesson.mean, lesson.sd),)
    for i, o in enumerate(opened):
        own = tuple(r for r in o.joint.term_readings(o.pieces) if not suspect(r))
        if own:
            heard[i]["fit"] = (*heard[i].get("fit", ()), *own)
    return [
        Lesson(s.number, h, leaning.get(i))
        for i, ((s, _), h) in enumerate(zip(setups, heard, strict=True))
    ]


def _leaning(opened: _Opened, slope: float, fit: Normal, seat: Normal) -> TermReading:
    """The seat's lesson with the part that hangs on the fit's offset: a reading of both together.

    What is known of the seat is where its tails came to rest, and that is the seat's offset less
    the depth that the clearance took. At another set-up with the same bit the clearance is off in
    the same way, so that the two errors cancel.
    """
    fit_terms = (
        replace(t, factor=-slope * t.factor) for t in opened.joint.terms("fit", opened.height)
    )
    return TermReading(
        "seat",
        (*opened.joint.terms("seat", opened.height), *fit_terms),
        seat.mean - slope * fit.mean,
        seat.sd,
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
        self.pieces = pieces
        self.height = pieces[-1].settings["bit_height"] if pieces else setup.first["bit_height"]

    def evidence(self, aspect: Aspect, fit: Normal | None) -> tuple[Evidence, ...]:
        """What its pieces say of an aspect's offset; of the seat's, that of `_leans` taken off."""
        if aspect != "seat":
            return self.joint.evidence(aspect, self.pieces)
        # The piece judged last tells where the seat ended; the depth that its clearance took leans
        # on the fit.
        last = self.joint.coupled(self.pieces)[-1:]
        return tuple(uncoupled(c, self.fit_law(fit))[0] for c in last)

    def fit_law(self, fit: Normal | None) -> Normal:
        """The fit's offset: as its own pieces left it, or as it is assumed where none
        was judged.
        """
        return fit or _NOTHING.law(self.joint.terms("fit", self.height))

    def leans(self, fit: Normal | None) -> float:
        """By how much the seat fell short for each mm that the fit's offset lies above its mean."""
        last = self.joint.coupled(self.pieces)[-1:]
        return uncoupled(last[0], self.fit_law(fit))[1] if last else 0.0
