"""The usual cautions of the shop, which hold at every machine and for every joint.

Common practice as published safety lists have it; local codes, the makers' instructions and
qualified instruction come first. A family adds its own.
"""

from __future__ import annotations

import math

from ..domain import Plan, Remark, remark

LEAST_LENGTH = 300.0  # mm of a piece that is not in a carrier: common practice, no source
_ALWAYS = ("first-of-all", "unplug", "collet", "feed", "hands", "guards")
GENERAL: tuple[Remark, ...] = tuple(remark(code) for code in _ALWAYS)


def top_speed(plan: Plan) -> int:
    """Return the usual top speed for the bit's diameter, turns a minute."""
    ranges = ((25, 24000), (50, 18000), (63, 16000), (89, 12000))
    return next((rpm for most, rpm in ranges if plan.bit.diameter <= most), 10000)


def speed(plan: Plan) -> Remark:
    """Return the usual top speed for the bit's diameter (a general guideline; the bit's own mark
    comes first).
    """
    top = top_speed(plan)
    return remark("speed", top=top, rim=math.pi * plan.bit.diameter * top / 60000)
