"""What is worth saying before the first test piece is cut: wood too narrow for it, a pitch that the
fence's marks spoil.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from .. import defaults
from ..advice.history import History
from ..advice.opening import height_at
from ..advice.recipe import least_width
from ..domain import Plan, Remark, Settings, SetUp
from ..errors import Refused
from ..families import joint_of
from ..families.half_blind.layouts import Layout, layout_of
from ..families.half_blind.layouts.marks import pitches_on_marks, rounding, spacings_on_marks
from ..language.units import Ruler
from .ending import not_a_good_base
from .laid import layout_for


def before_the_first(setup: SetUp, past: History, by: str, ruler: Ruler) -> Iterator[Remark]:
    """Yield what is to be minded before the first piece of a set-up; nothing once one is logged."""
    if not setup.pieces():
        yield from not_a_good_base(past.like(setup.plan))
        yield from _narrow(setup.plan, ruler)
        yield from _marks(setup.plan, setup.first, past, by, ruler)


def _narrow(plan: Plan, ruler: Ruler) -> Iterator[Remark]:
    least = least_width(plan)
    if plan.width_of(None) < least:
        yield Remark(
            "narrow-piece",
            f"The test piece wants a board at least {ruler.length(least)} wide for its two slots "
            "and their wall: take a "
            "wider scrap (start --scrap-width), or judge fit and seat only (start --only "
            "fit,seat).",
        )


def _marks(plan: Plan, first: Settings, past: History, by: str, ruler: Ruler) -> Iterator[Remark]:
    """A pitch that the fence can only be set to roughly: better known now than when the fit is
    tuned for it.
    """
    fence = plan.adjuster("centre")
    if not fence.coarse or plan.spaced:
        return
    try:
        layout = layout_for(plan, first, None, ruler)
    except Refused:
        return  # `stops` will say so; the set-up may be for the test pieces alone
    lost, half = rounding(layout, fence.step).lost, joint_of(plan).window("fit").half
    if abs(lost) <= half:
        return
    better = _on_marks(plan, layout, past, by)
    remedy = (
        "find a pitch on the marks with fitlog plan"
        if better is None
        else _start_anew(better, ruler)
    )
    changes = f"take {ruler.length(lost)} from" if lost > 0 else f"add {ruler.length(-lost)} to"
    yield Remark(
        "marks-lose-play",
        f"Rounded to the fence's {ruler.length(fence.step)}, the real boards' cuts would {changes} "
        "the joint's play, and a "
        f"good joint has {ruler.length(half)} to spare: {remedy}, or set the fence between its "
        "marks with a caliper.",
    )


def _start_anew(better: Layout, ruler: Ruler) -> str:
    pitch, spacing = (
        ruler.exact(better.pitch),
        f" --spacing {ruler.exact(better.spacing)}" if better.wide else "",
    )
    return (
        f"a pitch of {ruler.length(better.pitch)} loses none (fitlog undo --yes, then start with "
        f"--pitch {pitch} --tails "
        f"{better.tails}{spacing})"
    )


def _on_marks(plan: Plan, layout: Layout, past: History, by: str) -> Layout | None:
    """The layout on the marks with as many tails whose pitch is nearest to the plan's; None where
    none can be cut.
    """
    mark, limit = plan.machine.fence_step if plan.machine else None, joint_of(plan).limit("fit")
    for pitch in pitches_on_marks(plan.pitch, mark) if mark else ():
        height, _ = height_at(replace(plan, pitch=pitch), past, by)
        spacings = (
            spacings_on_marks(layout.spacing, layout.tails, mark or 1.0)
            if layout.wide
            else (pitch,)
        )
        made = (
            layout_of(plan.bit, height, plan.board_width, layout.tails, pitch, spacing)
            for spacing in spacings
        )
        sound = [
            one for one in made if one is not None and one.half_pin[0] >= defaults.LEAST_HALF_PIN
        ]
        if sound and limit.low <= height <= limit.high:
            return sound[0]
    return None
