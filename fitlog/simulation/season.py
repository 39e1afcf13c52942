"""A season in the simulated shop: one set-up after the other, each cut, judged and corrected until
it is right.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta

from .. import defaults
from ..advice.ends import can_go_on
from ..domain import Aspect, Plan, Settings, SetUp, TrialCut, Verdict
from ..families import joint_of
from .methods import Knowing, Method, Slotting
from .person import Person
from .simulated import simulated
from .truth import BOARDS, Truth

_OPENING_DAY = datetime(2030, 1, 1, 8, 0, tzinfo=UTC)  # arbitrary: nothing depends on it


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a set-up went. pieces: cut in all; first_good: the first piece settled everything;
    solved: within the limit.

    within: the real boards come out inside every window in play; a set-up given up has none. turns:
    of each piece, what its second pass took off, mm, below 0 on the side where it can snatch; None
    where there was none.
    """

    setup: SetUp
    pieces: int
    first_good: bool
    solved: bool
    within: bool = False
    turns: tuple[float | None, ...] = ()

    @property
    def snatched(self) -> tuple[bool, ...]:
        """Of each second pass, whether it shaved the side where it can snatch too much."""
        return tuple(
            taken < -defaults.FENCE_SIDE_SHAVING for taken in self.turns if taken is not None
        )


def run(
    truth: Truth,
    person: Person,
    method: Method,
    plans: Sequence[Plan],
    most: int = 30,
    machine_rounding: bool = True,
) -> list[Outcome]:
    """Set each plan up in turn, at most `most` pieces each, and return how each went, in order.

    machine_rounding: settings are rounded to what the machine can set, inside its limits, whoever
    proposed them. A set-up that is not solved is abandoned, and not remembered.
    """
    return list(one_by_one(truth, person, method, plans, most, machine_rounding))


def one_by_one(
    truth: Truth,
    person: Person,
    method: Method,
    plans: Sequence[Plan],
    most: int = 30,
    machine_rounding: bool = True,
) -> Iterator[Outcome]:
    """Yield what `run` returns, each set-up as it ends."""
    season = _Season(truth, person, method, most, machine_rounding)
    return (season.tuned(number, plan) for number, plan in enumerate(plans, 1))


@dataclass(slots=True)
class _Season:
    truth: Truth
    person: Person
    method: Method
    most: int
    machine_rounding: bool
    off: Mapping[Aspect, float] = field(
        default_factory=dict
    )  # how far each setting really is off what was dialled, mm
    turns: tuple[float | None, ...] = ()

    def tuned(self, number: int, plan: Plan) -> Outcome:
        """Tune one set-up."""
        proposed, lead = self.method.first(plan), plan.family.lead
        # It is tuned already, whoever tunes the rest: a joint that binds seats otherwise.
        if lead not in plan.in_play:
            proposed = proposed.moved(lead, self.truth.fitting(plan, number))
        first = self._set(plan, proposed, None)
        started = _OPENING_DAY + timedelta(days=number)
        setup = SetUp(number, plan, first, first, started, sharpenings=plan.bit.sharpenings)
        setup = self._slotted(setup)
        ready, pieces, before, self.turns = False, 0, None, ()
        while not ready and pieces < self.most:
            pieces += 1
            now = setup.shown
            self.off = self._dialled(setup, pieces, now, before)
            setup = replace(setup, cuts=(*setup.cuts, self._cut(setup, pieces, now)))
            following, ready = self.method.after(setup)
            setup, before = (
                replace(setup, shown=now if ready else self._set(plan, following, now)),
                now,
            )
        setup = replace(
            setup, outcome="finished" if ready else "abandoned", ended=started + timedelta(hours=8)
        )
        within = ready and self._within(setup)
        if ready:
            self.method.finished(setup)
        return Outcome(setup, pieces, ready and pieces == 1, ready, within, self.turns)

    def _slotted(self, setup: SetUp) -> SetUp:
        """The set-up with the slots that the method wants cut in waste first, each measured, the
        settings moved by it.
        """
        while isinstance(self.method, Slotting) and self.method.wants_slot(setup):
            number, slot, at = setup.number, len(setup.cuts) + 1, setup.shown
            # A slot is no piece: its own draws have a number below 0.
            true = self.truth.slot(setup.plan, number, -slot, at)
            read = self.person.measured(true, number, slot)
            cut = TrialCut(
                1000 * number + 500 + slot,
                1,
                at,
                Verdict(),
                () if read is None else (read,),
                advised=at,
                at=setup.started + timedelta(seconds=slot),
                slot=True,
            )
            setup = replace(setup, cuts=(*setup.cuts, cut))
            setup = replace(setup, shown=self._set(setup.plan, self.method.after(setup)[0], at))
        return setup

    def _cut(self, setup: SetUp, piece: int, settings: Settings) -> TrialCut:
        plan, number, real = setup.plan, setup.number, self._really(settings)
        last = setup.last_piece()
        # Whoever can go on with the end that was cut does: it is the same wood again.
        again = last is not None and plan.family.recuts and can_go_on(settings, last)
        end = last.own_end if again and last is not None else None
        misfits = self.truth.misfits(plan, number, piece, real, end)
        by, zeroed = self._shown_by(setup), plan.family.zeroed
        true, taken = self.truth.shown(plan, number, piece, real, by) if by else (None, None)
        self.turns = (*self.turns, taken)
        read = None if true is None else self.person.measured(true, number, piece, zeroed)
        judged = tuple(a for a in plan.in_play if a != zeroed or (by and read is None))
        stands_for = self.truth.stands_for(plan, number)
        verdict = self.person.judge(plan, number, piece, misfits, stands_for, judged)
        at = setup.started + timedelta(minutes=5 * piece)
        readings = () if read is None else (read,)
        return TrialCut(
            1000 * number + piece,
            piece,
            settings,
            verdict,
            readings,
            advised=settings,
            at=at,
            end=end,
        )

    def _shown_by(self, setup: SetUp) -> str:
        """How the next piece shows what is zeroed; not at all where that is not in play."""
        if setup.plan.family.zeroed not in setup.plan.in_play:
            return ""
        if isinstance(self.method, Knowing):
            return self.method.shown_by(setup)
        return simulated(setup.plan.joint).USUAL

    def _within(self, setup: SetUp) -> bool:
        """Whether the real boards come out inside all windows, as stated at the start, at what the
        method believes in.

        Each as one more piece comes out; a zero need only be known, whatever mark it lies on.
        """
        plan, last, zeroed = setup.plan, setup.cuts[-1].settings, setup.plan.family.zeroed
        believed = self.method.real(setup) if isinstance(self.method, Knowing) else last
        boards = self._set(plan, believed, last)
        self.off = self._dialled(setup, BOARDS, boards, last)
        boards = self._really(boards)
        boards = boards if zeroed is None else boards.moved(zeroed, believed.of(zeroed))
        misfits, joint = self.truth.misfits(plan, setup.number, BOARDS, boards), joint_of(plan)
        return all(joint.window(aspect).holds(misfits[aspect]) for aspect in plan.in_play)

    def _set(self, plan: Plan, wanted: Settings, last: Settings | None) -> Settings:
        """What is dialled when `wanted` is asked for: the nearest inside the limits; what stays,
        stays as it is.
        """
        if not self.machine_rounding:
            return wanted
        joint = joint_of(plan)
        for aspect in plan.family.setting_of:
            value, held = wanted.of(aspect), last.of(aspect) if last else None
            if held is None or abs(value - held) > 1e-9:
                limit, can = (
                    joint.limit(plan.family.setting_of[aspect], wanted),
                    plan.adjuster(aspect, held),
                )
                value = can.nearest(min(max(value, limit.low), limit.high))
                value = can.above(limit.low) if value < limit.low else value
                wanted = wanted.moved(
                    aspect, can.below(limit.high) if value > limit.high else value
                )
        return wanted

    def _dialled(
        self, setup: SetUp, piece: int, now: Settings, before: Settings | None
    ) -> dict[Aspect, float]:
        """How far each setting really is off: anew where it was dialled for this piece, as before
        where it stayed.
        """
        out: dict[Aspect, float] = {}
        for aspect in setup.plan.family.setting_of:
            stays = before is not None and abs(now.of(aspect) - before.of(aspect)) <= 1e-9
            sd = setup.plan.adjuster(aspect).sd if self.machine_rounding else 0.0
            out[aspect] = (
                self.off[aspect] if stays else self.truth.dialled(setup.number, piece, aspect, sd)
            )
        return out

    def _really(self, settings: Settings) -> Settings:
        for aspect, off in self.off.items():
            settings = settings.moved(aspect, settings.of(aspect) + off) if off else settings
        return settings
