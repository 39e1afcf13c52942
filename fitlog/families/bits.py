"""The causes that a bit brings to every family alike: a cause keeps its key, so that one set-up
teaches the next, whatever its joint.
"""

from __future__ import annotations

import math

from .. import defaults
from ..domain import Bit
from ..estimator.evidence import Term


def diameter(bit: Bit, factor: float = 1.0) -> Term:
    """Return the error of a bit's diameter since it was last sharpened, mm, as a cause.

    factor: how much the offset moves with it.
    """
    return Term(("diameter", bit.name, str(bit.sharpenings)), factor, *diameter_prior(bit))


def angle(bit: Bit, factor: float = 1.0) -> Term:
    """Return the error of a bit's angle, rad, as a cause; no sharpening changes it."""
    return Term(("angle", bit.name), factor, 0.0, math.radians(defaults.ANGLE_DEG))


def of_the_bit(term: Term) -> bool:
    """Tell whether a cause is one of these."""
    return term.key[0] in ("diameter", "angle")


def diameter_prior(bit: Bit) -> tuple[float, float]:
    """Mean and sd of the true cutting diameter less the one in the catalogue, mm."""
    if bit.measured:
        return defaults.DIAMETER_MEASURED
    printed = defaults.DIAMETER_PRINTED if bit.angle else defaults.STRAIGHT_PRINTED
    (mean, sd), (less, doubt) = printed, defaults.SHARPENING
    return mean + less * bit.sharpenings, math.hypot(sd, doubt * math.sqrt(bit.sharpenings))


def radius(bit: Bit) -> float:
    """Half of what a bit's cutting diameter probably is, mm: what a caliper reads from the middle
    of the bit to the edge of its tip.
    """
    return (bit.diameter + diameter_prior(bit)[0]) / 2
