"""Where a half-blind dovetail's settings end, with what sets each end and what to change beyond."""

from __future__ import annotations

import math

from ...errors import Mm
from ..family import Limit
from . import figures
from .names import FENCE, HEIGHT
from .plan import DovetailPlan

_LEAST_DEPTH, _LEAST_HEIGHT = 0.5, 2.0  # mm


def limit(plan: DovetailPlan, setting: str) -> Limit:
    """Return the range in which a setting may be proposed, mm."""
    if setting == HEIGHT:
        return height_limit(plan)
    radius = plan.bit.diameter / 2
    if setting == FENCE:
        return Limit(
            radius,
            2000.0,
            "the edge at the fence, which the bit would cut away",
            "no board is that wide",
            "take a wider piece",
            "take a narrower piece",
        )
    return Limit(
        _LEAST_DEPTH,
        100.0,
        "the least of {least}: a shallower socket holds no tail",
        "no board is that thick",
        "take a shallower rabbet or a thicker tail board",
        "check the tail board's thickness",
        (("least", Mm(_LEAST_DEPTH)),),
    )


def height_limit(plan: DovetailPlan) -> Limit:
    """Return the range in which the bit height may be proposed, mm."""
    bit = plan.bit
    least_mouth = max(figures.LEAST_MOUTH, bit.thinnest + 0.1)
    ends = (
        (
            plan.pin_thickness - figures.LEAST_LAP,
            "the lap: a pin board of {pin_thickness} must keep {least_lap}",
            "take a wider pitch or a thicker pin board",
        ),
        (
            bit.cutting_length - 0.1,
            "the bit's cutting length of {cutting_length}",
            "take a wider pitch or a longer bit",
        ),
        (
            (bit.diameter - least_mouth) / (2 * math.tan(bit.theta)),
            "the mouth, which must stay wider than the bit above its edges ({least_mouth:.1f})",
            "take a wider pitch or a larger bit",
        ),
    )
    high, why, remedy = min(ends)
    return Limit(
        _LEAST_HEIGHT,
        high,
        "the least of {least}: a shorter tail holds nothing",
        why,
        "take a narrower pitch or a larger bit",
        remedy,
        (
            ("least", Mm(_LEAST_HEIGHT)),
            ("pin_thickness", Mm(plan.pin_thickness)),
            ("least_lap", Mm(figures.LEAST_LAP)),
            ("cutting_length", Mm(bit.cutting_length)),
            ("least_mouth", Mm(least_mouth)),
        ),
    )
