"""A lock mitre as it is drawn, at the cutter: see `families.drawing`. From the fence, above the
table; the tongue is the bit's own, of which no measure is known, so that it is not drawn.
"""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Plan
from ...domain.drawing import Area, Dimension, Drawing, Label, Point, Stroke, oblong
from ..boards import Job
from ..drawing import setting
from .names import HEIGHT, OFFSET
from .plan import MitrePlan, mitre

_BEYOND = 20.0  # mm of each part that is drawn beyond its mitre


def drawings(job: Job) -> tuple[Drawing, ...]:
    """The flat, then the upright, as the bit cuts them at one height and one fence."""
    plan = mitre(job.setup.plan)
    return _flat(job, plan), _upright(job, plan)


def labelled(plan: Plan) -> Mapping[str, float]:
    """The middle of the bit's profile."""
    return {"middle": mitre(plan).middle}


def _flat(job: Job, plan: MitrePlan) -> Drawing:
    thick, slant = plan.tail_thickness, _slant(job, plan)
    end = max(slant, thick) + _BEYOND
    outer: list[Point] = [(slant - thick, -thick)]
    if slant < thick:
        outer = [(0.0, -slant), (0.0, -thick)]
    flat = Area(((end, 0.0), (slant, 0.0), *outer, (end, -thick)))
    out, up = job.settings[OFFSET], job.settings[HEIGHT]
    return Drawing(
        "The flat at the cutter, without the tongue",
        (oblong(-5.0, -max(up, thick) - 5.0, 0.0, 0.0, "guide"), flat),
        (
            Stroke(((-5.0, 0.0), (end + 2.0, 0.0)), False),
            *_middle(job, plan),
            Stroke(((out, 0.0), (out, -up), (0.0, -up))),
        ),
        (
            setting(job, OFFSET, (0.0, 0.0), (out, 0.0), "below", 1),
            Dimension("middle from the fence", (0.0, 0.0), (out - plan.middle, 0.0), "below"),
            setting(job, HEIGHT, (out, 0.0), (out, -up), "right", 2),
            Dimension(
                "middle above the table", (out, 0.0), (out - plan.middle, plan.middle - up), "right"
            ),
            Dimension("flat", (end, 0.0), (end, -thick), "right", 1),
        ),
        (Label((end - 8.0, -thick / 2), "flat"),),
    )


def _upright(job: Job, plan: MitrePlan) -> Drawing:
    thick, slant = plan.pin_thickness, _slant(job, plan)
    top = -max(slant, thick) - _BEYOND
    outer: list[Point] = [(thick, thick - slant)]
    if slant < thick:
        outer = [(slant, 0.0), (thick, 0.0)]
    upright = Area(((0.0, -slant), *outer, (thick, top), (0.0, top)), "second")
    return Drawing(
        "The upright at the cutter",
        (oblong(-5.0, top, 0.0, 0.0, "guide"), upright),
        (Stroke(((-5.0, 0.0), (thick + 8.0, 0.0)), False), *_middle(job, plan)),
        (Dimension("upright", (0.0, top), (thick, top), "above"),),
        (Label((thick / 2, top + 7.0), "upright"),),
    )


def _slant(job: Job, plan: MitrePlan) -> float:
    """How far out from the fence the mitre meets the table, mm; as far up it meets the fence."""
    return job.settings[OFFSET] + job.settings[HEIGHT] - 2 * plan.middle


def _middle(job: Job, plan: MitrePlan) -> tuple[Stroke, ...]:
    """A cross at the middle of the profile."""
    x, y = job.settings[OFFSET] - plan.middle, plan.middle - job.settings[HEIGHT]
    return (
        Stroke(((x - 3.0, y), (x + 3.0, y)), False),
        Stroke(((x, y - 3.0), (x, y + 3.0)), False),
    )
