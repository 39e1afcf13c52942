"""The fence's stops for the real boards as a screen and as CSV."""

from __future__ import annotations

import csv
import io

from ...families.half_blind.layouts import Stop
from ...families.half_blind.layouts.job import Job
from ...families.telling import say
from ...language.numbers import percent
from ...language.units import MM_PER_INCH, Ruler
from ..screen import Screen
from ..standing import unsettled

KINDS = {
    "edge": "open edge, once with each edge to the fence",
    "slot": "slot {}",
    "socket": "socket {}",
    "first": "socket {}, first pass: sets the fit",
    "clearing": "socket {}, clears",
    "last": "socket {}, last pass: sets the fit",
}
COLUMNS = (
    "stop",
    "board",
    "cut",
    "part",
    "from_edge_mm",
    "fence_exact_mm",
    "fence_set_mm",
    "rounding_mm",
    "fence_set_in",
    "bit_height_mm",
    "socket_depth_mm",
)


def stops(screen: Screen, job: Job, ruler: Ruler) -> None:
    """Print the stops of a job with what to do before each part."""
    plan, layout = job.setup.plan, job.layout
    dial = job.settings.on_scale(plan.machine)
    kind = "wide tails" if layout.wide else "tails and pins alike"
    if told := unsettled(job.standing):
        screen.head(told)
    screen.line()
    screen.head(
        f"Set-up {job.setup.number}, {stands(job)}: {plan.bit.name}, boards "
        f"{ruler.size(plan.board_width)} wide, "
        f"{layout.tails} tails, {kind}."
    )
    screen.line(
        f"Bit height {ruler.length(dial['bit_height'])}, fence zero (a cut on the middle of the "
        "board) "
        f"{ruler.length(job.stops.zero)}, socket depth "
        f"{ruler.length(job.settings['socket_depth'])}."
    )
    for heading, steps in job.sections:
        screen.line()
        screen.head(heading)
        for step in steps:
            screen.line(f"- {say(step, ruler)}", indent="  ")
        _table_of(screen, heading, job, ruler)
    for title, remarks in (("Note", job.notices), ("Care", job.cautions)):
        if remarks:
            screen.line()
            screen.head(title)
        for remark in remarks:
            screen.line(f"- {say(remark, ruler)}", indent="  ")


def stands(job: Job) -> str:
    """Return how a job's set-up stands, with its chance, in a few words."""
    chance = job.standing.chance
    how = "ended as it is" if job.standing.ended == "as it is" else job.status
    return how if chance is None else f"{how}, {percent(chance)} inside all windows"


def _table_of(screen: Screen, heading: str, job: Job, ruler: Ruler) -> None:
    """The table that belongs under a heading, if any."""
    board = {"Tail boards": "tail", "Pin boards": "pin"}.get(heading)
    if heading == "Rabbet":
        rows = [
            [
                str(n),
                ruler.length(one.takes),
                ruler.length(one.depth),
                "-" if one.fence is None else ruler.length(one.fence),
            ]
            for n, one in enumerate(job.rabbet, 1)
        ]
        screen.line()
        screen.table(["pass", "takes", "depth", "fence"], rows, right=(0, 1, 2, 3))
    elif board is not None:
        rows = [_row(stop, ruler) for stop in job.stops.stops if stop.cut.board == board]
        screen.line()
        screen.table(
            ["stop", "fence", "from the edge", "rounded by", "cut"], rows, right=(0, 1, 2, 3)
        )


def _row(stop: Stop, ruler: Ruler) -> list[str]:
    off = "-" if abs(stop.error) < 5e-4 else ruler.length(stop.error)
    return [
        str(stop.number),
        ruler.length(stop.setting),
        ruler.length(stop.cut.position),
        off,
        named(stop),
    ]


def named(stop: Stop) -> str:
    """Return what is cut at a stop."""
    return KINDS[stop.cut.kind].format(stop.cut.part)


def as_csv(job: Job) -> str:
    """Return the stops as CSV (RFC 4180), one row a stop; lengths in mm, the fence in inches as
    well.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    height = job.settings.on_scale(job.setup.plan.machine)["bit_height"]
    for stop in job.stops.stops:
        depth = f"{job.settings['socket_depth']:.4f}" if stop.cut.board == "pin" else ""
        writer.writerow(
            [
                stop.number,
                stop.cut.board,
                named(stop),
                stop.cut.part,
                f"{stop.cut.position:.4f}",
                f"{stop.exact:.4f}",
                f"{stop.setting:.4f}",
                f"{stop.error:.4f}",
                f"{stop.setting / MM_PER_INCH:.5f}",
                f"{height:.4f}",
                depth,
            ]
        )
    return out.getvalue()
