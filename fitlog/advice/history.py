"""What finished set-ups teach together: of every cause, of every person's words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from typing import NamedTuple

from .. import defaults
from ..domain import Aspect, Plan, Settings, SetUp
from ..domain.standing import ended
from ..estimator.coupled import Leaning
from ..estimator.evidence import Term, TermReading, Voices
from ..estimator.history import Components, Lessons
from ..estimator.posterior import Normal
from ..estimator.scale import Meeting, Scale
from ..families import Joint, joint_of, word_sets
from .lessons import Lesson, learn
from .voices import Speaker, carried, meetings, scale_of, usual_edges, voices


class Joined(NamedTuple):
    """Laws of a coupled aspect's and its driver's offset before a set-up's pieces, and their
    covariance, mm2.
    """

    own: Normal
    driver: Normal
    shared: float

    def leaning(self) -> tuple[Normal, Leaning]:
        """Return the aspect's own law given that its driver's offset is at its mean, and how it
        moves with the driver's.
        """
        if self.driver.sd <= 0 or self.shared == 0:
            return self.own, Leaning()
        slope = self.shared / self.driver.sd**2
        left = max(self.own.sd**2 - slope * self.shared, 1e-6)
        return Normal(self.own.mean, math.sqrt(left)), Leaning(slope, self.driver.mean)


class History:
    """What finished set-ups teach, given oldest first: a pure function of the log.

    components: the true multiples of the assumed sds, where a simulation knows them; None:
    estimated.
    """

    def __init__(self, setups: Sequence[SetUp] = (), components: Components | None = None) -> None:
        # What a run of real boards shows is what moved in it, a bit that creeps or a lock that
        # gives, and is gone when the next set-up is set anew: the pieces before it teach.
        self._opened = [(s, s.before_run()) for s in setups]
        self._components = components
        self._by_aspect: dict[Aspect | None, Lessons] = {}
        self._both: dict[Aspect, Lessons] = {}

    def __len__(self) -> int:
        return len(self._opened)

    def newest_first(self) -> list[SetUp]:
        """Return the set-ups themselves."""
        return [setup for setup, _ in reversed(self._opened)]

    def last_like(self, plan: Plan) -> int | None:
        """Return the number of the newest set-up of the same work as a plan, or None: its stops can
        stay.
        """
        found = self.like(plan)
        return None if found is None or ended(found) == "as it is" else found.number

    def like(self, plan: Plan) -> SetUp | None:
        """Return the newest set-up of the same work as a plan, one that ended good before one that
        did not.
        """
        alike = [s for s, _ in self._opened if s.plan.work() == plan.work()]
        good = [s for s in alike if ended(s) != "as it is"]
        return next(reversed(good or alike), None)

    @cached_property
    def met(self) -> dict[Speaker, list[Meeting]]:
        """The words that met a reading, by who said them."""
        found: dict[Speaker, list[Meeting]] = {}
        for setup, pieces in self._opened:
            for speaker, meeting in meetings(joint_of(setup.plan), pieces):
                own = word_sets(setup.plan.joint, speaker[1])[""]
                met = carried(meeting, own, usual_edges(speaker[1]))
                found.setdefault(speaker, []).append(met)
        return found

    @cached_property
    def scales(self) -> dict[Speaker, Scale]:
        """How people use their words, where readings met them."""
        return {one: scale_of(usual_edges(one[1]), met) for one, met in self.met.items()}

    @cached_property
    def voices(self) -> Voices:
        """The same as the joints use it."""
        return voices(self.scales)

    @cached_property
    def lessons(self) -> list[Lesson]:
        """The lesson of each set-up."""
        return learn(self._opened, self.voices)

    def of(self, aspect: Aspect | None) -> Lessons:
        """Return what is known of an aspect's causes; None: of those of each set-up's lead, which
        the wood and the cutter show in whatever the joint.
        """
        leads = set[Aspect]() if aspect else {setup.plan.family.lead for setup, _ in self._opened}
        aspect = leads.pop() if len(leads) == 1 else aspect
        if aspect not in self._by_aspect:
            heard = [r for lesson in self.lessons for r in lesson.of(aspect)]
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

    def taught(self, aspect: Aspect | None, terms: Sequence[Term]) -> int:
        """Return how many set-ups spoke of a cause that an aspect's offset is made of; None: that
        of each set-up's lead.
        """
        return len(set().union(*(self._spoke.get((aspect, t.key), ()) for t in terms if not t.own)))

    @cached_property
    def _spoke(self) -> dict[tuple[Aspect | None, tuple[str, ...]], set[int]]:
        """The set-ups that spoke of each cause, by aspect and key."""
        found: dict[tuple[Aspect | None, tuple[str, ...]], set[int]] = {}
        for place, lesson in enumerate(self.lessons):
            for aspect in (None, *lesson.heard):
                for term in (t for r in lesson.of(aspect) for t in r.terms if not t.own):
                    found.setdefault((aspect, term.key), set()).add(place)
        return found

    def and_(self, *setups: SetUp) -> History:
        """Return this history and more set-ups."""
        more = History((), self._components)
        more._opened = [*self._opened, *((s, s.before_run()) for s in setups)]
        if more.voices == self.voices:  # then the earlier lessons stay what they are
            more.lessons = [*self.lessons, *learn(more._opened[len(self) :], self.voices)]
        return more


def _of_its_day(reading: TermReading, setup: int) -> TermReading:
    """A reading whose own causes are named for their set-up, so that two readings of one set-up
    share them.
    """
    terms = tuple(
        replace(t, key=(*t.key, str(setup)), own=False) if t.own else t for t in reading.terms
    )
    return replace(reading, terms=terms)
