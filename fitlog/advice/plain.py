"""The craft of a family that has nothing of its own to say: what `craft.craft_for` takes where a
family's module `craft` lacks a function. See `craft.Craft` for what each promises.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields

from ..domain import Aspect, Figures, Plan, Reading, Remark, Settings, SetUp, Verdict
from ..errors import Refused
from ..families.wanted import Wanted
from .cautions import GENERAL
from .decision import Decision
from .history import History
from .knowledge import Knowledge
from .notices import sizes

notices = sizes


def changed(wanted: Wanted, base: Plan, plan: Plan) -> tuple[str, ...]:
    """Every figure of the family's own that differs and was not said."""
    said = wanted.said()
    return tuple(name for name in _own(plan) if name not in said and _differ(name, base, plan))


def alike(one: Plan, other: Plan) -> bool:
    """Plans with the same figures are one."""
    return not any(_differ(name, one, other) for name in _own(one))


def _own(plan: Plan) -> tuple[str, ...]:
    """The fields that a family's plan adds to every plan's."""
    shared = {field.name for field in fields(Plan)}
    return tuple(field.name for field in fields(plan) if field.name not in shared)


def _differ(name: str, one: Plan, other: Plan) -> bool:
    return bool(getattr(one, name) != getattr(other, name))


def check(plan: Plan, settings: Settings, changed: Mapping[str, float], sizes: Figures) -> None:
    """Whatever is a setting can have been cut."""


def check_slot(
    verdict: Verdict, readings: Sequence[Reading], changed: Mapping[str, float], later: bool
) -> None:
    """Nothing can be told of a cut in waste."""
    hint = "cut a test piece, and say how it fits"
    raise Refused("bad-slot", "a cut in waste tells nothing of this joint", hint)


def shown_by(made: Decision) -> str:
    """There is one way to show everything."""
    return ""


def recipe(plan: Plan, settings: Settings, shown_by: str | None = None) -> tuple[Remark, ...]:
    """No steps."""
    return ()


def before_spoiling(setup: SetUp, past: History) -> tuple[Remark, ...]:
    """Nothing is to be minded."""
    return ()


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """Those of every joint, at `start`."""
    return GENERAL if moves is None else ()


def first_reason(known: Knowledge, aspect: Aspect) -> Remark | None:
    """Nothing is said of the first numbers."""
    return None


def more_reasons(made: Decision) -> Iterable[Remark]:
    """Nothing is added."""
    return ()


def first_words(plan: Plan, first: Settings, past: History, by: str) -> Iterable[Remark]:
    """Nothing is to be minded first."""
    return ()


def slot_saves(made: Decision) -> float | None:
    """A cut in waste saves nothing."""
    return None


def offer(made: Decision, saves: float | None) -> Iterable[Remark]:
    """Nothing is offered."""
    return ()
