"""A tongue and groove as it is drawn: see `families.drawing`."""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Plan
from ...domain.drawing import Drawing
from ..boards import Job
from ..flip import geometry
from ..flip.drawing import Hollow, apart
from .names import FENCE
from .plan import tongue


def drawings(job: Job) -> tuple[Drawing, ...]:
    """The tongue beside its groove, which two passes widen about the board's middle."""
    plan, axis = tongue(job.setup.plan), job.settings[FENCE]
    thick, bit = plan.boards()["grooved"], plan.bit.diameter
    wide = geometry.groove(bit, axis, thick)
    grooved = Hollow("groove", thick, (thick - wide) / 2, wide, plan.depth, axis, bit)
    return (apart(job, "Groove and tongue", grooved, FENCE, "board", "tongue"),)


def labelled(plan: Plan) -> Mapping[str, float]:
    """How deep the groove is."""
    return {"groove deep": tongue(plan).depth}
