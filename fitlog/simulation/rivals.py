"""The tool's rivals: the habit of the trade, and the same with a notebook."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from .. import defaults
from ..domain import Aspect, Piece, Plan, Settings, SetUp
from ..families import Joint, joint_of
from ..families.half_blind.plan import dovetail
from .belief import believed, corrected
from .reckoning import degree, opening, reversals, side, telling, wanted

_A_HAIR = 2 * defaults.FENCE_SIDE_ROUNDING  # a shaving at the fence too thin to feel, mm
Memory = Literal["same bit", "same bit and stock", "mean of bit"]


@dataclass
class Habit:
    """One aspect at a time, fit, centre, seat: a step the way the word says, halved after each
    reversal.

    Starts from the printed geometry. step, fence_step, depth_step: first moves of bit height, fence
    and depth, mm. uses_numbers: a number said of centre or seat is corrected by itself (half the
    extra width). uses_gap: so is a pull-apart gap (raised by the gap there would be no play at all;
    it stops at the middle of the window). by_degree: half the step after "slightly", twice the step
    after "very". together: every aspect that is off is corrected at once, not one at a time. marks:
    where what is wanted lies between two neighbouring marks, the search ends there.
    """

    step: float = 0.3
    fence_step: float = 0.2
    depth_step: float = 0.2
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

    def centre_by(self, setup: SetUp) -> Literal["turn", "walls"]:
        """Return the turn where the zero is known and the second pass takes 0 to 0.8 mm off the far
        wall; else the walls.
        """
        pieces = setup.pieces()
        near = (
            bool(pieces) and side(joint_of(setup.plan), "centre", pieces[-1]) < 0
        )  # a second pass snatched there
        zero = self._zero(setup.plan, pieces)
        if zero is None or near:
            return "walls"
        shaving = 2 * (setup.shown["fence_offset"] - zero)
        return "turn" if -_A_HAIR <= shaving <= defaults.MOST_SHAVING + 1e-9 else "walls"

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
            for a in joint.plan.family.aspects
            if a in joint.plan.in_play
        }

    def _zero(self, plan: Plan, pieces: Sequence[Piece]) -> float | None:
        """The fence where the centre is believed to lie, mm; None where nobody knows."""
        return self._known(joint_of(plan), pieces).get("centre") if pieces else None

    def _next(self, joint: Joint, aspect: Aspect, pieces: Sequence[Piece]) -> float:
        """Where to set an aspect that is looked for, mm; what was not told of the last piece is
        looked at as it stands.
        """
        now = pieces[-1].settings.of(aspect)
        if not telling(joint, aspect, pieces[-1:]):
            return now
        exact = corrected(joint, aspect, pieces[-1]) if self._measures(aspect) else None
        return now + self._step(joint, aspect, pieces) if exact is None else exact

    def _step(self, joint: Joint, aspect: Aspect, pieces: Sequence[Piece]) -> float:
        size = self._first_step(aspect) * 0.5 ** reversals(joint, aspect, pieces)
        if self.by_degree:
            size *= degree(pieces[-1], aspect)
        way = -side(joint, aspect, pieces[-1]) * (
            1 if joint.slope(aspect, pieces[-1].settings) > 0 else -1
        )
        return way * max(size, joint.plan.adjuster(aspect, 0.0).step)

    def _measures(self, aspect: Aspect) -> bool:
        return self.uses_gap if aspect == "fit" else self.uses_numbers

    def _first_step(self, aspect: Aspect) -> float:
        return {"fit": self.step, "centre": self.fence_step, "seat": self.depth_step}[aspect]


@dataclass
class Notebook(Habit):
    """The habit, starting from what settled last time: the last good setting, carried to today's
    pitch by geometry.

    memory: "same bit"; "same bit and stock", else the same bit; "mean of bit", of all its good
    settings. The zeros of fence and socket are remembered by machine and way. start_bias: clearance
    by which a bit never used before is taken to come out too tight, mm.
    """

    memory: Memory = "same bit"
    start_bias: float = 0.0
    notes: list[tuple[tuple[object, ...], str, float]] = field(default_factory=list)

    def first(self, plan: Plan) -> Settings:
        """Return the settings that the notes give, or the printed figures where there
        are none, mm.
        """
        known: dict[Aspect, float] = {"fit": self.start_bias}
        for aspect in plan.family.aspects:
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
        if pieces or not any(tool == _tool(plan, "centre") for tool, _, _ in self.notes):
            return super()._zero(plan, pieces)
        return self.first(plan)["fence_offset"]


def _tool(plan: Plan, aspect: Aspect) -> tuple[object, ...]:
    """What a note about an aspect belongs to."""
    shop = plan.machine.name if plan.machine else ""
    return {
        "fit": ("fit", plan.bit.name),
        "centre": ("centre", shop, dovetail(plan).by_eye),
        "seat": ("seat", shop, dovetail(plan).rabbet_bit),
    }[aspect]


def _wood(plan: Plan) -> str:
    return plan.stock.name
