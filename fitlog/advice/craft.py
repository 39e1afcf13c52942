"""What a family's own craft adds to the advice: where a set-up begins, how a piece is cut so that
it shows all, what is to be minded and said.
A family's folder has it as a module `craft`; it is found by the folder's name and not imported from
here, since it builds on the advice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from importlib import import_module
from typing import Protocol, cast

from ..domain import Aspect, Figures, Plan, Reading, Remark, Settings, Verdict
from ..families import folder_of
from .decision import Decision
from .history import History
from .knowledge import Knowledge


class Craft(Protocol):
    """The functions of a family's `craft` module."""

    def first_settings(self, plan: Plan, past: History, by: str = "") -> Settings:
        """Return the settings for the first piece, as the machine can make them.

        Raises Refused where no setting is safe.
        """

    def check(
        self, plan: Plan, settings: Settings, changed: Mapping[str, float], sizes: Figures
    ) -> None:
        """Refuse settings that cannot have been cut. changed: those that were named, true mm;
        sizes: the piece's own figures.
        """

    def check_slot(
        self,
        verdict: Verdict,
        readings: Sequence[Reading],
        changed: Mapping[str, float],
        later: bool,
    ) -> None:
        """Refuse what nobody can say of a cut in waste, which is no piece. later: it was said of a
        piece.
        """

    def shown_by(self, made: Decision) -> str:
        """Return how the next piece is to show what it can show in more than one way; "" where
        there is no choice.
        """

    def recipe(self, plan: Plan, settings: Settings, shown_by: str) -> tuple[Remark, ...]:
        """Return the steps of one test piece at these settings."""

    def cautions(self, plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
        """Return the cautions that moves make new; None: all of them, for `start`."""

    def first_reason(self, known: Knowledge, aspect: Aspect) -> Remark | None:
        """Return where the number of the first piece comes from, None where it goes
        without saying.
        """

    def notices(self, made: Decision) -> Iterable[Remark]:
        """Return what only this family knows is to be minded at the next piece."""


def craft_of(plan: Plan) -> Craft:
    """Return the craft of a plan's family; raise `Refused` for one this version does not know."""
    return cast(Craft, import_module(f"{folder_of(plan.joint)}.craft"))
