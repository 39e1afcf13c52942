"""What of a box joint by steps is typed in, and what it can be: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit, Plan
from ...language.limits import Limit
from ..fingers import typed as shared
from ..half_blind.typed import READINGS as DOVETAILS
from ..half_blind.typed import setting as dovetail_setting
from ..typed import Figure, First, Size, Taken, YesNo
from .names import FENCE, SECOND
from .plan import LEAST_FINGER


def pitch(bit: Bit) -> Limit:
    """The pitches that leave a finger beside a slot."""
    return Limit("the pitch", bit.diameter + LEAST_FINGER, 200.0, "any pitch")


def setting(bit: Bit, name: str) -> Limit:
    """The values of a setting that are believed, as true lengths."""
    own = {
        **shared.setting_of(bit),
        SECOND: Limit("the second pass", 0.0, bit.diameter, "the bit itself"),
    }
    return own[name] if name in own else dovetail_setting(bit, FENCE)


def least_thickness(plan: Plan) -> float:
    """A test piece may be as thin as any board."""
    return shared.LEAST_SCRAP


FIGURES: dict[str, Figure] = {
    "second-pass": First(SECOND),
    "pitch": Size("pitch", pitch, lambda bit, _, __: 2 * bit.diameter),
    "by-eye": YesNo("by_eye"),
    "spacer": YesNo("spaced"),
    **shared.SHARED,
}
READINGS: dict[str, Taken] = {
    **shared.READINGS,
    "walls": DOVETAILS["walls"],
}
