"""A tenon as it is drawn: see `families.drawing`."""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Plan
from ...domain.drawing import Drawing
from ..boards import Job
from ..flip.drawing import Hollow, apart
from .names import FENCE
from .plan import tenon


def drawings(job: Job) -> tuple[Drawing, ...]:
    """The rail's tenon beside the stile's mortise, seen from the end."""
    plan = tenon(job.setup.plan)
    stile = Hollow("mortise", plan.pin_thickness, job.settings[FENCE], plan.mortise, plan.depth)
    return (apart(job, "Mortise and tenon", stile, FENCE, "rail", "tenon"),)


def labelled(plan: Plan) -> Mapping[str, float]:
    """The mortise and its depth."""
    own = tenon(plan)
    return {"mortise": own.mortise, "depth": own.depth}
