"""A half-lap as it is drawn, apart by a little: see `families.drawing`."""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Plan
from ...domain.drawing import Area, Dimension, Drawing, Label
from ..boards import Job
from ..drawing import setting
from ..flip.names import HEIGHT, STOP
from .plan import lap

_BETWEEN, _BEYOND = 5.0, 24.0  # mm: apart; of each part that is drawn beyond its lap


def drawings(job: Job) -> tuple[Drawing, ...]:
    """The part at work below, the other one above it."""
    plan, deep, stop = lap(job.setup.plan), job.settings[HEIGHT], job.settings[STOP]
    thick, other = plan.tail_thickness, plan.pin_thickness
    mate = deep if plan.mate is None else plan.mate
    wide = max(stop, plan.depth)
    here = Area(
        (
            *((-_BEYOND, 0.0), (0.0, 0.0), (0.0, deep), (stop, deep)),
            *((stop, thick), (-_BEYOND, thick)),
        )
    )
    low = mate - _BETWEEN - deep  # both laps' faces lie apart by what is between
    there = Area(
        (
            *((0.0, low - mate), (wide, low - mate), (wide, low), (wide + _BEYOND, low)),
            *((wide + _BEYOND, low - other), (0.0, low - other)),
        ),
        "second",
    )
    return (
        Drawing(
            "The lap, both parts",
            (here, there),
            dimensions=(
                setting(job, HEIGHT, (0.0, 0.0), (0.0, deep), "left"),
                Dimension("part", (-_BEYOND, 0.0), (-_BEYOND, thick), "left", 1),
                setting(job, STOP, (0.0, deep), (stop, thick), "below"),
            ),
            labels=(
                Label((-_BEYOND / 2, thick / 2), "part"),
                Label((wide + _BEYOND / 2, low - other / 2), "other"),
            ),
        ),
    )


def labelled(plan: Plan) -> Mapping[str, float]:
    """How wide the part is that it lies across."""
    return {"across": lap(plan).depth}
