"""Where the first settings of a half-blind dovetail come from, and how its next piece is cut so
that it shows all that is open.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...advice.bits import bit_law
from ...advice.decision import Decision
from ...advice.knowledge import Knowledge
from ...domain import Aspect, Bit, Remark, Value, remark
from ..bits import diameter_prior
from . import figures
from .names import CENTRE, FIT
from .plan import dovetail
from .showing import showing


def first_reason(know: Knowledge, aspect: Aspect) -> Remark:
    """Return where the number of the first piece comes from."""
    plan, law = dovetail(know.joint.plan), know.cold[aspect]
    taught = know.past.taught(aspect, know.joint.terms(aspect, know.about))
    if aspect == FIT:
        same = know.past.last_like(plan)
        told: dict[str, Value] = {"bit": _bit(know), "pitch": plan.pitch, "same": same}
        return remark("height-from", aspect, **told, taught=taught, sd=law.sd)
    if aspect == CENTRE:
        remembered = law.sd <= figures.FENCE_REMEMBERED
        return remark("fence-from", aspect, taught=taught, sd=law.sd, remembered=remembered)
    told = {"rabbet": plan.rabbet_depth, "same": plan.rabbet_bit == "same"}
    return remark("depth-from", aspect, **told, taught=taught, sd=law.sd)


def _bit(know: Knowledge) -> tuple[Value, ...]:
    """The bit with its figures as they are taken: as learnt where set-ups spoke of it, else as
    assumed.
    """
    bit = know.joint.plan.bit
    law, printed = bit_law(bit, know.past), (bit.diameter, bit.angle, state_of(bit))
    if law.taught:
        return (*printed, law.diameter, law.angle_deg)
    return (*printed, diameter_prior(bit), None)


def state_of(bit: Bit) -> str:
    """Where a bit's diameter is from: "measured", "sharpened" (and not measured since) or
    "sold".
    """
    return "measured" if bit.measured else "sharpened" if bit.sharpenings else "sold"


def more_reasons(made: Decision) -> Iterable[Remark]:
    """How to cut the next piece so that it shows all that is still open."""
    if CENTRE in made.unsettled and len(made.unsettled) > 1:
        yield remark("one-piece", way=showing(made.known, made.pieces, made.settings))
    elif made.unsettled == (FIT,):
        yield remark("one-piece", way=FIT)
