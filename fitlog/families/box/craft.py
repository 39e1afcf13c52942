"""The craft of a box joint on a sled: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...advice.decision import Decision
from ...advice.history import History
from ...advice.knowledge import Knowledge
from ...advice.notices import sizes
from ...advice.opening import first_from
from ...domain import Aspect, Plan, Remark, Settings, remark
from .. import joint_of
from ..fingers.craft import always, check_slot, ends_from, wood_notices
from ..fingers.figures import SAWN_OFF
from ..fingers.names import FIT, HEIGHT
from .names import EDGES, GAP, STARTER, set_to
from .plan import BoxPlan

__all__ = [
    "cautions",
    "check_slot",
    "first_reason",
    "first_settings",
    "notices",
    "recipe",
    "start_at",
]


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """A key gap of a slot less the play that is wanted, a starter in the middle of the play."""
    assert isinstance(plan, BoxPlan)
    joint, slot = joint_of(plan, past.voices, by), plan.bit.diameter
    base = set_to(slot, slot, plan.figures()["met"] + plan.wanted_step)
    base = base.with_(GAP, joint.setting_for(FIT, joint.window(FIT).middle, base))
    base = base.with_(STARTER, joint.setting_for(EDGES, 0.0, base))
    return first_from(plan, base, past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """The key gap of the first piece, mm."""
    return first_settings(plan, past, by)[GAP]


def first_reason(known: Knowledge, aspect: Aspect) -> Remark | None:
    """Where the first numbers come from."""
    plan, law = known.joint.plan, known.cold[aspect]
    assert isinstance(plan, BoxPlan)
    taught = known.past.taught(aspect, known.joint.terms(aspect, known.about))
    if aspect == FIT:
        play = known.joint.window(FIT).middle
        return remark(
            "gap-from", aspect, cutter=plan.bit.diameter, play=play, taught=taught, sd=law.sd
        )
    if aspect == EDGES:
        return remark("starter-from", aspect, taught=taught, sd=law.sd)
    return ends_from(plan, law.sd, taught)


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """One pair of ends shows all three."""
    assert isinstance(plan, BoxPlan)
    wide = plan.board_width if plan.word_set else 4 * plan.spacing
    return (
        remark("box-scraps", wide=round(wide), thick=plan.figures()["met"]),
        remark("box-first", fingers=plan.tried, side=plan.pressed),
        remark("box-second", starter=settings[STARTER], side=plan.pressed),
        remark("box-try", edges=EDGES in (asked or plan.in_play)),
        remark("box-saw-off", off=settings[HEIGHT] + SAWN_OFF),
    )


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """The exit of the cutter, and what a deep slot asks for; after a move the key's."""
    if moves is None:
        return always(plan, remark("exit-block"), remark("stacked-cutter"), remark("deep-slots"))
    return (remark("key-last-move"),) if abs(moves.get(GAP, 0.0)) > 1e-9 else ()


def notices(made: Decision) -> tuple[Remark, ...]:
    """What the boards' moisture calls for, at the start."""
    plan = made.known.joint.plan
    assert isinstance(plan, BoxPlan)
    return (*sizes(made), *(() if made.pieces else wood_notices(plan)))
