"""The craft of a family that has nothing of its own to say: what `craft.craft_for` takes where a
family's module `craft` lacks a function. See `craft.Craft` for what each promises.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import fields
from functools import partial

from ..domain import Aspect, Figures, Plan, Reading, Remark, Settings, SetUp, Verdict, remark
from ..errors import Refused
from ..families.names import PLANS, family_of
from ..families.typed import usual
from ..families.wanted import Wanted
from .cautions import GENERAL, LEAST_LENGTH
from .decision import Decision
from .history import History
from .knowledge import Knowledge
from .notices import sizes

notices = sizes

# What of a plan is the set-up's own way: it comes again with --again alone.
_WAY = ("in_play", "words_only", "scrap", "piece_width", "piece_thickness")


def plan_of(wanted: Wanted, earlier: Sequence[SetUp], past: History, by: str) -> Plan:
    """As said, then as the set-up that is repeated, then the boards' own sizes and the usual
    figures (`families.typed.Size.usual`).
    """
    made: Callable[..., Plan] = partial(PLANS[wanted.joint], family=family_of(wanted.joint))
    boards = zip(("board_width", "tail_thickness", "pin_thickness"), wanted.boards(), strict=True)
    sizes = {**usual(wanted.joint, wanted.bit, wanted.stock, wanted.pin_stock), **dict(boards)}
    parts = wanted.bit, wanted.stock, wanted.pin_stock, wanted.machine
    return made(*parts, **{**sizes, **_kept(wanted), **wanted.said()})


def _kept(wanted: Wanted) -> dict[str, object]:
    """What of an earlier plan comes again: with `like` its figures, where none of them was said."""
    if wanted.again is not None:
        plan = wanted.again.plan
        return {name: getattr(plan, name) for name in (*_own(plan), *_WAY)}
    own = () if wanted.like is None else _own(wanted.like.plan)
    if wanted.like is None or wanted.said().keys() & {*own}:
        return {}
    return {name: getattr(wanted.like.plan, name) for name in own}


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


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """No steps."""
    return ()


def again(steps: tuple[Remark, ...], moves: Mapping[str, float]) -> tuple[Remark, ...]:
    """The same steps."""
    return steps


def test_stock(plan: Plan, first: Settings, pieces: int) -> tuple[Remark, ...]:
    """A scrap of the pieces' own size for each two."""
    size = {name: plan.figures()[name] for name in ("width", "thickness")}
    count = -(-pieces // 2)
    return (remark("stock-piece", count=count, ends=pieces, **size, length=LEAST_LENGTH),)


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


def other_aim(plan: Plan) -> tuple[str, Plan] | None:
    """There is one window."""
    return None


def slot_saves(made: Decision) -> float | None:
    """A cut in waste saves nothing."""
    return None


def offer(made: Decision, saves: float | None) -> Iterable[Remark]:
    """Nothing is offered."""
    return ()
