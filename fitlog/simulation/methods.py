"""What a way of working is, and the tool itself as one; its rivals are in `rivals`."""

from __future__ import annotations

from typing import Literal, Protocol, runtime_checkable

from ..advice.decision import Decision, decide
from ..advice.history import History
from ..domain import Plan, Settings, SetUp
from ..errors import Refused
from ..families.half_blind.opening import first_settings
from ..families.half_blind.plan import dovetail
from .reckoning import opening
from .rivals import Habit, Notebook

__all__ = [
    "Advised",
    "Habit",
    "Knowing",
    "Method",
    "Notebook",
    "Slotting",
    "Undeterred",
    "Way",
    "opening",
]

Way = Literal["turn", "walls", ""]


class Method(Protocol):
    """A way of working. It may remember, so every season takes a fresh one."""

    def first(self, plan: Plan) -> Settings:
        """Return the settings for the first piece, mm."""

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        """Return the settings for the next piece, and whether everything in play is settled
        instead.
        """

    def finished(self, setup: SetUp) -> None:
        """Remember a set-up that ended well."""


@runtime_checkable
class Knowing(Method, Protocol):
    """A way of working that knows how to look at the centre, and the zero whatever mark the fence
    stands on.

    One that is only a `Method` turns every piece, and takes the fence of its last piece for the
    zero.
    """

    def centre_by(self, setup: SetUp) -> Way:
        """Return how the next piece shows the centre: by the turn, by its two walls before any
        turn, "" not at all.
        """

    def real(self, setup: SetUp) -> Settings:
        """Return what is believed right for the real boards, mm: the fence the zero itself,
        unrounded.
        """


@runtime_checkable
class Slotting(Method, Protocol):
    """A way of working that may cut a slot in waste and measure it before the next piece."""

    def wants_slot(self, setup: SetUp) -> bool:
        """Tell whether to cut one now."""


class Advised:
    """The tool itself. past: what it knows to begin with. remembers: whether finished set-ups are
    added to that.

    slots: how many slots in waste are cut and measured before the first piece of a set-up.
    """

    def __init__(
        self, past: History | None = None, *, remembers: bool = True, slots: int = 0
    ) -> None:
        self.past = History() if past is None else past  # an empty history is false
        self.remembers, self.slots = remembers, slots
        self._made: tuple[SetUp, History, Decision] | None = None

    def first(self, plan: Plan) -> Settings:
        """Return the first settings that the tool proposes, mm."""
        return first_settings(dovetail(plan), self.past)

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        """Return what the tool proposes next, and whether it calls the set-up ready."""
        made = self.decided(setup)
        return made.settings, made.ready

    def finished(self, setup: SetUp) -> None:
        """Add the set-up to the history."""
        if self.remembers:
            self.past = self.past.and_(setup)

    def centre_by(self, setup: SetUp) -> Way:
        """Return how the tool wants the centre of the next piece looked at."""
        way: Way = getattr(self.decided(setup), "centre_by", "turn")
        return way

    def wants_slot(self, setup: SetUp) -> bool:
        """Tell whether one of the slots is still to be cut."""
        return len(setup.cuts) < self.slots

    def real(self, setup: SetUp) -> Settings:
        """Return what the tool would set for the real boards, its fence the zero that it believes
        in, mm.
        """
        made = self.decided(setup)
        settings: Settings = getattr(made, "real", None) or made.settings
        zero = getattr(made, "zero", None)
        return (
            settings
            if zero is None
            else settings.moved("centre", settings["fence_offset"] - zero.mean)
        )

    def decided(self, setup: SetUp) -> Decision:
        """Return the decision after the pieces of a set-up, made once."""
        made = self._made
        if (
            made is None
            or made[0].cuts is not setup.cuts
            or made[0].number != setup.number
            or made[1] is not self.past
        ):
            made = self._made = (setup, self.past, decide(setup, self.past))
        return made[2]


class Undeterred(Knowing):
    """A method that goes on from the printed figures where it refuses a pitch that no height seems
    to serve.
    """

    def __init__(self, method: Method) -> None:
        self._method = method

    def first(self, plan: Plan) -> Settings:
        try:
            return self._method.first(plan)
        except Refused:
            return opening(plan, {})

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        return self._method.after(setup)

    def finished(self, setup: SetUp) -> None:
        self._method.finished(setup)

    def centre_by(self, setup: SetUp) -> Way:
        return self._method.centre_by(setup) if isinstance(self._method, Knowing) else "turn"

    def wants_slot(self, setup: SetUp) -> bool:
        return isinstance(self._method, Slotting) and self._method.wants_slot(setup)

    def real(self, setup: SetUp) -> Settings:
        return (
            self._method.real(setup)
            if isinstance(self._method, Knowing)
            else setup.cuts[-1].settings
        )
