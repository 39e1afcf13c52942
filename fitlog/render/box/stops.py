"""The real boards of a box joint as a screen, as JSON and as CSV: widths, what to do before each
part, and the fence's stops where it is stepped.
"""

from __future__ import annotations

import csv
import io

from ...document import Document, on_scale, remarks_document
from ...families.boards import Job
from ...families.fingers.boards import FingerJob, Stop, Width
from ...families.telling import say
from ...language.units import MM_PER_INCH, Ruler
from ...texts import tell
from ..screen import Screen
from ..standing import unsettled
from ..ticks import Part, Tick, sectioned
from ..whence import whence

COLUMNS = (
    *("stop", "board", "from_edge_mm", "fence_exact_mm", "fence_set_mm", "fence_second_mm"),
    *("rounding_mm", "fence_set_in", "fence_second_in"),
)
_BOARDS = {"First boards": "first", "Second boards": "second"}  # by their headings
WIDTHS = ("fingers", "ends", "width_mm", "width_in")


def stops(screen: Screen, job: Job, ruler: Ruler, *, every: bool) -> None:
    """Print the boards of a job with what to do before each part; every: and why."""
    assert isinstance(job, FingerJob)
    plan, asked = job.setup.plan, next(w for w in job.widths if w.asked)
    if told := unsettled(job.standing):
        screen.head(told)
    screen.line()
    screen.head(
        "Set-up {number}: {bit}, boards about {width} wide, {fingers} fingers.",
        number=job.setup.number,
        bit=plan.bit.name,
        width=ruler.size(plan.board_width),
        fingers=asked.fingers,
    )
    screen.line(
        "A finger every {pitch}, slots {slot} wide, {play} of play.",
        pitch=ruler.length(job.pitch),
        slot=ruler.length(job.slot),
        play=ruler.length(job.play),
    )
    for heading, steps in job.sections:
        screen.line()
        screen.head(heading)
        for step in steps:
            screen.line(f"- {say(step, ruler)}", indent="  ")
        _table_of(screen, heading, job, ruler)
    for title, remarks in ((tell("Note"), job.notices), (tell("Care"), job.cautions)):
        if remarks:
            screen.line()
            screen.head(title)
        for remark in remarks:
            screen.line(f"- {say(remark, ruler)}", indent="  ")
    if every:
        alike = tell(
            "Fingers that end alike: {pitch} from finger to finger, once less than there are, and "
            "one finger.",
            pitch=ruler.length(job.pitch),
        )
        alone = tell("Each stop is rounded by itself, so that no rounding adds up.")
        whence(screen, job, ruler, alike, *([alone] if job.stops else []))


def _table_of(screen: Screen, heading: str, job: FingerJob, ruler: Ruler) -> None:
    """The table that belongs under a heading, if any."""
    board = _BOARDS.get(heading)
    found = [stop for stop in job.stops if stop.board == board]
    if heading == "Widths":
        rows = [_width(width, ruler) for width in job.widths]
        screen.line()
        screen.table(["fingers", "ends", "width"], rows, right=(0, 2))
    elif found:
        rows = [_row(stop, ruler) for stop in found]
        screen.line()
        heads = ["stop", "fence", "second pass", "slot's middle", "rounded by"]
        screen.table(heads, rows, right=(0, 1, 2, 3, 4))


def _width(width: Width, ruler: Ruler) -> list[str]:
    ends = {"alike": tell("finger and finger"), "opposite": tell("finger and slot")}
    return [str(width.fingers), ends[width.ends], ruler.length(width.width)]


def _row(stop: Stop, ruler: Ruler) -> list[str]:
    off = "-" if abs(stop.rounding) < 5e-4 else ruler.length(stop.rounding)
    lengths = (stop.fence, stop.second, stop.middle)
    return [str(stop.number), *map(ruler.length, lengths), off]


def parts(job: Job, ruler: Ruler) -> list[Part]:
    """See `render.ticks`. A slot of the fence's stops is two passes."""
    assert isinstance(job, FingerJob)
    ticks: dict[str, list[Tick]] = {}
    for heading, board in _BOARDS.items():
        for stop in (stop for stop in job.stops if stop.board == board):
            first = tell("slot {number}", number=stop.number)
            second = tell("slot {number}, second pass", number=stop.number)
            ticks.setdefault(heading, []).extend(
                (Tick(ruler.length(stop.fence), first), Tick(ruler.length(stop.second), second))
            )
    made = sectioned(job.sections, ticks)
    widths = (_width(width, ruler) for width in job.widths)
    told = tuple(
        Tick(width, tell("{fingers} fingers, {ends}", fingers=fingers, ends=ends))
        for fingers, ends, width in widths
    )
    return [
        part._replace(beside=told) if head == "Widths" else part
        for part, (head, _) in zip(made, job.sections, strict=True)
    ]


def as_csv(job: Job) -> str:
    """Return the stops as CSV (RFC 4180), one row a stop, or the widths where there are none;
    lengths in mm, those that are set in inches as well.
    """
    assert isinstance(job, FingerJob)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS if job.stops else WIDTHS)
    for stop in job.stops:
        lengths = (stop.middle, stop.exact, stop.fence, stop.second, stop.rounding)
        inches = (f"{mm / MM_PER_INCH:.5f}" for mm in (stop.fence, stop.second))
        writer.writerow([stop.number, stop.board, *(f"{mm:.4f}" for mm in lengths), *inches])
    for width in job.widths if not job.stops else ():
        mm = width.width
        told = f"{mm:.4f}", f"{mm / MM_PER_INCH:.5f}"
        writer.writerow([width.fingers, width.ends, *told])
    return out.getvalue()


def job_document(job: Job, ruler: Ruler) -> Document:
    """Return a job as JSON, lengths in mm; settings as the user's own scales read them."""
    assert isinstance(job, FingerJob)
    return {
        "setup": job.setup.number,
        "status": job.status,
        "ended": job.standing.ended,
        "standing": job.standing.code,
        "settings": on_scale(job.settings, job.setup.plan.machine),
        "play": round(job.play, 4),
        "slot": round(job.slot, 4),
        "pitch": round(job.pitch, 4),
        "widths": [
            {"fingers": w.fingers, "ends": w.ends, "width": round(w.width, 4)} for w in job.widths
        ],
        "stops": [
            {name: round(v, 4) if isinstance(v, float) else v for name, v in s._asdict().items()}
            for s in job.stops
        ],
        "steps": {heading: [say(r, ruler) for r in steps] for heading, steps in job.sections},
        "notices": remarks_document(job.notices, ruler),
        "cautions": remarks_document(job.cautions, ruler),
    }
