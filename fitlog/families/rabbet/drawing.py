"""A rabbet as it is drawn: see `families.drawing`."""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Plan
from ...domain.drawing import Area, Dimension, Drawing, Label, oblong
from ..boards import Job
from ..drawing import setting
from ..sheets.names import HEIGHT
from .names import FENCE
from .plan import rabbet

_BEYOND, _BETWEEN = 24.0, 4.0  # mm of each part that is drawn beyond the rabbet; apart


def drawings(job: Job) -> tuple[Drawing, ...]:
    """The mate above the side's rabbet, or the back that lies in it."""
    plan, wide, deep = rabbet(job.setup.plan), job.settings[FENCE], job.settings[HEIGHT]
    sheet, thick = plan.boards()["sheet"], plan.tail_thickness
    end, low = (thick, deep + _BEYOND) if plan.back else (wide + _BEYOND, thick)
    end, low = max(end, wide + 3.0), max(low, deep + 3.0)
    side = Area(((0.0, deep), (wide, deep), (wide, 0.0), (end, 0.0), (end, low), (0.0, low)))
    top = -_BETWEEN - (sheet if plan.back else _BEYOND)
    left = wide - (wide + _BEYOND if plan.back else sheet)
    mate = oblong(left, top, wide, -_BETWEEN, "second")
    measured = (
        Dimension("back", (left, top), (left, -_BETWEEN), "left")
        if plan.back
        else Dimension("mate", (left, top), (wide, top), "above")
    )
    return (
        Drawing(
            "The rabbet and its back" if plan.back else "The rabbet and its mate",
            (side, mate),
            dimensions=(
                measured,
                setting(job, FENCE, (0.0, deep), (wide, deep), "below"),
                setting(job, HEIGHT, (wide, 0.0), (wide, deep), "right"),
                Dimension("side", (0.0, low), (end, low), "below", 1)
                if plan.back
                else Dimension("side", (end, 0.0), (end, low), "right", 1),
            ),
            labels=(
                Label(((left + wide) / 2, (top - _BETWEEN) / 2), "back" if plan.back else "mate"),
                Label(((wide + end) / 2, (deep + low) / 2), "side"),
            ),
        ),
    )


def labelled(plan: Plan) -> Mapping[str, float]:
    """The sheet."""
    return {"sheet": rabbet(plan).boards()["sheet"]}
