"""The usual cautions of the shop, and which of them a move makes new.

Common practice as published safety lists have it; local codes, the makers' instructions and
qualified instruction come first.
"""

from __future__ import annotations

import math

from ..domain import Plan, Remark, remark

_ALWAYS = ("first-of-all", "unplug", "collet", "feed", "hands", "guards", "one-pass", "new-height")
FULL: tuple[Remark, ...] = tuple(remark(code) for code in _ALWAYS)
TURN = remark("far-shaving", "centre")
NEW_HEIGHT = remark("new-height", "fit", moved=True)
FRESH_PIECE = remark("fresh-piece", "centre")


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


def opening(plan: Plan) -> tuple[Remark, ...]:
    """All cautions, for `start`."""
    turn = (TURN,) if "centre" in plan.in_play else ()
    return (*FULL, speed(plan), *turn)


def after_move(moves: dict[str, float] | None) -> tuple[Remark, ...]:
    """Only what a move makes new."""
    if moves is None:
        return ()
    out: list[Remark] = []
    if abs(moves.get("bit_height", 0.0)) > 1e-9:
        out.append(NEW_HEIGHT)
    if moves.get("fence_offset", 0.0) < -1e-9:
        out.append(FRESH_PIECE)
    return tuple(out)
