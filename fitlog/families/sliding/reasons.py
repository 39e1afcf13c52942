"""Where the first settings of a sliding dovetail come from, and what goes with the reasons of a
later piece.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...advice.bits import bit_law
from ...advice.decision import Decision
from ...advice.knowledge import Knowledge
from ...advice.laws import law_of, nominal_of
from ...domain import Aspect, Remark, Value, remark
from ..bits import diameter_prior
from .names import FIT, HEIGHT, TONGUE
from .plan import sliding


def first_reason(known: Knowledge, aspect: Aspect) -> Remark:
    """Return where the number of the first piece comes from."""
    plan, about = sliding(known.joint.plan), known.about
    law, taught = known.cold[aspect], known.past.taught(aspect, known.joint.terms(aspect, about))
    if aspect != FIT:
        short = about[HEIGHT] - about[TONGUE]
        return remark("tongue-from", aspect, short=short, taught=taught, sd=law.sd)
    told = bit_law(plan.bit, known.past)
    bit: tuple[Value, ...] = (plan.bit.diameter, plan.bit.angle)
    learnt = (told.diameter, told.angle_deg) if told.taught else None
    misfit = nominal_of(known, FIT, about) + law_of(known, FIT, about).mean
    return remark(
        "exposure-from",
        aspect,
        bit=bit,
        run=diameter_prior(plan.bit),
        learnt=learnt,
        socket=about[HEIGHT],
        taught=taught,
        sd=law.sd,
        at=misfit,
        thick=misfit < known.joint.window(FIT).low,
    )


def more_reasons(made: Decision) -> Iterable[Remark]:
    """How the next piece shows what is open: nothing beside its steps."""
    return ()
