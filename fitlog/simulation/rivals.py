"""The tool's rivals: the habit of the trade, and the same with a notebook."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from ..domain import Aspect, Piece, Plan, Settings, SetUp
from ..families import Joint, joint_of
from .belief import believed, corrected
from .reckoning import anywhere, degree, opening, reversals, side, telling, wanted
from .simulated import simulated

Memory = Literal["same bit", "same bit and stock", "mean of bit"]


@dataclass
class Habit:
    """One aspect at a time, in the family's order: a step the way the word says, halved after each
    reversal.

    Starts from the printed geometry. steps: first moves by aspect, mm; of those not named, the
    family's usual ones. uses_numbers: a number said is corrected by itself. uses_gap: so is one
    said of what only a trial settles, such as a pull-apart gap (raised by the gap there would be no
    play at all; it stops at the middle of the window). by_degree: half the step after "slightly",
    twice the step after "very". together: every aspect that is off is corrected at once, not one at
    a time. marks: where what is wanted lies between two neighbouring marks, the search ends there.
    """

    steps: Mapping[Aspect, float] = field(default_factory=dict)
    uses_numbers: bool = False
    by_degree: bool = False
    together: bool = False
    uses_gap: bool = False
    marks: bool = False

    def first(self, plan: Plan) -> Settings:
        """Return the settings by the printed figures, mm."""
        return opening(plan, {})

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        """Return the next settings, and whether everything in play is believed known instead."""
        joint, pieces = joint_of(setup.plan), setup.pieces()
        known = self._known(joint, pieces)
        looking = [aspect for aspect, setting in known.items() if setting is None]
        now = self.real(setup)
        for aspect in looking if self.together else looking[:1]:
            limit, value = (
                joint.limit(now.family.setting_of[aspect], now),
                self._next(joint, aspect, pieces),
            )
            now = now.moved(aspect, min(max(value, limit.low), limit.high))
        return now, not looking

    def finished(self, setup: SetUp) -> None:
        """Forget it."""

    def shown_by(self, setup: SetUp) -> str:
        """Return how the next piece shows the zeroed aspect, by what is believed of its zero and
        on which side the last piece lay.
        """
        pieces, zeroed = setup.pieces(), setup.plan.family.zeroed
        joint = joint_of(setup.plan)
        short = bool(pieces) and zeroed is not None and side(joint, zeroed, pieces[-1]) < 0
        zero = self._zero(setup.plan, pieces)
        return simulated(setup.plan.joint).shown_by(setup.shown, zero, short)

    def real(self, setup: SetUp) -> Settings:
        """Return the last settings, with what is believed right in their place, mm."""
        pieces = setup.pieces()
        settings = pieces[-1].settings
        for aspect, setting in self._known(joint_of(setup.plan), pieces).items():
            settings = settings if setting is None else settings.moved(aspect, setting)
        return settings

    def _known(self, joint: Joint, pieces: Sequence[Piece]) -> dict[Aspect, float | None]:
        """By aspect in play, the setting that is believed right; None while it is looked for."""
        return {
            a: believed(joint, a, pieces, numbers=self.uses_numbers, marks=self.marks)
            for a in joint.plan.family.setting_of
            if a in joint.plan.in_play
        }

    def _zero(self, plan: Plan, pieces: Sequence[Piece]) -> float | None:
        """The setting that is believed to be the zero, mm; None where nobody knows."""
        zeroed = plan.family.zeroed
        if zeroed is None or not pieces:
            return None
        return self._known(joint_of(plan), pieces).get(zeroed)

    def _next(self, joint: Joint, aspect: Aspect, pieces: Sequence[Piece]) -> float:
        """Where to set an aspect that is looked for, mm; what was not told of the last piece is
        looked at as it stands.
        """
        now = pieces[-1].settings.of(aspect)
        if not telling(joint, aspect, pieces[-1:]):
            return now
        tried = joint.plan.family.kind(aspect).tried
        measures = self.uses_gap if tried else self.uses_numbers
        exact = corrected(joint, aspect, pieces[-1]) if measures else None
        return now + self._step(joint, aspect, pieces) if exact is None else exact

    def _step(self, joint: Joint, aspect: Aspect, pieces: Sequence[Piece]) -> float:
        first = self.steps.get(aspect, simulated(joint.plan.joint).STEPS[aspect])
        size = first * 0.5 ** reversals(joint, aspect, pieces)
        if self.by_degree:
            size *= degree(pieces[-1], aspect)
        way = -side(joint, aspect, pieces[-1]) * (
            1 if joint.slope(aspect, pieces[-1].settings) > 0 else -1
        )
        return way * max(size, joint.plan.adjuster(aspect, 0.0).step)


@dataclass
class Notebook(Habit):
    """The habit, starting from what settled last time: the last good setting, carried to today's
    pitch by geometry.

    memory: "same bit"; "same bit and stock", else the same bit; "mean of bit", of all its good
    settings. All notes belong to what the aspect's first cause belongs to, such as the bit or the
    machine. start_bias: how much lower the lead's misfit is taken to come out with a bit never
    used before, mm.
    """

    memory: Memory = "same bit"
    start_bias: float = 0.0
    notes: list[tuple[tuple[object, ...], str, float]] = field(default_factory=list)

    def first(self, plan: Plan) -> Settings:
        """Return the settings that the notes give, or the printed figures where there
        are none, mm.
        """
        known: dict[Aspect, float] = {plan.family.lead: self.start_bias}
        for aspect in plan.family.setting_of:
            found = [
                (wood, value) for tool, wood, value in self.notes if tool == _tool(plan, aspect)
            ]
            if self.memory == "same bit and stock":
                found = [f for f in found if f[0] == _wood(plan)] or found
            if found:
                values = [value for _, value in found]
                known[aspect] = (
                    sum(values) / len(values) if self.memory == "mean of bit" else values[-1]
                )
        return opening(plan, known)

    def finished(self, setup: SetUp) -> None:
        """Note where each aspect in play ended, as the misfit that the printed figures give it
        there.
        """
        plan, last = setup.plan, self.real(setup)
        joint = joint_of(plan)
        for aspect in plan.in_play:
            nominal = joint.nominal(aspect, last, plan.figures())
            value = nominal - wanted(joint, aspect, last)
            self.notes.append((_tool(plan, aspect), _wood(plan), value))

    def _zero(self, plan: Plan, pieces: Sequence[Piece]) -> float | None:
        zeroed = plan.family.zeroed
        if zeroed is None or pieces or all(n[0] != _tool(plan, zeroed) for n in self.notes):
            return super()._zero(plan, pieces)
        return self.first(plan).of(zeroed)


def _tool(plan: Plan, aspect: Aspect) -> tuple[object, ...]:
    """What a note about an aspect belongs to: what the first of its causes does."""
    return aspect, *joint_of(plan).terms(aspect, anywhere(plan))[0].key


def _wood(plan: Plan) -> str:
    return plan.stock.name
