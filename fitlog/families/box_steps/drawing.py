"""A box joint by steps of the fence as it is drawn: see `families.drawing`. From the fence, above
the table.
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
from ..tables import Table
from .names import FENCE, SECOND
from .plan import StepsPlan

_ABOVE = 12.0  # mm of the board above the slot


def drawings(job: Job) -> tuple[Drawing, ...]:
    """The slot in the middle of a board, which the zero is known by, and both boards along their
    ends.
    """
    assert isinstance(job, FingerJob)
    return _middle(job), across(job)


def in_order(job: Job) -> Table:
    """The stops of both boards."""
    assert isinstance(job, FingerJob)
    columns = {"stop": "stop", "board": "board", "fence": "fence", "second": "second pass"}
    rows = tuple((one.number, one.board, one.fence, one.second) for one in job.stops)
    return Table("stops", "The fence, stop by stop", columns, rows)


def labelled(plan: Plan) -> Mapping[str, float]:
    """The pitch."""
    assert isinstance(plan, StepsPlan)
    return {"pitch": plan.pitch}


def _middle(job: FingerJob) -> Drawing:
    axis, second, deep = (job.settings[name] for name in (FENCE, SECOND, HEIGHT))
    wide = job.setup.plan.board_width
    near, far = axis - (job.slot - second) / 2, axis + (job.slot + second) / 2
    top = -deep - _ABOVE
    board = Area(
        (
            *((0.0, 0.0), (0.0, top), (wide, top), (wide, 0.0)),
            *((far, 0.0), (far, -deep), (near, -deep), (near, 0.0)),
        )
    )
    return Drawing(
        "A slot in the middle of the board",
        (oblong(-5.0, top - 3.0, 0.0, 0.0, "guide"), board),
        (
            Stroke(((-5.0, 0.0), (wide + 3.0, 0.0)), False),
            Stroke(((axis, 0.0), (axis, -deep - 4.0))),
            Stroke(((far - second, 0.0), (far - second, -deep))),
        ),
        (
            setting(job, SECOND, (far - second, 0.0), (far, 0.0), "below"),
            setting(job, FENCE, (0.0, 0.0), (axis, 0.0), "below", 1),
            Dimension("slot", (near, -deep), (far, -deep), "above"),
            setting(job, HEIGHT, (far, -deep), (far, 0.0), "right"),
        ),
        (Label((axis / 2 - 4.0, -deep / 2), "board"),),
    )
