"""An invented shop and its year: bits, stocks and the joints it makes. All names and numbers are
invented.
"""

from __future__ import annotations

from dataclasses import replace

from ..advice.history import History
from ..advice.knowledge import know
from ..domain import Aspect, Bit, Machine, Stock
from ..families.half_blind import figures, geometry
from ..families.half_blind.limits import height_limit
from ..families.half_blind.names import set_to
from ..families.half_blind.opening import check_wood
from ..families.half_blind.plan import DovetailPlan, dovetail
from .draws import uniforms

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
MACHINE = Machine("invented table")
_HEIGHTS = (6.0, 11.0)
_FAR_OFF = (
    5.0  # sds of the height that is needed, kept clear of the limits where true sds may be doubled
)
# mm kept below the highest bit height: the true figures may ask for more than the printed ones
_ROOM = 0.8


def year(
    seed: int, setups: int = 60, in_play: tuple[Aspect, ...] = ("fit",), words_only: bool = False
) -> list[DovetailPlan]:
    """Return the plans of a year, in order: for each a bit, a stock and a height are drawn, the
    pitch follows.
    """
    return [
        _plan(uniforms(int(seed), "plan", n), in_play, words_only) for n in range(1, setups + 1)
    ]


def one_joint(
    seed: int,
    machine: Machine,
    in_play: tuple[Aspect, ...] = ("fit",),
    words_only: bool = False,
    off: float = 0.0,
    nth: int = 1,
) -> DovetailPlan:
    """Return one plan for a machine, its height so far from every limit that true causes twice as
    wide still find one.

    off: how far the height's zero may be off besides, mm.  nth: another one is the same bit and
    boards at another height.
    """
    draw = uniforms(int(seed), "joint")
    plan = _plain(draw, machine, in_play, words_only)
    about = set_to(sum(_HEIGHTS) / 2, 1.0, 1.0)
    laws = know(plan, (), History(), about)
    room = _FAR_OFF * laws.cold["fit"].sd / abs(laws.joint.slope("fit", about)) + abs(off)
    return _pitched(plan, uniforms(int(seed), "joint", nth)[0], room)


def _plan(draw: tuple[float, ...], in_play: tuple[Aspect, ...], words_only: bool) -> DovetailPlan:
    return _pitched(_plain(draw, MACHINE, in_play, words_only), draw[2], _ROOM)


def _plain(
    draw: tuple[float, ...], machine: Machine, in_play: tuple[Aspect, ...], words_only: bool
) -> DovetailPlan:
    bit, stock = BITS[int(draw[0] * len(BITS))], STOCKS[int(draw[1] * len(STOCKS))]
    return DovetailPlan(
        bit,
        stock,
        stock,
        machine,
        stock.width,
        stock.thickness,
        stock.thickness,
        in_play=in_play,
        words_only=words_only,
        pitch=bit.diameter,
        rabbet_depth=round(bit.diameter / 2, 2),
    )


def _pitched(plan: DovetailPlan, share: float, room: float) -> DovetailPlan:
    """Return the plan with the pitch of a height that lies this share of the way through the
    heights.
    """
    low, high = _HEIGHTS[0], min(_HEIGHTS[1], height_limit(dovetail(plan)).high - room)
    height, bit = low + share * (high - low), plan.bit
    pitch = geometry.pitch_for(figures.fit_window(False).middle, bit.diameter, height, bit.theta)
    plan = replace(plan, pitch=round(pitch, 1))
    check_wood(plan)
    return plan
