"""A housing as it is drawn: see `families.drawing`."""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Plan
from ...domain.drawing import Area, Dimension, Drawing, Label, Stroke, oblong
from ..boards import Job
from ..drawing import setting
from ..sheets.boards import Place, SheetJob
from ..sheets.names import HEIGHT
from ..tables import Table
from .names import SECOND
from .plan import HousingPlan, housing

_BESIDE, _SHEET, _BETWEEN = 20.0, 22.0, 4.0  # mm of the side, of the sheet, apart
_MOST = 6  # housings that are each measured from the edge


def drawings(job: Job) -> tuple[Drawing, ...]:
    """The sheet above its housing, and where the housings lie along the side."""
    assert isinstance(job, SheetJob)
    plan = housing(job.setup.plan)
    along = (_along(job.places, plan, job.settings[SECOND]),) if job.places else ()
    return _section(job, plan), *along


def in_order(job: Job) -> Table:
    """The places of the housings."""
    assert isinstance(job, SheetJob)
    columns = {"housing": "housing", "fence": "fence", "near_wall": "near wall"}
    rows = tuple((one.number, one.fence, one.near) for one in job.places)
    return Table("places", "The fence, housing by housing", columns, rows)


def labelled(plan: Plan) -> Mapping[str, float]:
    """The sheet."""
    own = housing(plan)
    return {"sheet": own.boards()["sheet"], "deep": own.depth}


def _section(job: Job, plan: HousingPlan) -> Drawing:
    bit, second, deep = plan.bit.diameter, job.settings[SECOND], job.settings[HEIGHT]
    sheet, wide, thick = plan.boards()["sheet"], bit + second, plan.tail_thickness
    near = (wide - sheet) / 2
    side = Area(
        (
            *((-_BESIDE, 0.0), (0.0, 0.0), (0.0, deep), (wide, deep), (wide, 0.0)),
            *((wide + _BESIDE, 0.0), (wide + _BESIDE, thick), (-_BESIDE, thick)),
        )
    )
    shelf = oblong(near, -_BETWEEN - _SHEET, near + sheet, -_BETWEEN, "second")
    return Drawing(
        "The housing and its sheet",
        (side, shelf),
        (Stroke(((bit, 0.0), (bit, deep))),),
        (
            Dimension("sheet", (near, -_BETWEEN), (near + sheet, -_BETWEEN), "above"),
            setting(job, SECOND, (bit, deep), (wide, deep), "below"),
            Dimension("first pass", (0.0, deep), (bit, deep), "below", 1),
            setting(job, HEIGHT, (wide, 0.0), (wide, deep), "right"),
            Dimension("side", (wide + _BESIDE, 0.0), (wide + _BESIDE, thick), "right", 1),
        ),
        (
            Label((wide / 2, -_BETWEEN - _SHEET / 2), "sheet"),
            Label((-_BESIDE / 2 - 2.0, thick / 2), "side"),
        ),
    )


def _along(places: tuple[Place, ...], plan: HousingPlan, second: float) -> Drawing:
    """The side along its reference edge, every housing's near wall measured from there."""
    thick, wide = plan.tail_thickness, plan.bit.diameter + second
    deep, end = plan.depth, places[-1].near + wide + _BESIDE
    corners = [(0.0, 0.0)]
    for place in places:
        near, far = place.near, place.near + wide
        corners += [(near, 0.0), (near, deep), (far, deep), (far, 0.0)]
    shown = places if len(places) <= _MOST else (places[0], places[1], places[-1])
    return Drawing(
        "The side from its reference edge",
        (Area((*corners, (end, 0.0), (end, thick), (0.0, thick))),),
        dimensions=tuple(
            Dimension(f"housing {place.number}", (0.0, 0.0), (place.near, 0.0), "above", row)
            for row, place in enumerate(shown)
        ),
    )
