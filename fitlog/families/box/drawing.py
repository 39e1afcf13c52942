"""A box joint on a key as it is drawn: see `families.drawing`. From the key's near face, above the
sled's base.
"""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Plan
from ...domain.drawing import Area, Dimension, Drawing, Label, Stroke, oblong
from ..boards import Job
from ..drawing import setting
from ..fingers.boards import FingerJob
from ..fingers.drawing import across
from ..fingers.names import HEIGHT
from .names import GAP, STARTER
from .plan import BoxPlan

_ABOVE, _KEY = (
    12.0,
    0.7,
)  # mm of the board above the slot; of the slot's height, how high the key is


def drawings(job: Job) -> tuple[Drawing, ...]:
    """The first board at the key, the second at the starter, both along their ends."""
    assert isinstance(job, FingerJob)
    return _first(job), _second(job), across(job)


def labelled(plan: Plan) -> Mapping[str, float]:
    """The key."""
    assert isinstance(plan, BoxPlan)
    return {"key": plan.key_width}


def _first(job: FingerJob) -> Drawing:
    gap, deep = job.settings[GAP], job.settings[HEIGHT]
    wall, top, end = gap + job.slot, -deep - _ABOVE, 2 * gap + job.slot
    board = Area(
        (
            *((0.0, 0.0), (0.0, top), (end, top), (end, 0.0)),
            *((wall, 0.0), (wall, -deep), (gap, -deep), (gap, 0.0)),
        )
    )
    return Drawing(
        "The first board at the key",
        (board, _key(job, deep), oblong(gap, -deep, wall, 0.0, "cutter")),
        (_base(job, end),),
        (
            setting(job, GAP, (0.0, 0.0), (gap, 0.0), "below"),
            Dimension("slot", (gap, 0.0), (wall, 0.0), "below", 1),
            setting(job, HEIGHT, (wall, -deep), (wall, 0.0), "right"),
        ),
        (Label((end / 2, top + 4.0), "first"), _key_name(job, deep)),
    )


def _second(job: FingerJob) -> Drawing:
    gap, deep, start = job.settings[GAP], job.settings[HEIGHT], job.settings[STARTER]
    wall, top, end = gap + job.slot, -deep - _ABOVE, 2 * gap + job.slot + 4.0
    left = min(start, wall)
    corners = ((left, top), (end, top), (end, 0.0), (wall, 0.0), (wall, -deep), (left, -deep))
    starter = oblong(0.0, -_KEY * deep, start, 0.0, "guide")
    return Drawing(
        "The second board at the starter",
        (Area(corners, "second"), _key(job, deep), starter),
        (_base(job, end), Stroke(((gap, 0.0), (gap, -deep), (wall, -deep)))),
        (setting(job, STARTER, (0.0, 0.0), (start, 0.0), "below"),),
        (Label(((left + end) / 2, top + 4.0), "second"), _key_name(job, deep)),
    )


def _key(job: FingerJob, deep: float) -> Area:
    assert isinstance(job.setup.plan, BoxPlan)
    return oblong(-job.setup.plan.key_width, -_KEY * deep, 0.0, 0.0, "guide")


def _key_name(job: FingerJob, deep: float) -> Label:
    assert isinstance(job.setup.plan, BoxPlan)
    return Label((-job.setup.plan.key_width / 2 - 2.0, -_KEY * deep - 3.0), "key")


def _base(job: FingerJob, end: float) -> Stroke:
    """The sled's base."""
    assert isinstance(job.setup.plan, BoxPlan)
    return Stroke(((-job.setup.plan.key_width - 4.0, 0.0), (end + 2.0, 0.0)), False)
