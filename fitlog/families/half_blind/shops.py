"""Plans of half-blind dovetails to rehearse: of the user's own bit and boards, and of an invented
shop, whose names and numbers are all invented. Lengths are mm.

See `simulation.simulated` for what each name promises.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ...advice.history import History
from ...advice.knowledge import know
from ...domain import Aspect, Bit, Machine, Plan, Stock
from . import figures, geometry
from .limits import height_limit
from .names import FIT, set_to
from .opening import check_wood, pitch_for, sensible_height
from .plan import DovetailPlan, dovetail

ANOTHER = "at another height and pitch"
HEIGHT_SPREAD = 1.5  # mm by which a season's heights differ from the sensible one, either way
ROOM = 2.5  # sds of the height that is really needed, kept clear of its limits

BITS = (
    Bit("wren", 9.4, 8.0, 13.0),
    Bit("robin", 10.8, 14.0, 11.0),
    Bit("finch", 12.3, 8.0, 14.5),
    Bit("lark", 13.9, 14.0, 13.5),
    Bit("heron", 15.6, 7.0, 17.0),
)
STOCKS = (
    Stock("drawer oak", "oak", 16.5, 140.0),
    Stock("carcass oak", "oak", 21.0, 190.0),
    Stock("box cherry", "cherry", 16.0, 120.0),
    Stock("chest cherry", "cherry", 19.0, 170.0),
    Stock("old beech", "beech", 18.0, 150.0),
    Stock("soft pine", "pine", 22.0, 200.0),
)
_HEIGHTS = (6.0, 11.0)
# sds of the height that is needed, kept clear of the limits where true sds may be doubled
_FAR_OFF = 5.0
# mm kept below the highest bit height: the true figures may ask for more than the printed ones
_LEAST_ROOM = 0.8


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...],
    words_only: bool,
) -> DovetailPlan:
    """At the sensible height, the pitch as `start` takes it."""
    plan = _plain(bit, stock, pin_stock, machine, in_play, words_only)
    plan = replace(plan, pitch=2 * bit.diameter, rabbet_depth=bit.diameter / 2)
    check_wood(plan)
    return replace(plan, pitch=pitch_for(plan, sensible_height(plan), History()))


def season(
    plan: Plan, shares: Sequence[float], sds: float, bias: Mapping[str, float]
) -> list[Plan]:
    """The pitch follows the height as `start` takes it, to 0.1 mm."""
    joint = dovetail(plan)
    check_wood(joint)
    low, high = heights(joint, sds, bias)
    drawn = (low + share * (high - low) for share in shares)
    return [replace(joint, pitch=pitch_for(joint, height, History())) for height in drawn]


def heights(plan: DovetailPlan, sds: float, bias: Mapping[str, float]) -> tuple[float, float]:
    """Return the lowest and the highest bit height of a season, mm.

    Clear of the limits by `ROOM` sds of the height that will really be needed; half way where they
    lie too close.
    """
    middle, limit = sensible_height(plan), height_limit(plan)
    doubt = _doubt(plan, middle, max(1.0, sds))
    room = ROOM * doubt + abs(bias.get("height zero", 0.0))
    low = max(limit.low + room, middle - HEIGHT_SPREAD)
    high = min(limit.high - room, middle + HEIGHT_SPREAD)
    return (low, high) if low <= high else ((limit.low + limit.high) / 2,) * 2


def invented(
    draw: Sequence[float],
    share: float,
    machine: Machine,
    in_play: tuple[Aspect, ...],
    words_only: bool,
    bias: Mapping[str, float] | None,
) -> Plan:
    """The pitch follows the height that lies this share of the way through those that are used."""
    bit, stock = BITS[int(draw[0] * len(BITS))], STOCKS[int(draw[1] * len(STOCKS))]
    plan, room = _plain(bit, stock, stock, machine, in_play, words_only), _LEAST_ROOM
    if bias is not None:
        doubt = _doubt(plan, sum(_HEIGHTS) / 2, _FAR_OFF)
        room = doubt + abs(bias.get("height zero", 0.0))
    low, high = _HEIGHTS[0], min(_HEIGHTS[1], height_limit(plan).high - room)
    height, good = low + share * (high - low), figures.fit_window(False)
    pitch = geometry.pitch_for(good.middle, bit.diameter, height, bit.theta)
    plan = replace(plan, pitch=round(pitch, 1))
    check_wood(plan)
    return plan


def _doubt(plan: DovetailPlan, height: float, times: float) -> float:
    """So many sds of the height that will really be needed, nothing being known but priors, mm."""
    about = set_to(height, 1.0, 1.0)
    laws = know(plan, (), History(), about)
    return times * laws.cold[FIT].sd / abs(laws.joint.slope(FIT, about))


def _plain(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...],
    words_only: bool,
) -> DovetailPlan:
    """The plan of boards as the stocks are, its pitch still to be found."""
    return DovetailPlan(
        bit,
        stock,
        pin_stock,
        machine,
        stock.width,
        stock.thickness,
        pin_stock.thickness,
        in_play=in_play,
        words_only=words_only,
        pitch=bit.diameter,
        rabbet_depth=round(bit.diameter / 2, 2),
    )
