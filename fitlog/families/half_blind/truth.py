"""What a simulated half-blind dovetail hides, as closed forms of what was drawn, and what is
invented for it: see `simulation.simulated` for what each name promises.
"""

from __future__ import annotations

import math

from ... import defaults
from ...domain import Aspect, Plan, Settings
from ..drawn import Drawn, Shown
from . import geometry
from .figures import fit_window
from .names import CENTRE, DEPTH, FENCE, FIT, HEIGHT, SEAT
from .plan import dovetail
from .rivals import START_BIAS, STEPS, TUNED, USUAL, shown_by
from .shops import ANOTHER, invented, plan_for, season

__all__ = [
    "ANOTHER",
    "CAUSES",
    "CLOSED",
    "START_BIAS",
    "STEPS",
    "TUNED",
    "USUAL",
    "fitting",
    "invented",
    "misfits",
    "plan_for",
    "season",
    "shown",
    "shown_by",
    "slot",
    "stands_for",
]

CLOSED = ("diameter", "angle", "pitch", "height zero")
CAUSES = (
    *CLOSED,
    "species",
    "stock",
    "fit day",
    "fence zero",
    "fence day",
    "socket zero",
    "socket day",
)


def misfits(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """The seat takes the piece's own clearance."""
    joint, figures = dovetail(plan), plan.figures()
    diameter, theta = _bit(plan, drawn)
    height, pitch = _height(drawn, settings, own), joint.pitch + drawn.off["pitch"]
    clearance = geometry.clearance(diameter, pitch, height, theta) + drawn.shift[FIT]
    centre = settings[FENCE] - figures["width"] / 2 + drawn.shift[CENTRE]
    same = joint.rabbet_bit == "same"
    width = diameter if same else _mouth(plan, drawn, settings, own)
    rise = height * math.tan(theta) if same else 0.0
    thick, rabbet = figures["thickness"], joint.rabbet_depth
    step = geometry.step(thick, rabbet, rise, settings[DEPTH], clearance, width / 2)
    return {FIT: clearance, CENTRE: centre, SEAT: step + drawn.shift[SEAT]}


def fitting(plan: Plan, drawn: Drawn) -> float:
    """The height, by the clearance that is left for the geometry to make."""
    joint, (diameter, theta) = dovetail(plan), _bit(plan, drawn)
    wanted = fit_window(joint.many_tails).middle - drawn.shift[FIT]
    height = geometry.height_for(wanted, diameter, joint.pitch + drawn.off["pitch"], theta)
    return height - drawn.off["height zero"]


def stands_for(plan: Plan, drawn: Drawn) -> dict[Aspect, float]:
    """A pull-apart gap grows with the true angle, the extra width is twice the error."""
    theta = plan.bit.theta + drawn.off.get("angle", 0.0)
    return {FIT: 2 * math.tan(theta), CENTRE: 0.5, SEAT: 1.0}


def slot(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
    """Its mouth, where the walls are measured."""
    return Shown("mouth", _mouth(plan, drawn, settings, own))


def shown(
    plan: Plan, drawn: Drawn, settings: Settings, own: float, by: str
) -> tuple[Shown | None, float | None]:
    """The walls beside the cut, or the second pass after the turn on the far wall."""
    error = misfits(plan, drawn, settings, own)[CENTRE]
    if by != "walls":
        return None, 2 * error if by == "turn" else None
    half = (plan.figures()["width"] - _mouth(plan, drawn, settings, own)) / 2
    return Shown("walls", half + error, half - error), None


def _bit(plan: Plan, drawn: Drawn) -> tuple[float, float]:
    """The true cutting diameter, mm, and side angle, radians."""
    return plan.bit.diameter + drawn.off["diameter"], plan.bit.theta + drawn.off["angle"]


def _height(drawn: Drawn, settings: Settings, own: float) -> float:
    return settings[HEIGHT] + drawn.off["height zero"] + defaults.HEIGHT_REPEAT * own


def _mouth(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> float:
    diameter, theta = _bit(plan, drawn)
    return max(0.0, geometry.mouth(diameter, _height(drawn, settings, own), theta))
