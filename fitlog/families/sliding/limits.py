"""Where a sliding dovetail's settings end, with what sets each end and what to change beyond."""

from __future__ import annotations

import math

from ...errors import Mm
from ..family import Limit
from . import figures
from .names import EXPOSURE, HEIGHT
from .plan import SlidingPlan


def limit(plan: SlidingPlan, setting: str) -> Limit:
    """Return the range in which a setting may be proposed, mm."""
    if setting == HEIGHT:
        return height_limit(plan)
    if setting == EXPOSURE:
        return exposure_limit(plan)
    return Limit(
        figures.LEAST_HEIGHT / 2,
        plan.bit.cutting_length - 0.1,
        "the least of {least}: a shorter tongue holds nothing",
        "the bit's cutting length of {cutting_length}",
        "cut deeper sockets",
        "cut shallower sockets, or take a longer bit",
        (
            ("least", Mm(figures.LEAST_HEIGHT / 2)),
            ("cutting_length", Mm(plan.bit.cutting_length)),
        ),
    )


def height_limit(plan: SlidingPlan) -> Limit:
    """Return the range of the socket height, mm."""
    bit = plan.bit
    least_mouth = max(least_root(plan), bit.thinnest + 0.1)
    ends = (
        (
            figures.DEEPEST * plan.pin_thickness,
            "half the panel's thickness of {panel}",
            "take a thicker panel",
        ),
        (
            bit.cutting_length - 0.1,
            "the bit's cutting length of {cutting_length}",
            "take a longer bit",
        ),
        (
            (bit.diameter - least_mouth) / (2 * math.tan(bit.theta)),
            "the mouth, which must leave a tongue's root of {least_mouth:.1f}",
            "take a larger bit",
        ),
    )
    high, why, remedy = min(ends)
    return Limit(
        figures.LEAST_HEIGHT,
        high,
        "the least of {least}: a shallower socket holds nothing",
        why,
        "take a smaller bit or a thicker panel",
        remedy,
        (
            ("least", Mm(figures.LEAST_HEIGHT)),
            ("panel", Mm(plan.pin_thickness)),
            ("cutting_length", Mm(bit.cutting_length)),
            ("least_mouth", Mm(least_mouth)),
        ),
    )


def exposure_limit(plan: SlidingPlan) -> Limit:
    """Return the range of the exposure, mm."""
    thick, half = plan.figures()["thickness"], plan.bit.diameter / 2
    root = least_root(plan)
    ends = (
        (
            (thick - root) / plan.faces,
            "the tongue's root, which must keep {root} of a shelf of {thickness}",
            "take a thicker shelf or deeper sockets",
        ),
        (half, "half the bit, {half}: the fence must stand before its middle", "take a larger bit"),
    )
    high, why, remedy = min(ends)
    return Limit(
        figures.LEAST_EXPOSURE,
        high,
        "the least of {least}: a shallower flank holds nothing",
        why,
        "take a thicker shelf, a smaller bit or deeper sockets",
        remedy,
        (
            ("least", Mm(figures.LEAST_EXPOSURE)),
            ("root", Mm(root)),
            ("thickness", Mm(thick)),
            ("half", Mm(half)),
        ),
    )


def least_root(plan: SlidingPlan) -> float:
    """Return the narrowest root that a tongue on this shelf may have, mm."""
    return max(figures.LEAST_ROOT, figures.ROOT_SHARE * plan.figures()["thickness"])
