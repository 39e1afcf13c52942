"""The next settings and what is settled: the core of the advice, without its words."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from ..domain import Aspect, Piece, Settings, SetUp
from .aim import Aim, aim
from .chances import Outlook
from .history import History
from .knowledge import Knowledge, know


@dataclass(frozen=True)
class Decision:
    """What to set for the next piece. base: the settings it starts from; settled: aspects that stay as they are."""

    known: Knowledge
    pieces: tuple[Piece, ...]
    base: Settings
    found: Aim
    settled: tuple[Aspect, ...]

    @property
    def settings(self) -> Settings:
        """The next settings, true mm, rounded to the machine's steps."""
        return self.found.settings

    @property
    def unsettled(self) -> tuple[Aspect, ...]:
        """Aspects in play that are still open."""
        return tuple(a for a in self.known.joint.plan.in_play if a not in self.settled)

    @property
    def ready(self) -> bool:
        """Whether nothing is left to tune."""
        return not self.unsettled

    @cached_property
    def outlook(self) -> Outlook:
        """What to expect of a piece cut at the settings."""
        return Outlook(self.known, self.settings)


def decide(setup: SetUp, past: History) -> Decision:
    """Return the decision on the next piece of a set-up, given what earlier set-ups taught."""
    plan, pieces = setup.plan, setup.pieces()
    base = pieces[-1].settings if pieces else setup.first
    known = know(plan, pieces, past, setup.first.bit_height, pieces[-1].by if pieces else setup.by)
    found = aim(known, pieces, base) if pieces else Aim(setup.first)
    return Decision(known, pieces, base, found, tuple(a for a in plan.in_play if a in found.held))
