"""A season in the simulated shop: one set-up after the other, each cut, judged and corrected until it is right."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from ..advisor.aim import rounded
from ..domain import SETTING_OF, Plan, Settings, SetUp, TrialCut
from ..joints import joint_of
from .methods import Method
from .person import Person
from .truth import Truth

_OPENING_DAY = datetime(2030, 1, 1, 8, 0, tzinfo=UTC)  # arbitrary: nothing depends on it


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a set-up went. pieces: cut in all; first_good: the first piece settled everything; solved: within the limit."""

    setup: SetUp
    pieces: int
    first_good: bool
    solved: bool


def run(
    truth: Truth, person: Person, method: Method, plans: Sequence[Plan], most: int = 30, machine_rounding: bool = True
) -> list[Outcome]:
    """Set each plan up in turn, at most `most` pieces each, and return how each went, in order.

    machine_rounding: settings are rounded to what the machine can set, inside its limits, whoever proposed them.
    A set-up that is not solved is abandoned, and not remembered.
    """
    return list(one_by_one(truth, person, method, plans, most, machine_rounding))


def one_by_one(
    truth: Truth, person: Person, method: Method, plans: Sequence[Plan], most: int = 30, machine_rounding: bool = True
) -> Iterator[Outcome]:
    """Yield what `run` returns, each set-up as it ends."""
    season = _Season(truth, person, method, most, machine_rounding)
    return (season.tuned(number, plan) for number, plan in enumerate(plans, 1))


@dataclass(frozen=True, slots=True)
class _Season:
    truth: Truth
    person: Person
    method: Method
    most: int
    machine_rounding: bool

    def tuned(self, number: int, plan: Plan) -> Outcome:
        """Tune one set-up."""
        first = self._set(plan, self.method.first(plan), None)
        started = _OPENING_DAY + timedelta(days=number)
        setup = SetUp(number, plan, first, first, started, sharpenings=plan.bit.sharpenings)
        ready, pieces = False, 0
        while not ready and pieces < self.most:
            pieces += 1
            now = setup.shown
            setup = replace(setup, cuts=(*setup.cuts, self._cut(setup, pieces, now)))
            following, ready = self.method.after(setup)
            setup = replace(setup, shown=now if ready else self._set(plan, following, now))
        setup = replace(setup, outcome="finished" if ready else "abandoned", ended=started + timedelta(hours=8))
        if ready:
            self.method.finished(setup)
        return Outcome(setup, pieces, ready and pieces == 1, ready)

    def _cut(self, setup: SetUp, piece: int, settings: Settings) -> TrialCut:
        plan, number = setup.plan, setup.number
        misfits = self.truth.misfits(plan, number, piece, settings)
        verdict = self.person.judge(plan, number, piece, misfits, self.truth.theta(plan))
        at = setup.started + timedelta(minutes=5 * piece)
        return TrialCut(1000 * number + piece, piece, settings, verdict, advised=settings, at=at)

    def _set(self, plan: Plan, wanted: Settings, last: Settings | None) -> Settings:
        """What is really set when `wanted` is dialled: a setting that stays stays as it is."""
        if not self.machine_rounding:
            return wanted
        joint = joint_of(plan)
        for aspect in SETTING_OF:
            value, held = wanted.of(aspect), last.of(aspect) if last else None
            if held is None or abs(value - held) > 1e-9:
                limit = joint.limit(aspect)
                ends = (limit.low, limit.high)
                wanted = wanted.with_(aspect, rounded(plan, aspect, value, held, ends, ends))
        return wanted
