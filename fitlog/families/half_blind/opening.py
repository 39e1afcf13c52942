"""How a half-blind dovetail opens: pitch and height where they are not given, the first settings,
and whether the wood allows it.
"""

from __future__ import annotations

import math

from ...advice.history import History
from ...advice.knowledge import know
from ...advice.opening import first_from
from ...domain import Settings
from ...errors import Mm, Refused
from .. import joint_of
from . import figures, geometry
from .limits import height_limit
from .names import set_to
from .plan import DovetailPlan


def sensible_height(plan: DovetailPlan) -> float:
    """A height for the stock: a lap of about a quarter of the pin board, a mouth of about half the
    bit, mm.

    Common practice, no source. Rounded to half a millimetre and kept inside every limit.
    """
    limit, bit = height_limit(plan), plan.bit
    lap = max(figures.LEAST_LAP, plan.pin_thickness / 4)
    half_mouth = bit.diameter / 2 / (2 * math.tan(bit.theta))
    wanted = min(plan.pin_thickness - lap, half_mouth, limit.high - 0.5, 0.9 * bit.cutting_length)
    return max(limit.low, math.floor(wanted * 2) / 2 if wanted > 4 else wanted)


def pitch_for(
    plan: DovetailPlan, height: float, past: History, digits: int = 1, by: str = ""
) -> float:
    """The pitch that brings a good fit at `height`, by what is known of the bit, rounded to
    `digits` decimals.
    """
    laws = know(plan, (), past, set_to(height, 1.0, 1.0), by)
    wanted = laws.joint.window("fit").middle - laws.cold["fit"].mean
    bit = plan.bit
    return round(geometry.pitch_for(wanted, bit.diameter, height, bit.theta), digits)


def height_at(plan: DovetailPlan, past: History, by: str = "") -> tuple[float, float]:
    """The height that brings a good fit at the plan's pitch, unrounded, and its standard
    uncertainty, mm.
    """
    bit, middle = plan.bit, joint_of(plan, past.voices, by).window("fit").middle
    about = geometry.height_for(middle, bit.diameter, plan.pitch, bit.theta)
    law = know(plan, (), past, set_to(max(1.0, about), 1.0, 1.0), by).cold["fit"]
    height = geometry.height_for(middle - law.mean, bit.diameter, plan.pitch, bit.theta)
    return height, law.sd / abs(geometry.slope_clearance_height(bit.theta))


def first_settings(plan: DovetailPlan, past: History, by: str = "") -> Settings:
    """The settings for the first piece, rounded to the machine's steps; raises `Refused` where no
    setting is safe, or where more tails were asked for than fit the board.

    by: the person at work.
    """
    check_wood(plan)
    height, _ = height_at(plan, past, by)
    limit = height_limit(plan)
    if height > limit.high + 0.05 or height < limit.low:
        raise _out_of_reach(plan, height)
    base = set_to(
        height,
        plan.figures()["width"] / 2,
        max(0.5, plan.figures()["thickness"] - plan.rabbet_depth),
    )
    first = first_from(plan, base, past, by)
    if plan.tails is not None:
        from .layouts.laid import check_tails

        check_tails(plan, first)
    return first


def check_wood(plan: DovetailPlan) -> None:
    """Refuse boards that leave no lap, no straight tail or no rabbet that clears the sockets."""
    limit = height_limit(plan)
    if limit.high <= limit.low:
        raise Refused(
            "no-room",
            "no bit height is possible: {why}",
            "{remedy}",
            why=limit.told(limit.high_why),
            remedy=limit.told(limit.high_remedy),
        )
    left = plan.tail_thickness - plan.rabbet_depth
    if left < figures.LEAST_STRAIGHT_TAIL:
        raise Refused(
            "rabbet-too-deep",
            "a rabbet of {rabbet_depth:.2f} leaves {left:.2f} of a {tail_thickness} tail "
            "board, which must keep {LEAST_STRAIGHT_TAIL}",
            "take a thicker tail board, a smaller bit, or a shallower rabbet with --rabbet",
            "take a thicker tail board, a smaller bit, or a shallower rabbet",
            rabbet_depth=Mm(plan.rabbet_depth),
            left=Mm(left),
            tail_thickness=Mm(plan.tail_thickness),
            LEAST_STRAIGHT_TAIL=Mm(figures.LEAST_STRAIGHT_TAIL),
        )
    least = least_rabbet(plan, limit.high if plan.rabbet_bit == "straight" else 0.0)
    if plan.rabbet_depth < least - 1e-9:
        raise Refused(
            "rabbet-too-shallow",
            "a rabbet of {rabbet_depth:.2f} would stop on the sockets' round ends, which need "
            "at least {least:.2f}",
            "leave --rabbet out for half the bit's diameter, or give more",
            "leave it empty for half the bit's diameter, or give more",
            rabbet_depth=Mm(plan.rabbet_depth),
            least=Mm(least),
        )


def least_rabbet(plan: DovetailPlan, height: float) -> float:
    """The shallowest rabbet that works for the tightest joint that is good, mm."""
    bit = plan.bit
    width = (
        bit.diameter
        if plan.rabbet_bit == "same"
        else geometry.mouth(bit.diameter, height, bit.theta)
    )
    return geometry.least_rabbet(figures.fit_window(plan.many_tails).low, width / 2)


def _out_of_reach(plan: DovetailPlan, height: float) -> Refused:
    limit, bit, middle = height_limit(plan), plan.bit, joint_of(plan).window("fit").middle
    best = sensible_height(plan)
    pitch = geometry.pitch_for(middle, bit.diameter, best, bit.theta)
    return Refused(
        "pitch-out-of-reach",
        "a pitch of {pitch} asks for a bit height of {height:.2f}, which goes against {side}",
        "take a pitch of about {nearest:.1f} (height {best}), or leave --pitch out",
        "take a pitch of about {nearest:.1f} (height {best}), or leave it empty",
        pitch=Mm(plan.pitch),
        height=Mm(height),
        side=limit.told(limit.beyond(height)[0]),
        nearest=Mm(pitch),
        best=Mm(best),
    )
