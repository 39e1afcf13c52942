"""The craft of a box joint by steps: see `advice.craft` for what each function promises."""

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
from ..half_blind import figures
from ..half_blind.cautions import FRESH_PIECE, TURN
from ..half_blind.notices import before_spoiling, centre
from ..half_blind.showing import shown_by
from .names import CENTRE, FENCE, SECOND, set_to
from .plan import StepsPlan

__all__ = [
    "before_spoiling",
    "cautions",
    "check_slot",
    "first_reason",
    "first_settings",
    "notices",
    "recipe",
    "shown_by",
    "start_at",
]


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """A second pass that makes the play that is wanted, the fence at half the width."""
    assert isinstance(plan, StepsPlan)
    joint, own = joint_of(plan, past.voices, by), plan.figures()
    base = set_to(0.0, own["width"] / 2, own["met"] + plan.wanted_step)
    second = joint.setting_for(FIT, joint.window(FIT).middle, base)
    return first_from(plan, base.with_(SECOND, max(0.0, second)), past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """The second pass of the first piece, mm."""
    return first_settings(plan, past, by)[SECOND]


def first_reason(known: Knowledge, aspect: Aspect) -> Remark | None:
    """Where the first numbers come from."""
    plan, law = known.joint.plan, known.cold[aspect]
    assert isinstance(plan, StepsPlan)
    taught = known.past.taught(aspect, known.joint.terms(aspect, known.about))
    if aspect == FIT:
        told = {"bit": plan.bit.diameter, "pitch": plan.pitch, "taught": taught, "sd": law.sd}
        return remark("second-from", aspect, play=known.joint.window(FIT).middle, **told)
    if aspect == CENTRE:
        remembered = law.sd <= figures.FENCE_REMEMBERED
        return remark("fence-from", aspect, taught=taught, sd=law.sd, remembered=remembered)
    return ends_from(plan, law.sd, taught)


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """One pair of ends shows all three; a turn wants a scrap of its own, since second passes lie
    out of the middle.
    """
    assert isinstance(plan, StepsPlan)
    dial, wide = settings.on_scale(plan.machine), plan.figures()["width"]
    x, second = dial[FENCE], settings[SECOND]
    shown = CENTRE in (asked or plan.in_play) and shown_by != ""
    walls = (remark("steps-walls", fence=x),) if shown and shown_by != "turn" else ()
    turn = (remark("steps-turn", fence=x),) if shown and shown_by == "turn" else ()
    return (
        remark("steps-scraps", wide=wide, thick=plan.figures()["met"]),
        *walls,
        remark("steps-first", fence=x, pitch=plan.pitch, second=second),
        remark("steps-second", fence=x + plan.pitch / 2, second=second),
        remark("box-try", edges=False),
        *turn,
        remark("box-saw-off", off=settings[HEIGHT] + SAWN_OFF),
    )


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """The second pass only further out; after a move of the fence inward a fresh piece."""
    if moves is None:
        turn = (TURN,) if CENTRE in plan.in_play else ()
        own = remark("second-out"), remark("tall-fence"), remark("deep-slots")
        return always(plan, *own, *turn)
    return (FRESH_PIECE,) if moves.get(FENCE, 0.0) < -1e-9 else ()


def notices(made: Decision) -> tuple[Remark, ...]:
    """What a second pass at the fence asks for, and at the start the boards' moisture."""
    plan = made.known.joint.plan
    assert isinstance(plan, StepsPlan)
    wood = () if made.pieces else wood_notices(plan)
    return (*centre(made.known, made.pieces, made.found), *sizes(made), *wood)
