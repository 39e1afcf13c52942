"""The joints fitlog can tune, by name. Geometry only: nothing here knows of logs, grids
or screens.
"""

from __future__ import annotations

from ..domain import HALF_BLIND, Plan
from ..errors import Refused
from ..estimator.evidence import Voices
from .family import Joint, Limit
from .half_blind.joint import HalfBlindDovetail

__all__ = ["Joint", "Limit", "joint_of"]

_JOINTS: dict[str, type[HalfBlindDovetail]] = {HALF_BLIND: HalfBlindDovetail}


def joint_of(
    plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
) -> Joint:
    """Return the joint of a plan; raise `Refused` for one this version does not know.

    voices: how people use their words, where that is known.  by: the person at work.
    wood: what the pieces at work are cut in (`Plan.wood`); None: what the plan says.
    """
    if plan.joint not in _JOINTS:
        raise Refused(
            "unknown-joint", f"this version does not know the joint {plan.joint!r}", "update fitlog"
        )
    return _JOINTS[plan.joint](plan, voices, by, wood)
