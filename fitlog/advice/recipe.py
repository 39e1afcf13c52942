"""How to cut a test piece so that it shows fit, seat and centre at once."""

from __future__ import annotations

from .. import defaults
from ..domain import Plan, Remark, Settings, remark
from ..families.half_blind.geometry import mouth
from ..families.half_blind.plan import dovetail


def recipe(plan: Plan, settings: Settings, centre_by: str = "walls") -> tuple[Remark, ...]:
    """Return the steps of one test piece at these settings.

    centre_by: how it shows the centre, "walls", "turn" or "" not at all (`Advice.centre_by`).
    """
    dial, depth = settings.on_scale(plan.machine), settings["socket_depth"]
    x = dial["fence_offset"]
    gap = mouth(plan.bit.diameter, settings["bit_height"], plan.bit.theta)
    steps = (
        remark(
            "cut-tail-piece",
            width=plan.figures()["width"],
            thickness=plan.figures()["thickness"],
            rabbet=dovetail(plan).rabbet_depth,
            height=settings["bit_height"],
            same=dovetail(plan).rabbet_bit == "same",
        ),
        remark("cut-passes", first=x + dovetail(plan).pitch, then=x),
        remark(
            "cut-pin-strip",
            width=round(dovetail(plan).pitch + gap - 2),
            height=dial["bit_height"],
            depth=depth,
            deepest=depth + gap / 2,
        ),
        remark("try-joint"),
    )
    if centre_by == "turn" and "centre" in plan.in_play:
        return (*steps, remark("turn-piece", fence=x, most=None))
    if centre_by == "walls" and "centre" in plan.in_play:
        turn = remark("turn-piece", fence=x, most=defaults.MOST_SHAVING)
        return (*steps, remark("measure-walls", fence=x), turn)
    return steps


def least_width(plan: Plan) -> float:
    """Width below which the recipe's two slots and their wall don't fit, 2 (P + D / 2 +
    wall), mm.
    """
    return 2 * (dovetail(plan).pitch + plan.bit.diameter / 2 + defaults.LEAST_WALL)
