"""The joints fitlog can tune, by family. Geometry only: nothing here knows of logs, grids
or screens.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from ..domain import Family, Plan
from .family import Joint, Limit
from .half_blind.names import HALF_BLIND
from .names import FAMILIES, PLANS, family_of

if TYPE_CHECKING:
    from ..estimator.evidence import Voices

    Opener = Callable[[Plan, Voices | None, str, str | None], Joint]

__all__ = ["Joint", "Limit", "joint_of", "register"]


def _half_blind() -> Opener:
    from .half_blind.joint import HalfBlindDovetail

    return HalfBlindDovetail


_OPENERS: dict[str, Callable[[], Opener]] = {HALF_BLIND.name: _half_blind}


def register(family: Family, plan: type[Plan], opener: Callable[[], Opener]) -> None:
    """Add a family. plan: the class of its plans; opener: returns that of its joints, imported
    when first asked for.
    """
    FAMILIES[family.name], PLANS[family.name] = family, plan
    _OPENERS[family.name] = opener


def joint_of(
    plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
) -> Joint:
    """Return the joint of a plan; raise `Refused` for one this version does not know.

    voices: how people use their words, where that is known.  by: the person at work.
    wood: what the pieces at work are cut in (`Plan.wood`); None: what the plan says.
    """
    return _OPENERS[family_of(plan.joint).name]()(plan, voices, by, wood)
