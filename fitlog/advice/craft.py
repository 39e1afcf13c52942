"""What a family's own craft adds to the advice: where a set-up begins, how a piece is cut so that
it shows all, what is to be minded and said.

A family's folder has it as a module `craft`; it is found by the folder's name and not imported from
here, since it builds on the advice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from importlib import import_module
from types import SimpleNamespace
from typing import Protocol, cast

from ..domain import Aspect, Figures, Plan, Reading, Remark, Settings, SetUp, Verdict
from ..families import folder_of
from ..families.wanted import Wanted
from .decision import Decision
from .history import History
from .knowledge import Knowledge


class Craft(Protocol):
    """The functions of a family's `craft` module; those that it lacks are `plain`'s, but for
    `first_settings` and `start_at`, which every family has.
    """

    def plan_of(self, wanted: Wanted, earlier: Sequence[SetUp], past: History, by: str) -> Plan:
        """Return the plan of a set-up: what was said, then what is repeated, then the stock's own
        sizes and what follows. earlier: finished set-ups, oldest first; past: what they taught.
        """

    def changed(self, wanted: Wanted, base: Plan, plan: Plan) -> tuple[str, ...]:
        """Return what of an earlier plan is otherwise in a new one although nobody said so, by the
        names of its fields.
        """

    def alike(self, one: Plan, other: Plan) -> bool:
        """Tell whether two plans with the same bit, boards and machine differ in nothing that makes
        them two.
        """

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

    def recipe(
        self,
        plan: Plan,
        settings: Settings,
        shown_by: str | None = None,
        asked: Sequence[Aspect] = (),
    ) -> tuple[Remark, ...]:
        """Return the steps of one test piece at these settings. shown_by: None for the most that it
        can show; asked: the aspects that it is cut for, () for all in play.
        """

    def again(self, steps: tuple[Remark, ...], moves: Mapping[str, float]) -> tuple[Remark, ...]:
        """Return the steps of another cut where the last piece was cut, from those of a fresh one.
        moves: of the settings, mm.
        """

    def test_stock(self, plan: Plan, first: Settings, pieces: int) -> tuple[Remark, ...]:
        """Return the scraps to prepare for so many test pieces, each with count, ends, width,
        thickness and length, mm. first: the settings of the first piece.
        """

    def before_spoiling(self, setup: SetUp, past: History) -> tuple[Remark, ...]:
        """Return what is to be minded before the last piece is spoilt by what is shown last on it
        (`AspectKind.shown_last`).
        """

    def cautions(self, plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
        """Return the cautions that moves make new; None: all of them, for `start`."""

    def first_reason(self, known: Knowledge, aspect: Aspect) -> Remark | None:
        """Return where the number of the first piece comes from, None where it goes
        without saying.
        """

    def more_reasons(self, made: Decision) -> Iterable[Remark]:
        """Return what is to be said after the reasons of a later piece: how to cut it."""

    def start_at(self, plan: Plan, past: History, by: str = "") -> float:
        """Return where the lead's own setting would start, true mm, before any step or limit."""

    def first_words(self, plan: Plan, first: Settings, past: History, by: str) -> Iterable[Remark]:
        """Return what is to be minded before the first piece at the settings `first`: wood too
        narrow for it, a plan that the machine's steps spoil.
        """

    def other_aim(self, plan: Plan) -> tuple[str, Plan] | None:
        """Return the option of `start` that moves what is aimed at, with the plan that it makes;
        None where there is none.
        """

    def slot_saves(self, made: Decision) -> float | None:
        """Return how many test pieces a cut in waste, measured now, would save; None where it is
        not worth its minute, or shows nothing.
        """

    def offer(self, made: Decision, saves: float | None) -> Iterable[Remark]:
        """Yield the offer of such a cut, where it saves so much."""

    def notices(self, made: Decision) -> Iterable[Remark]:
        """Return what only this family knows is to be minded at the next piece, and where in it
        stands what other boards want (`notices.sizes`).
        """


def craft_of(plan: Plan) -> Craft:
    """Return the craft of a plan's family; raise `Refused` for one this version does not know."""
    return craft_for(plan.joint)


def craft_for(joint: str) -> Craft:
    """Return the craft of a joint's family; raise `Refused` for one this version does not know."""
    return _of(folder_of(joint))


@cache
def _of(folder: str) -> Craft:
    plain, own = (import_module(n) for n in (f"{__package__}.plain", f"{folder}.craft"))
    return cast(Craft, SimpleNamespace(**{**vars(plain), **vars(own)}))
