"""The plan of a half-blind dovetail: what was said, what comes again of an earlier one, what
follows.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from ...advice.history import History
from ...domain import Plan, SetUp
from ...domain.standing import ended
from ..wanted import PlanValue, Wanted
from . import figures
from .names import HALF_BLIND, HEIGHT
from .opening import pitch_for, sensible_height
from .plan import DovetailPlan, dovetail
from .possible import check_first_height

# What of a plan a repeat keeps; the rest is named (bit, boards' stocks, machine) or of the day
# (moisture).
KEPT = (
    "pitch",
    "tails",
    "spacing",
    "many_tails",
    "board_width",
    "tail_thickness",
    "pin_thickness",
    "rabbet_depth",
    "rabbet_bit",
    "wanted_step",
    "in_play",
    "words_only",
    "by_eye",
    "spaced",
    "scrap",
    "piece_width",
    "piece_thickness",
)
LAYOUT = KEPT[:4]
# Where set-ups differ in none of these they are one set-up, cut again: the newest stands for them.
ALIKE = (*LAYOUT, "board_width", "rabbet_depth", "rabbet_bit", "wanted_step", "in_play")
_made: Callable[..., DovetailPlan] = partial(DovetailPlan, family=HALF_BLIND)


def plan_of(wanted: Wanted, earlier: Sequence[SetUp], past: History, by: str) -> DovetailPlan:
    """Return the plan of a set-up: what was said, then what is repeated, then the stock's own sizes
    and what follows.

    earlier: finished set-ups, oldest first; past: what they taught.
    """
    bit, said, kept = wanted.bit, wanted.said(), _kept(wanted)
    usual = {
        "pitch": 2 * bit.diameter,
        "board_width": wanted.stock.width,
        "tail_thickness": wanted.stock.thickness,
        "pin_thickness": wanted.pin_stock.thickness,
        "rabbet_depth": bit.diameter / 2,
    }
    spacing = said.get("spacing", kept.get("spacing"))
    if not (kept.keys() | said.keys()) >= {"pitch"} and isinstance(spacing, int | float):
        usual["pitch"] = min(usual["pitch"], spacing)  # until the real one is worked out
    plan = _made(bit, wanted.stock, wanted.pin_stock, wanted.machine, **{**usual, **kept, **said})
    first, given_pitch = wanted.first.get(HEIGHT), said.get("pitch") is not None
    if first is not None:
        check_first_height(plan, first, given_pitch=given_pitch)
    if given_pitch or "pitch" in kept:
        return plan
    like = [s for s in earlier if first is None and _stays(dovetail(s.plan), plan)]
    if like:
        good = [s for s in like if ended(s) != "as it is"]
        return replace(plan, pitch=dovetail((good or like)[-1].plan).pitch)
    height = first or sensible_height(plan)
    return replace(plan, pitch=pitch_for(plan, height, past, 1 if first is None else 2, by))


def changed(wanted: Wanted, base: Plan, plan: Plan) -> tuple[str, ...]:
    """Return what of an earlier plan is otherwise in a new one although nobody said so, by its
    names in `KEPT`.
    """
    said = wanted.said()
    return tuple(
        name
        for name in KEPT
        if name not in said and not _equal(getattr(base, name), getattr(plan, name))
    )


def alike(one: Plan, other: Plan) -> bool:
    """Tell whether two plans with the same bit, boards and machine differ in nothing that makes
    them two.
    """
    return all(_equal(getattr(one, name), getattr(other, name)) for name in ALIKE)


def _kept(wanted: Wanted) -> dict[str, PlanValue]:
    """Return what of an earlier set-up comes again: all that was not said, or with `like` the
    layout as one.
    """
    said = wanted.said()
    if wanted.again is None:
        kept = _layout(wanted, said)
        base = None if wanted.like is None else wanted.like.plan
    else:
        base = wanted.again.plan
        kept = {name: getattr(base, name) for name in KEPT}
        other = (
            (wanted.stock.name != base.stock.name, ("board_width", "tail_thickness")),
            (wanted.pin_stock.name != base.pin_stock.name, ("pin_thickness",)),
            (
                wanted.bit.name != base.bit.name
                and _equal(dovetail(base).rabbet_depth, base.bit.diameter / 2),
                ("rabbet_depth",),
            ),
            (HEIGHT in wanted.first, ("pitch",)),
        )
        for name in (name for is_other, names in other if is_other for name in names):
            del kept[name]
    if (
        "tails" in said
        and "many_tails" not in said
        and (base is None or dovetail(base).many_tails == _many(dovetail(base).tails))
    ):
        kept["many_tails"] = _many(
            said["tails"]
        )  # the window follows the number of tails, unless it was said
    return kept


def _layout(wanted: Wanted, said: dict[str, PlanValue]) -> dict[str, PlanValue]:
    """Return the layout of the set-up that a new one is like, where nothing of a layout was said;
    else nothing.

    Its pitch without its spacing would be another layout.
    """
    if wanted.like is None or HEIGHT in wanted.first or {*LAYOUT, "board_width"} & said.keys():
        return {}
    base = wanted.like.plan
    thick = wanted.size("pin_thickness") or wanted.pin_stock.thickness
    return (
        {name: getattr(base, name) for name in LAYOUT}
        if abs(base.pin_thickness - thick) < 0.5
        else {}
    )


def _stays(old: DovetailPlan, new: DovetailPlan) -> bool:
    """Tell whether a plan is a repeat of an older one, so that its stops can stay where
    they are.
    """
    same = (
        old.bit.name == new.bit.name
        and old.stock.name == new.stock.name
        and old.pin_stock.name == new.pin_stock.name
    )
    return (
        same
        and abs(old.pin_thickness - new.pin_thickness) < 0.5
        and old.many_tails == new.many_tails
    )


def _equal(one: object, other: object) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) < 1e-6
    return one == other


def _many(tails: PlanValue) -> bool:
    return isinstance(tails, int) and tails >= figures.MANY_TAILS_FROM
