"""How a sliding dovetail opens: the socket's height where it is not given, the first settings, and
whether bit, shelf and panel allow it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ...advice import plain
from ...advice.history import History
from ...advice.knowledge import know
from ...advice.laws import law_of
from ...advice.opening import first_from
from ...domain import Plan, Settings, SetUp
from ...domain.adjusters import adjuster
from ...errors import Least, Mm, Most, Refused
from ..wanted import Wanted
from . import figures
from .geometry import exposure_for, mouth
from .limits import exposure_limit, height_limit
from .names import FIT, HEIGHT, set_to
from .plan import SlidingPlan, sliding

_UNTIL_KNOWN = 1.0  # mm, of a height that is worked out from the plan itself


def plan_of(wanted: Wanted, earlier: Sequence[SetUp], past: History, by: str) -> SlidingPlan:
    """Return the plan of a set-up: what was said, then what is repeated, then what follows from the
    boards; the socket's height is the first piece's.
    """
    plan = sliding(plain.plan_of(wanted, earlier, past, by))
    height = wanted.first.get(HEIGHT) or plan.socket_height or sensible_height(plan)
    return replace(plan, socket_height=height)


def sensible_height(plan: SlidingPlan) -> float:
    """Return a socket height for the panel, on the lift's scale, inside every limit, mm."""
    limit = height_limit(plan)
    wanted = math.floor(2 * figures.SHARE_OF_PANEL * plan.pin_thickness) / 2
    # A shelf thinner than the mouth has no tongue: a deeper socket's mouth is narrower.
    bit = plan.bit
    least = (bit.diameter + 1.0 - plan.figures()["thickness"]) / (2 * math.tan(bit.theta))
    wanted = min(max(wanted, least, limit.low), limit.high)
    made = adjuster(plan.machine, "height", wanted, positive=True).nearest(wanted)
    return made if limit.low <= made <= limit.high else wanted


def first_settings(plan: SlidingPlan, past: History, by: str = "") -> Settings:
    """Return the settings for the first piece, as the machine can make them, the tongue thicker
    than wanted where little is known; raise `Refused` where the wood or the bit allows none.
    """
    check_wood(plan)
    height = plan.socket_height
    return first_from(plan, set_to(height, height, exposure_at(plan, height, past, by)), past, by)


def exposure_at(plan: SlidingPlan, height: float, past: History, by: str = "") -> float:
    """Return the exposure that brings a good fit at a socket height, unrounded, mm."""
    about = set_to(height, height, _UNTIL_KNOWN)
    knowledge = know(plan, (), past, about, by)
    law = law_of(knowledge, FIT, about)
    wanted = knowledge.joint.window(FIT).middle - law.mean
    bit, thick = plan.bit, plan.figures()["thickness"]
    return exposure_for(wanted, bit.diameter, thick, height, bit.theta, plan.faces)


def check_wood(plan: SlidingPlan) -> None:
    """Refuse a socket that the panel, the bit or the shelf does not allow."""
    check_height(plan, plan.socket_height)
    bit, thick = plan.bit, plan.figures()["thickness"]
    narrow = mouth(bit.diameter, plan.socket_height, bit.theta)
    limit, middle = exposure_limit(plan), figures.FIT_WINDOWS[plan.length_set].middle
    wanted = (thick - narrow + middle) / plan.faces
    if wanted < limit.low:
        raise Refused(
            "no-room",
            "a shelf of {thickness} leaves no flank for a socket whose mouth is {mouth:.1f} wide",
            "take a smaller bit, a thicker shelf or a deeper socket with --height",
            "take a smaller bit, a thicker shelf or a deeper socket",
            thickness=Mm(thick),
            mouth=Mm(narrow),
        )
    if wanted > limit.high:
        raise Refused(
            "no-room",
            "an exposure of {wanted:.2f} goes against {why}",
            "{remedy}",
            wanted=Mm(wanted),
            why=limit.told(limit.high_why),
            remedy=limit.told(limit.high_remedy),
        )


def check_height(plan: SlidingPlan, height: float) -> None:
    """Refuse a socket height past its limits."""
    limit = height_limit(plan)
    if limit.high <= limit.low:
        raise Refused(
            "no-room",
            "no socket height is possible: {why}",
            "{remedy}",
            why=limit.told(limit.high_why),
            remedy=limit.told(limit.high_remedy),
        )
    if not limit.low - 1e-6 <= height <= limit.high + 1e-6:
        why, remedy = map(limit.told, limit.beyond(height))
        raise Refused(
            "beyond-limit",
            "a socket height of {height:.2f} goes against {why}",
            "{remedy}, or stay within {low:.2f} and {high:.2f}",
            height=Mm(height),
            why=why,
            remedy=remedy,
            low=Least(limit.low),
            high=Most(limit.high),
        )


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """Return where the exposure would start for a good fit, unrounded, mm."""
    own = sliding(plan)
    return exposure_at(own, own.socket_height, past, by)
