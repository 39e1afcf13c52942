"""The craft of a rabbet: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...advice.cautions import LEAST_LENGTH
from ...advice.decision import Decision
from ...advice.history import History
from ...advice.knowledge import Knowledge
from ...advice.notices import sizes
from ...domain import Aspect, Figures, Plan, Remark, Settings, remark
from .. import joint_of
from ..sheets.craft import (
    after,
    always,
    by_label,
    check_depth,
    depth_from,
    from_below,
    of_moisture,
    printed,
    told_of,
)
from ..sheets.names import DEPTH, HEIGHT
from .names import FACE, FENCE, set_to
from .plan import RabbetPlan, rabbet

__all__ = [
    "cautions",
    "check",
    "first_reason",
    "first_settings",
    "notices",
    "recipe",
    "start_at",
]


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """As wide as the mate is thick, as deep as wanted, both come up to from the side on which wood
    is left.
    """
    joint, own = joint_of(plan, past.voices, by), plan.figures()
    base = printed(joint, set_to(own["mate"], rabbet(plan).depth))
    return from_below(plan, base, past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """The exposure of the first piece, mm."""
    return first_settings(plan, past, by)[FENCE]


def check(plan: Plan, settings: Settings, changed: Mapping[str, float], sizes: Figures) -> None:
    """Refuse a cut through the side."""
    check_depth(plan, settings, sizes)


def first_reason(known: Knowledge, aspect: Aspect) -> Remark | None:
    """Where the first numbers come from."""
    plan = rabbet(known.joint.plan)
    if aspect == DEPTH:
        return _back_from(known, plan) if plan.back else depth_from(known, plan)
    if plan.back:
        return remark("bearing-from", FACE, bearing=plan.bearing)
    return remark("exposure-from", FACE, **told_of(known, FACE, plan))


def _back_from(known: Knowledge, plan: RabbetPlan) -> Remark:
    return remark("back-from", DEPTH, **told_of(known, DEPTH, plan))


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """A light pass, then the full one, and the mate or the back held in."""
    dial, own = settings.on_scale(plan.machine), rabbet(plan)
    return (
        remark("rabbet-scraps", thick=plan.figures()["thickness"], long=LEAST_LENGTH),
        remark("rabbet-cut", exposure=dial[FENCE], height=dial[HEIGHT]),
        remark("rabbet-back") if own.back else remark("rabbet-mate"),
    )


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """The bit stands in the fence, and the board is wide enough to bear on it."""
    return always(plan, remark("bit-in-fence")) if moves is None else after(moves)


def notices(made: Decision) -> tuple[Remark, ...]:
    """A sheet by its label, an offcut of another moisture, and what other boards want."""
    return (*by_label(made), *of_moisture(made), *sizes(made))
