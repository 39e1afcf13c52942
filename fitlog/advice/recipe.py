"""How to cut a test piece so that it shows fit, seat and centre at once."""

from __future__ import annotations

from .. import defaults
from ..domain import Plan, Settings
from ..families.half_blind.geometry import mouth
from ..language.units import Ruler


def recipe(
    plan: Plan, settings: Settings, ruler: Ruler, centre_by: str = "walls"
) -> tuple[str, ...]:
    """Return the steps of one test piece at these settings, in the user's units.

    centre_by: how it shows the centre, "walls", "turn" or "" not at all (`Advice.centre_by`).
    """
    length, size, dial = ruler.length, ruler.size, settings.on_scale(plan.machine)
    x = dial["fence_offset"]
    gap = mouth(plan.bit.diameter, settings["bit_height"], plan.bit.theta)
    strip = plan.pitch + gap - 2
    bit = "this bit" if plan.rabbet_bit == "same" else "a straight bit"
    steps = [
        f"Tail piece: {size(plan.width_of(None))} wide, {size(plan.thickness_of(None))} thick; "
        "first rabbet it "
        f"{length(plan.rabbet_depth)} deep and {length(settings['bit_height'])} long with {bit}.",
        f"On end against the fence: a pass at {length(x + plan.pitch)}, then one at {length(x)} "
        "(go in past it and come out to "
        "it), the same edge to the fence.",
        f"Pin strip about {size(round(strip))} wide, inside face down in a carrier: bit at "
        f"{length(dial['bit_height'])}, one "
        f"socket {length(settings['socket_depth'])} deep, from the end to the bit's centre (a "
        "caliper to the deepest point of its "
        f"mouth reads {length(settings['socket_depth'] + gap / 2)}).",
        "Try the joint: judge fit and seat now, before the turn widens the slot.",
    ]
    turn = (
        "the tail piece about its upright axis (the other edge to the fence, the same end down), "
        "mark the edge now at the "
        f"fence, and pass again at {length(x)}: the shaving, far or near, shows the centre."
    )
    if centre_by == "turn" and "centre" in plan.in_play:
        steps.append(f"Turn {turn}")
    elif centre_by == "walls" and "centre" in plan.in_play:
        steps.append(
            f"Before any turn measure the two walls beside the slot at {length(x)}, the one at the "
            "fence and the far one "
            "(`--walls NEAR FAR`): half their difference is the error of the centre. That is all "
            "it takes."
        )
        steps.append(
            "Only where the wall at the fence is the thicker one, by no more than "
            f"{length(defaults.MOST_SHAVING)}, you may "
            f"also turn {turn}"
        )
    return tuple(steps)


def least_width(plan: Plan) -> float:
    """Width below which the recipe's two slots and their wall don't fit, 2 (P + D / 2 +
    wall), mm.
    """
    return 2 * (plan.pitch + plan.bit.diameter / 2 + defaults.LEAST_WALL)
