"""How to cut a test piece so that it shows fit, seat and centre at once."""

from __future__ import annotations

from ...domain import Plan, Remark, Settings, remark
from . import figures
from .geometry import mouth
from .names import CENTRE, DEPTH, FENCE, HEIGHT
from .plan import dovetail


def recipe(plan: Plan, settings: Settings, shown_by: str | None = None) -> tuple[Remark, ...]:
    """Return the steps of one test piece at these settings.

    shown_by: how it shows the centre, "walls", "turn" or "" not at all (`Advice.shown_by`); None:
    by the walls, then by turning it.
    """
    dial, depth = settings.on_scale(plan.machine), settings[DEPTH]
    x = dial[FENCE]
    gap = mouth(plan.bit.diameter, settings[HEIGHT], plan.bit.theta)
    steps = (
        remark(
            "cut-tail-piece",
            width=plan.figures()["width"],
            thickness=plan.figures()["thickness"],
            rabbet=dovetail(plan).rabbet_depth,
            height=settings[HEIGHT],
            same=dovetail(plan).rabbet_bit == "same",
        ),
        remark("cut-passes", first=x + dovetail(plan).pitch, then=x),
        remark(
            "cut-pin-strip",
            width=round(dovetail(plan).pitch + gap - 2),
            height=dial[HEIGHT],
            depth=depth,
            deepest=depth + gap / 2,
        ),
        remark("try-joint"),
    )
    if shown_by == "turn" and CENTRE in plan.in_play:
        return (*steps, remark("turn-piece", fence=x, most=None))
    if shown_by in (None, "walls") and CENTRE in plan.in_play:
        turn = remark("turn-piece", fence=x, most=figures.MOST_SHAVING)
        return (*steps, remark("measure-walls", fence=x), turn)
    return steps


def least_width(plan: Plan) -> float:
    """Width below which the recipe's two slots and their wall don't fit, 2 (P + D / 2 +
    wall), mm.
    """
    return 2 * (dovetail(plan).pitch + plan.bit.diameter / 2 + figures.LEAST_WALL)
