"""The plans of a rehearsal: what the user's own bit, boards and machine are set up for, at heights
that leave room.
"""

from __future__ import annotations

from dataclasses import replace

from ..advice.history import History
from ..advice.knowledge import know
from ..domain import Aspect, Bit, Machine, Stock
from ..families.half_blind.limits import height_limit
from ..families.half_blind.names import ASPECTS, set_to
from ..families.half_blind.opening import check_wood, pitch_for, sensible_height
from ..families.half_blind.plan import DovetailPlan, dovetail
from .conditions import Conditions
from .draws import uniforms

HEIGHT_SPREAD = 1.5  # mm by which a season's heights differ from the sensible one, either way
ROOM = 2.5  # sds of the height that is really needed, kept clear of its limits


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...] = ASPECTS,
    words_only: bool = False,
) -> DovetailPlan:
    """Return the plan of a set-up at the sensible height, its sizes the stocks' own, its pitch as
    `start` takes it.
    """
    plan = DovetailPlan(
        bit,
        stock,
        pin_stock,
        machine,
        stock.width,
        stock.thickness,
        pin_stock.thickness,
        in_play=in_play,
        words_only=words_only,
        pitch=2 * bit.diameter,
        rabbet_depth=bit.diameter / 2,
    )
    check_wood(plan)
    return replace(plan, pitch=pitch_for(plan, sensible_height(plan), History()))


def season_plans(
    plan: DovetailPlan, seed: int, setups: int, conditions: Conditions | None = None
) -> list[DovetailPlan]:
    """Return a season's plans: for each a height is drawn, and the pitch follows as `start` takes
    it, to 0.1 mm.

    Where the set-ups are repeats, all are the first one.
    """
    told = conditions or Conditions()
    low, high = heights(plan, told)
    drawn = (
        low + uniforms(seed, "season", 1 if told.repeats else n)[0] * (high - low)
        for n in range(1, setups + 1)
    )
    return [replace(plan, pitch=pitch_for(plan, height, History())) for height in drawn]


def heights(plan: DovetailPlan, conditions: Conditions | None = None) -> tuple[float, float]:
    """Return the lowest and the highest bit height of a season, mm.

    Clear of the limits by `ROOM` sds of the height that will really be needed; half way where they
    lie too close.
    """
    told, middle = conditions or Conditions(), sensible_height(plan)
    about = set_to(middle, 1.0, 1.0)
    laws = know(plan, (), History(), about)
    limit, sd = (
        height_limit(dovetail(plan)),
        max(1.0, told.sds) * laws.cold["fit"].sd / abs(laws.joint.slope("fit", about)),
    )
    room = ROOM * sd + abs(told.height_zero_off)
    low, high = (
        max(limit.low + room, middle - HEIGHT_SPREAD),
        min(limit.high - room, middle + HEIGHT_SPREAD),
    )
    return (low, high) if low <= high else ((limit.low + limit.high) / 2,) * 2
