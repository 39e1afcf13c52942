"""What is worth saying before the first test piece is cut: wood too narrow for it, a pitch that the
fence's marks spoil.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ...advice.history import History
from ...domain import Remark, Settings, remark
from ...errors import Refused
from .. import joint_of
from . import figures
from .layouts import Layout, layout_of
from .layouts.laid import layout_for
from .layouts.marks import pitches_on_marks, rounding, spacings_on_marks
from .limits import height_limit
from .opening import height_at
from .plan import DovetailPlan
from .recipe import least_width


def first_words(plan: DovetailPlan, first: Settings, past: History, by: str) -> Iterator[Remark]:
    """Yield what is to be minded before the first piece at the settings `first`. by: the person at
    work.
    """
    yield from _narrow(plan)
    yield from _marks(plan, first, past, by)


def _narrow(plan: DovetailPlan) -> Iterator[Remark]:
    least = least_width(plan)
    if plan.figures()["width"] < least:
        yield remark("narrow-piece", least=least)


def _marks(plan: DovetailPlan, first: Settings, past: History, by: str) -> Iterator[Remark]:
    """A pitch that the fence can only be set to roughly: better known now than when the fit is
    tuned for it.
    """
    fence = plan.adjuster("centre")
    if not fence.coarse or plan.spaced:
        return
    try:
        layout = layout_for(plan, first, None)
    except Refused:
        return  # `stops` will say so; the set-up may be for the test pieces alone
    lost, half = rounding(layout, fence.step).lost, joint_of(plan).window("fit").half
    if abs(lost) <= half:
        return
    marked = _on_marks(plan, layout, past, by)
    yield remark(
        "marks-lose-play",
        step=fence.step,
        lost=lost,
        half=half,
        better=_told(marked) if marked else None,
    )


def _told(layout: Layout) -> tuple[float, int, float | None]:
    return layout.pitch, layout.tails, layout.spacing if layout.wide else None


def _on_marks(plan: DovetailPlan, layout: Layout, past: History, by: str) -> Layout | None:
    """The layout on the marks with as many tails whose pitch is nearest to the plan's; None where
    none can be cut.
    """
    mark, limit = plan.machine.step("fence") if plan.machine else None, height_limit(plan)
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
            one for one in made if one is not None and one.half_pin[0] >= figures.LEAST_HALF_PIN
        ]
        if sound and limit.low <= height <= limit.high:
            return sound[0]
    return None
