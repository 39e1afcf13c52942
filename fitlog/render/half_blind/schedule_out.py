"""The order of a batch as CSV, every pass of it, and as JSON."""

from __future__ import annotations

import csv
import io

from ...document import Document
from ...families.half_blind.layouts.job import Job
from ...families.half_blind.layouts.schedule import Pass, Schedule, Step
from ...language.units import MM_PER_INCH
from ...texts import tell
from .schedule import BOX, end_name

COLUMNS = (
    "pass",
    "step",
    "mark",
    "board",
    "end",
    "edge_at_fence",
    "stop",
    "cut",
    "fence_set_mm",
    "fence_set_in",
    "bit_height_mm",
    "socket_depth_mm",
    "done",
)
_WORK = {"rabbet": "rabbet", "edges": "open edge", "slots": "slot", "sockets": "socket"}


def as_csv(job: Job, found: Schedule) -> str:
    """Return every pass as CSV (RFC 4180), in order; lengths in mm, the fence in inches as well."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    height = job.settings.on_scale(job.setup.plan.machine)["bit_height"]
    for number, one in enumerate(found.passes(), 1):
        step = found.steps[one.step - 1]
        fence = _fence(one, step)
        depth = step.depth
        writer.writerow(
            [
                number,
                one.step,
                one.end.mark,
                one.end.board,
                end_name(one.end),
                tell(one.edge),
                "" if one.stop is None else one.stop.number,
                tell("{work} {part}", work=tell(_WORK[step.work]), part=_part(one)),
                "" if fence is None else f"{fence:.4f}",
                "" if fence is None else f"{fence / MM_PER_INCH:.5f}",
                f"{height:.4f}" if one.stop is not None or fence is not None else "",
                "" if depth is None else f"{depth.depth:.4f}",
                BOX,
            ]
        )
    return out.getvalue()


def _fence(one: Pass, step: Step) -> float | None:
    if one.stop is not None:
        return one.stop.setting
    return step.rabbet[(one.rabbet or 1) - 1].fence


def _part(one: Pass) -> int:
    return one.stop.cut.part if one.stop is not None else one.rabbet or 1


def schedule_document(found: Schedule) -> Document | None:
    """Return the order as JSON, null where no boards were named; lengths in mm."""
    boards = found.boards
    if boards is None:
        return None
    return {
        "boxes": boards.boxes,
        "pin_boards": list(boards.pins),
        "tail_board": boards.tail,
        "steps": [
            {
                "step": number,
                "work": step.work,
                "stops": [stop.number for stop in step.stops],
                "both_edges": step.work == "edges",
                "socket_depth": None if step.depth is None else round(step.depth.depth, 4),
                "ends": [
                    {"mark": e.mark, "board": e.board, "end": e.end, "edge": e.edge}
                    for e in step.ends
                ],
            }
            for number, step in enumerate(found.steps, 1)
        ],
    }


def depths_list(job: Job) -> list[Document]:
    """Return the socket depth for each thickness of tail board, mm, and on which sides they are."""
    return [
        {
            "thickness": round(one.thickness, 4),
            "socket_depth": round(one.depth, 4),
            "sides": list(one.hands),
        }
        for one in job.depths
    ]
