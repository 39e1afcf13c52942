"""The fence's stops for the real boards as a screen and as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator

from ...document import Document, on_scale, remarks_document
from ...domain import Remark
from ...families.half_blind.layouts import Stop, Stops
from ...families.half_blind.layouts.corners import Depth
from ...families.half_blind.layouts.job import Job
from ...families.half_blind.tail import LastTail
from ...families.telling import say
from ...language.numbers import percent
from ...language.units import MM_PER_INCH, Ruler, counted
from ...texts import tell
from ..screen import Screen
from ..standing import unsettled
from . import schedule, schedule_out
from .layouts import groove_document, layout_document
from .passes import BOARDS, parts
from .stops_table import named, rows_of

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

__all__ = ["as_csv", "job_document", "named", "parts", "stands", "stops", "stops_list"]


def stops(screen: Screen, job: Job, ruler: Ruler, *, every: bool) -> None:
    """Print the stops of a job in the order they are cut. every: with what to do before each part,
    and how each stop comes about.
    """
    plan, layout = job.setup.plan, job.layout
    dial = job.settings.on_scale(plan.machine)
    kind = tell("wide tails" if layout.wide else "tails and pins alike")
    if told := unsettled(job.standing):
        screen.head(told)
    screen.line()
    screen.head(
        "Set-up {number}, {stands}: {bit}, boards {board_width} wide, {tails}, {kind}.",
        number=job.setup.number,
        stands=stands(job),
        bit=plan.bit.name,
        board_width=ruler.size(plan.board_width),
        tails=counted(layout.tails, "tail"),
        kind=kind,
    )
    screen.line(
        "Bit height {bit_height}, fence zero (a cut on the middle of the "
        "board) "
        "{zero}, socket depth "
        "{socket_depth}.",
        bit_height=ruler.length(dial["bit_height"]),
        zero=ruler.length(job.stops.zero),
        socket_depth=_depths(job, ruler),
    )
    schedule.asked_first(screen, job, ruler)
    boards = job.schedule.boards
    if every:
        _talk(screen, "Note", job.notices, ruler)
    else:
        for remark in (*job.notices, *schedule.spoiling(job)):
            screen.line(say(remark, ruler, short=True))
        screen.line("Why, and where each cut lies: fitlog stops --why")
    if every or boards is None:
        _talk(screen, "Care", job.cautions, ruler)
    if every:
        _parts(screen, job, ruler)
    if not every or boards is not None:
        schedule.order(screen, job, ruler)


def _talk(screen: Screen, title: str, remarks: Iterable[Remark], ruler: Ruler) -> None:
    """Print remarks under a title, if any."""
    told = [f"- {say(remark, ruler)}" for remark in remarks]
    if told:
        screen.line()
        screen.head(title)
    for line in told:
        screen.line(line, indent="  ")


def _parts(screen: Screen, job: Job, ruler: Ruler) -> None:
    """Print what to do before each part, with its stops."""
    for heading, steps in job.sections:
        _talk(screen, heading, steps, ruler)
        _table_of(screen, heading, job, ruler)


def _depths(job: Job, ruler: Ruler) -> str:
    """The socket depth, or that for each side's tail boards."""
    if len(job.depths) == 1:
        return ruler.length(job.depths[0].depth)
    return tell(
        "{left} for the left tail boards, {right} for the right ones",
        left=ruler.length(job.depths[0].depth),
        right=ruler.length(job.depths[1].depth),
    )


def stands(job: Job) -> str:
    """Return how a job's set-up stands, with its chance, in a few words."""
    chance = job.standing.chance
    how = tell("ended as it is") if job.standing.ended == "as it is" else job.status
    return (
        how
        if chance is None
        else tell("{how}, {chance} inside all windows", how=how, chance=percent(chance))
    )


def _table_of(screen: Screen, heading: str, job: Job, ruler: Ruler) -> None:
    """The table that belongs under a heading, if any."""
    board = BOARDS.get(heading)
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
        mine = [stop for stop in job.stops.stops if stop.cut.board == board]
        heads, rows = (
            ["stop", "fence", "from the edge", "rounded by", "cut"],
            [_row(stop, ruler) for stop in mine],
        )
        screen.line()
        if screen.holds(heads, rows):
            screen.table(heads, rows, right=(0, 1, 2, 3))
        else:
            screen.table(["stop", "fence", "cut"], rows_of(mine, ruler), right=(0, 1))


def _row(stop: Stop, ruler: Ruler) -> list[str]:
    off = "-" if abs(stop.error) < 5e-4 else ruler.length(stop.error)
    return [
        str(stop.number),
        ruler.length(stop.setting),
        ruler.length(stop.cut.position),
        off,
        named(stop),
    ]


def as_csv(job: Job) -> str:
    """Return the stops as CSV (RFC 4180), one row a stop, or, where boards were named, a row a
    pass; lengths in mm, the fence in inches as well.
    """
    if job.schedule.boards is not None:
        return schedule_out.as_csv(job, job.schedule)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    height = job.settings.on_scale(job.setup.plan.machine)["bit_height"]
    for stop, depth in _with_depths(job):
        writer.writerow(
            [
                stop.number,
                stop.cut.board,
                named(stop) if depth is None else f"{named(stop)}{_for_hand(depth, job)}",
                stop.cut.part,
                f"{stop.cut.position:.4f}",
                f"{stop.exact:.4f}",
                f"{stop.setting:.4f}",
                f"{stop.error:.4f}",
                f"{stop.setting / MM_PER_INCH:.5f}",
                f"{height:.4f}",
                "" if depth is None else f"{depth.depth:.4f}",
            ]
        )
    return out.getvalue()


def _with_depths(job: Job) -> Iterator[tuple[Stop, Depth | None]]:
    """Every stop, those of the sockets once for each depth."""
    yield from ((stop, None) for stop in job.stops.of("tail"))
    yield from ((stop, depth) for depth in job.depths for stop in job.stops.of("pin"))


def _for_hand(depth: Depth, job: Job) -> str:
    if len(job.depths) == 1:
        return ""
    return tell(", for the {hand} tail boards", hand=depth.hands[0])


def job_document(job: Job, ruler: Ruler) -> Document:
    """Return a job as JSON, lengths in mm; settings as the user's own scales read them.

    zero_sd: how unsure the zero is; last_tail: the play of the tail at the far edge, with its
    chance of being in the window.
    """
    return {
        "setup": job.setup.number,
        "status": job.status,
        "ended": job.standing.ended,
        "standing": job.standing.code,
        "layout": layout_document(job.layout),
        "groove": groove_document(job.groove),
        "settings": on_scale(job.settings, job.setup.plan.machine),
        "fence_step": job.stops.step,
        "zero": round(job.stops.zero, 4),
        "zero_sd": None if job.zero_sd is None else round(job.zero_sd, 4),
        "last_tail": _tail(job.last_tail),
        "largest_rounding": round(job.stops.largest_error, 4),
        "play_lost": round(job.stops.play_lost, 4),
        "rabbet": [
            {"takes": one.takes, "depth": one.depth, "fence": one.fence} for one in job.rabbet
        ],
        "stops": stops_list(job.stops),
        "depths": schedule_out.depths_list(job),
        "schedule": schedule_out.schedule_document(job.schedule),
        "steps": {heading: [say(r, ruler) for r in steps] for heading, steps in job.sections},
        "notices": remarks_document((*job.anew, *job.notices), ruler),
        "cautions": remarks_document(job.cautions, ruler),
    }


def _tail(tail: LastTail | None) -> dict[str, float] | None:
    if tail is None:
        return None
    return {"mean": round(tail.mean, 4), "sd": round(tail.sd, 4), "chance": round(tail.chance, 4)}


def stops_list(found: Stops) -> list[Document]:
    """Return every stop. fence_exact, fence: as the user's scale reads it, before and after
    rounding.
    """
    return [
        {
            "stop": stop.number,
            "board": stop.cut.board,
            "cut": stop.cut.kind,
            "part": stop.cut.part,
            "from_edge": round(stop.cut.position, 4),
            "fence_exact": round(stop.exact, 4),
            "fence": round(stop.setting, 4),
            "rounding": round(stop.error, 4),
            "edges": "both" if stop.cut.kind == "edge" else "as marked",
        }
        for stop in found.stops
    ]
