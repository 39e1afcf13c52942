"""What a simulated sliding dovetail hides, as closed forms of what was drawn, and what is invented
for it: see `simulation.simulated` for what each name promises. Lengths are mm.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from ...domain import Aspect, Bit, Machine, Plan, Settings, Stock
from ..drawn import Drawn, Shown
from . import figures, geometry
from .limits import exposure_limit, height_limit
from .names import EXPOSURE, FIT, HEIGHT, SHOULDER, TONGUE
from .opening import check_wood, sensible_height
from .plan import SlidingPlan, sliding

CLOSED = ("diameter", "angle", "exposure zero", "height zero", "shelf thickness", "tongue zero")
CAUSES = (*CLOSED, "species", "stock", "fit day", "chips")
ANOTHER = "with sockets of another height"
STEPS: Mapping[Aspect, float] = {FIT: 0.1, SHOULDER: 0.1}
TUNED: Mapping[tuple[str, str, str], Mapping[Aspect, float]] = {}
START_BIAS = 0.07  # bits run small, by this
USUAL = ""
HEIGHT_SPREAD = 1.5  # by which a season's sockets differ from the sensible one, either way
ROOM = 1.0  # kept clear of every limit of the exposure: more than any cause takes of it

BITS = (
    Bit("robin", 12.7, 14.0, 13.0),
    Bit("finch", 14.1, 8.0, 14.5),
    Bit("lark", 13.9, 14.0, 13.5),
    Bit("heron", 15.6, 7.0, 17.0),
)
STOCKS = (
    Stock("shelf oak", "oak", 18.0, 240.0),
    Stock("case oak", "oak", 19.0, 300.0),
    Stock("shelf cherry", "cherry", 18.5, 140.0),
    Stock("soft pine", "pine", 20.0, 200.0),
)


def misfits(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """The fit as it is felt: a tongue on the socket's floor is wedged."""
    joint, figured, off = sliding(plan), plan.figures(), drawn.off
    size, theta = plan.bit.diameter + off["diameter"], plan.bit.theta + off["angle"]
    by_axis = off["diameter"] / 2 if joint.to_axis else 0.0
    exposure = settings[EXPOSURE] + off["exposure zero"] + by_axis
    thick = figured["thickness"] + off["shelf thickness"]
    socket = settings[HEIGHT] + off["height zero"]
    play = geometry.clearance(size, thick, exposure, socket, theta, joint.faces)
    shoulder = settings[TONGUE] - settings[HEIGHT] + off["tongue zero"] + drawn.shift[SHOULDER]
    play += drawn.shift[FIT] - figures.THICKNESS * own
    return {FIT: geometry.felt(play, shoulder, theta, joint.faces), SHOULDER: shoulder}


def fitting(plan: Plan, drawn: Drawn) -> float:
    """The exposure, by what it leaves to be made up."""
    joint = sliding(plan)
    at = Settings(plan.family, (joint.socket_height, joint.socket_height - 1.0, 1.0))
    middle = figures.FIT_WINDOWS[joint.length_set].middle
    return 1.0 + (middle - misfits(plan, drawn, at, 0.0)[FIT]) / joint.faces


def stands_for(plan: Plan, drawn: Drawn) -> dict[Aspect, float]:
    """A pulled gap grows with the true angle."""
    theta = plan.bit.theta + drawn.off.get("angle", 0.0)
    return {FIT: sliding(plan).faces * math.tan(theta), SHOULDER: 1.0}


def slot(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
    """None is measured by itself."""
    raise AssertionError("a socket in waste is not measured by itself")


def shown(
    plan: Plan, drawn: Drawn, settings: Settings, own: float, by: str
) -> tuple[Shown | None, float | None]:
    """Nothing is."""
    raise AssertionError("nothing is zeroed here")


def shown_by(at: Settings, zero: float | None, short: bool) -> str:
    """Nothing is."""
    raise AssertionError("nothing is zeroed here")


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...],
    words_only: bool,
) -> SlidingPlan:
    """At the sensible height."""
    sizes = stock.width, stock.thickness, pin_stock.thickness
    plan = SlidingPlan(bit, stock, pin_stock, machine, *sizes, in_play, words_only)
    plan = replace(plan, socket_height=sensible_height(plan))
    check_wood(plan)
    return plan


def season(
    plan: Plan, shares: Sequence[float], sds: float, bias: Mapping[str, float]
) -> list[Plan]:
    """Sockets between the lowest and the highest that the boards allow, near the sensible one."""
    joint = sliding(plan)
    check_wood(joint)
    low, high = _heights(joint)
    return [replace(joint, socket_height=low + share * (high - low)) for share in shares]


def _heights(plan: SlidingPlan) -> tuple[float, float]:
    """The lowest and the highest socket whose exposure stays clear of its limits."""
    limit, middle, bit = height_limit(plan), sensible_height(plan), plan.bit
    thick, exposure = plan.figures()["thickness"], exposure_limit(plan)
    rise = 2 * math.tan(bit.theta)

    def height(at: float) -> float:
        return (bit.diameter - thick + plan.faces * at) / rise

    low = max(limit.low, middle - HEIGHT_SPREAD, height(exposure.low + ROOM))
    high = min(limit.high, middle + HEIGHT_SPREAD, height(exposure.high - ROOM))
    return (low, high) if low <= high else (middle, middle)


def invented(
    draw: Sequence[float],
    share: float,
    machine: Machine,
    in_play: tuple[Aspect, ...],
    words_only: bool,
    bias: Mapping[str, float] | None,
) -> Plan:
    """Sockets that lie this share of the way through those of a season."""
    bit, stock = BITS[int(draw[0] * len(BITS))], STOCKS[int(draw[1] * len(STOCKS))]
    plan = plan_for(bit, stock, stock, machine, in_play, words_only)
    return season(plan, [share], 1.0, bias or {})[0]
