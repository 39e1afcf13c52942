"""How a set-up of a part cut from both faces opens: thick on purpose, since it can be cut again."""

from __future__ import annotations

import math

from ...advice.history import History
from ...advice.knowledge import know
from ...advice.laws import law_of
from ...advice.opening import first_from
from ...domain import Aspect, Plan, SettingKind, Settings
from ...errors import Mm, Refused
from .. import joint_of
from ..family import Limit
from .figures import FIRST_SURE
from .names import HEIGHT


def at_figures(plan: Plan, base: Settings, past: History, by: str) -> Settings:
    """Return settings where printed figures alone bring the middle of each window; raise `Refused`
    where the wood allows none. base: about which they are worked out, true mm.
    """
    joint = joint_of(plan, past.voices, by)
    lead = _by_height(plan)
    for aspect in (lead, *(a for a in plan.family.setting_of if a != lead)):
        wanted = joint.setting_for(aspect, joint.window(aspect).middle, base)
        check_room(
            plan.family.adjusted(aspect), joint.limit(plan.family.setting_of[aspect], base), wanted
        )
        base = base.moved(aspect, wanted)
    return base


def thick_first(plan: Plan, base: Settings, past: History, by: str) -> Settings:
    """Return the first settings as the machine can make them, so low that the first piece comes out
    too thin once in twenty.
    """
    limit = joint_of(plan, past.voices, by).limit(HEIGHT, base)
    first, low = first_from(plan, base, past, by), height_at(plan, base, past, by, FIRST_SURE)
    can = plan.adjuster(_by_height(plan), first[HEIGHT])
    return first.with_(HEIGHT, max(can.below(low), can.above(limit.low)))


def height_at(plan: Plan, about: Settings, past: History, by: str, sds: float = 0.0) -> float:
    """Return the height that brings the middle of the window, lower by so many sds of what a first
    piece is not known to, unrounded, mm.
    """
    aspect, found = _by_height(plan), know(plan, (), past, about, by)
    law, slope = law_of(found, aspect, about), found.joint.slope(aspect, about)
    sd = math.hypot(law.sd, found.joint.piece_sd(aspect))
    wanted = found.joint.window(aspect).middle - law.mean
    return found.joint.setting_for(aspect, wanted, about) - sds * sd / abs(slope)


def _by_height(plan: Plan) -> Aspect:
    return next(a for a, name in plan.family.setting_of.items() if name == HEIGHT)


def check_room(kind: SettingKind, limit: Limit, wanted: float) -> None:
    """Refuse what has no room on these boards, before any piece is cut."""
    if limit.low <= wanted <= limit.high:
        return
    why, remedy = limit.beyond(wanted)
    raise Refused(
        "no-room",
        "these boards want {setting} at {wanted:.2f}, against {why}",
        "{remedy}",
        setting=kind.called,
        wanted=Mm(wanted),
        why=limit.told(why),
        remedy=limit.told(remedy),
    )
