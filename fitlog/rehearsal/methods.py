"""Ways of working: the habit of the trade, the same with a notebook, and the tool itself."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal, Protocol

from .. import defaults
from ..advisor.aim import step_of
from ..advisor.decision import decide
from ..advisor.history import History
from ..advisor.opening import first_settings
from ..advisor.settled import SAME, settled_by
from ..domain import ASPECTS, Aspect, Piece, Plan, Settings, SetUp
from ..joints import Joint, joint_of
from ..joints.half_blind import seat_depth_taken

Memory = Literal["same bit", "same bit and stock", "mean of bit"]


class Method(Protocol):
    """A way of working. It may remember, so every season takes a fresh one."""

    def first(self, plan: Plan) -> Settings:
        """Return the settings for the first piece, mm."""

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        """Return the settings for the next piece, and whether everything in play is settled instead."""

    def finished(self, setup: SetUp) -> None:
        """Remember a set-up that ended well."""


@dataclass
class Habit:
    """One aspect at a time, fit, centre, seat: a fixed step the way the word says, halved after each reversal.

    Starts from the printed geometry. step, fence_step, depth_step: first moves of bit height, fence and depth, mm.
    uses_numbers: a number said of centre or seat is corrected by itself (half the extra width); of the fit, never.
    by_degree: half the step after "slightly", twice the step after "very".
    together: every aspect that is off is corrected at once, not one at a time.
    """

    step: float = 0.3
    fence_step: float = 0.2
    depth_step: float = 0.2
    uses_numbers: bool = False
    by_degree: bool = False
    together: bool = False

    def first(self, plan: Plan) -> Settings:
        """Return the settings by the printed figures, mm."""
        return opening(plan, {})

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        """Return the next settings, and whether everything in play is settled by the tool's own rule."""
        joint, pieces, plan = joint_of(setup.plan), setup.pieces(), setup.plan
        now = pieces[-1].settings
        holders = {a: settled_by(joint, a, pieces) for a in ASPECTS if a in plan.in_play}
        unsettled = [a for a, holder in holders.items() if holder is None]
        if unsettled:
            for aspect in unsettled if self.together else unsettled[:1]:
                limit, wanted = joint.limit(aspect), now.of(aspect) + self._move(joint, aspect, pieces)
                now = now.with_(aspect, min(max(wanted, limit.low), limit.high))
            return now, False
        seat = holders.get("seat")  # another fit seats otherwise: look at the same settings again
        return now, seat is None or abs(seat.settings.bit_height - now.bit_height) <= SAME

    def finished(self, setup: SetUp) -> None:
        """Forget it."""

    def _move(self, joint: Joint, aspect: Aspect, pieces: Sequence[Piece]) -> float:
        said = [p for p in pieces if p.verdict.of(aspect) is not None]
        if not said:
            return 0.0
        reading = joint.reading_of(aspect, said[-1])
        if self.uses_numbers and aspect != "fit" and reading is not None:
            return (joint.window(aspect).middle - reading[0]) / joint.slope(aspect)
        size = self._first_step(aspect) * 0.5 ** reversals(joint, aspect, pieces)
        if self.by_degree:
            size *= degree(said[-1], aspect)
        way = -side(joint, aspect, said[-1]) * (1 if joint.slope(aspect) > 0 else -1)
        return way * max(size, _least(joint.plan, aspect))

    def _first_step(self, aspect: Aspect) -> float:
        return {"fit": self.step, "centre": self.fence_step, "seat": self.depth_step}[aspect]


@dataclass
class Notebook(Habit):
    """The habit, starting from what settled last time: the last good setting, carried to today's pitch by geometry.

    memory: "same bit"; "same bit and stock", else the same bit; "mean of bit", of all its good settings.
    The zeros of fence and socket are remembered by machine and way.
    start_bias: clearance by which a bit never used before is taken to come out too tight, mm.
    """

    memory: Memory = "same bit"
    start_bias: float = 0.0
    notes: list[tuple[tuple[object, ...], str, float]] = field(default_factory=list)

    def first(self, plan: Plan) -> Settings:
        """Return the settings that the notes give, or the printed figures where there are none, mm."""
        known: dict[Aspect, float] = {"fit": self.start_bias}
        for aspect in ASPECTS:
            found = [(wood, value) for tool, wood, value in self.notes if tool == _tool(plan, aspect)]
            if self.memory == "same bit and stock":
                found = [f for f in found if f[0] == _wood(plan)] or found
            if found:
                values = [value for _, value in found]
                known[aspect] = sum(values) / len(values) if self.memory == "mean of bit" else values[-1]
        return opening(plan, known)

    def finished(self, setup: SetUp) -> None:
        """Note where each aspect in play ended, as the misfit that the printed figures give it there."""
        plan, last = setup.plan, setup.pieces()[-1]
        joint = joint_of(plan)
        for aspect in plan.in_play:
            nominal = joint.nominal(aspect, last.settings, plan.width_of(None), plan.thickness_of(None))
            value = nominal - _wanted(joint, aspect, last.settings)
            self.notes.append((_tool(plan, aspect), _wood(plan), value))


class Advised:
    """The tool itself. past: what it knows to begin with. remembers: whether finished set-ups are added to that."""

    def __init__(self, past: History | None = None, *, remembers: bool = True) -> None:
        self.past = History() if past is None else past  # an empty history is false
        self.remembers = remembers

    def first(self, plan: Plan) -> Settings:
        """Return the first settings that the tool proposes, mm."""
        return first_settings(plan, self.past)

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        """Return what the tool proposes next, and whether it calls the set-up ready."""
        made = decide(setup, self.past)
        return made.settings, made.ready

    def finished(self, setup: SetUp) -> None:
        """Add the set-up to the history."""
        if self.remembers:
            self.past = self.past.and_(setup)


def opening(plan: Plan, known: Mapping[Aspect, float]) -> Settings:
    """Return the settings that the printed figures give for the middle of every window, unrounded, mm.

    known: by aspect, how far the printed figures' misfit has been found to lie above the true one.
    """
    joint = joint_of(plan)
    settings = Settings(1.0, plan.width_of(None) / 2, plan.thickness_of(None))
    for aspect in ASPECTS:  # the fit first: the seat's figures depend on the height
        nominal = _wanted(joint, aspect, settings) + known.get(aspect, 0.0)
        settings = settings.with_(aspect, joint.setting_for(aspect, nominal, settings))
    return settings


def side(joint: Joint, aspect: Aspect, piece: Piece) -> int:
    """Return on which side of what is wanted a piece was said to be: -1, 0 (not said, or right) or +1."""
    said = piece.verdict.of(aspect)
    if said is None:
        return 0
    middle, reading = joint.window(aspect).middle, joint.reading_of(aspect, piece)
    if aspect == "fit" or reading is None:
        bands = joint.word_bands(aspect)[said.index]
        low, high = min(b[0] for b in bands), max(b[1] for b in bands)
        if low < middle < high and said.side == 0:
            return 0
        value = (max(low, middle - 10.0) + min(high, middle + 10.0)) / 2
    else:
        value = reading[0]
    return (value > middle) - (value < middle)


def degree(piece: Piece, aspect: Aspect) -> float:
    """Return how strongly it was said: 0.5 for slightly, 2 for very, 1 otherwise."""
    words = str(piece.verdict.of(aspect)).split()
    return 0.5 if "slightly" in words else 2.0 if "very" in words else 1.0


def reversals(joint: Joint, aspect: Aspect, pieces: Sequence[Piece]) -> int:
    """Count the changes of side among the verdicts that an aspect's own setting was moved for, the last one included."""
    moved = [
        side(joint, aspect, piece)
        for i, piece in enumerate(pieces)
        if i + 1 == len(pieces) or abs(pieces[i + 1].settings.of(aspect) - piece.settings.of(aspect)) > 1e-9
    ]
    sides = [s for s in moved if s]
    return sum(a != b for a, b in pairwise(sides))


def _wanted(joint: Joint, aspect: Aspect, settings: Settings) -> float:
    """The misfit that the printed figures without coupling should give: a good fit takes its depth from the seat."""
    taken = seat_depth_taken(joint.window("fit").middle, joint.round_end(settings)) if aspect == "seat" else 0.0
    return joint.window(aspect).middle + taken


def _least(plan: Plan, aspect: Aspect) -> float:
    """The smallest move that the machine makes, mm."""
    step = step_of(plan.machine, aspect)
    if step is None and aspect == "fit" and plan.machine and plan.machine.height_turn:
        return plan.machine.height_turn / defaults.TURN_PARTS
    return step or defaults.PLAIN_STEP


def _tool(plan: Plan, aspect: Aspect) -> tuple[object, ...]:
    """What a note about an aspect belongs to."""
    shop = plan.machine.name if plan.machine else ""
    return {
        "fit": ("fit", plan.bit.name),
        "centre": ("centre", shop, plan.by_eye),
        "seat": ("seat", shop, plan.rabbet_bit),
    }[aspect]


def _wood(plan: Plan) -> str:
    return plan.stock.name
