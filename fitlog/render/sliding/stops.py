"""The real boards of a sliding dovetail as a screen, as CSV and as JSON."""

from __future__ import annotations

import csv
import io

from ...document import Document, on_scale, remarks_document
from ...families.sliding.boards import Job
from ...families.telling import say
from ...language.units import MM_PER_INCH, Ruler
from ...texts import tell
from ..screen import Screen
from ..standing import unsettled
from ..ticks import Part, Tick, sectioned
from ..whence import whence

COLUMNS = ("what", "length_mm", "length_in")


def stops(screen: Screen, job: Job, ruler: Ruler, *, every: bool) -> None:
    """Print what is measured off, and what to do before each part; every: and why."""
    plan = job.setup.plan
    if told := unsettled(job.standing):
        screen.head(told)
    screen.line()
    screen.head(
        "Set-up {number}, {status}: {bit}, shelves {width} by {thick}.",
        number=job.setup.number,
        status=job.status,
        bit=plan.bit.name,
        width=ruler.size(plan.board_width),
        thick=ruler.size(plan.tail_thickness),
    )
    dial = job.settings.on_scale(plan.machine)
    rows = [[kind.noun, ruler.length(dial[kind.name])] for kind in plan.family.settings]
    rows += [[_called(name), ruler.length(mm)] for name, mm in job.lengths().items()]
    screen.table(["what", "length"], rows, right=(1,))
    for heading, steps in job.sections:
        screen.line()
        screen.head(heading)
        for step in steps:
            screen.line(f"- {say(step, ruler)}", indent="  ")
    for title, remarks in ((tell("Note"), job.notices), (tell("Care"), job.cautions)):
        if remarks:
            screen.line()
            screen.head(title)
        for remark in remarks:
            screen.line(f"- {say(remark, ruler)}", indent="  ")
    if every:
        whence(screen, job, ruler)


def _called(name: str) -> str:
    return {
        "shelf": tell("shelf, end to end"),
        "tongue": tell("tongue, across the shelf"),
        "axis_stop": tell("bit's axis stops before the front"),
    }[name]


def parts(job: Job, ruler: Ruler) -> list[Part]:
    """See `render.ticks`."""
    off = tuple(Tick(ruler.length(mm), _called(name)) for name, mm in job.lengths().items())
    return [Part(tell("Measure off"), (), off), *sectioned(job.sections)]


def as_csv(job: Job) -> str:
    """Return the settings and the lengths as CSV (RFC 4180), one row each, in mm and in inches."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    dial = job.settings.on_scale(job.setup.plan.machine)
    for name, mm in {**dial, **job.lengths()}.items():
        writer.writerow([name, f"{mm:.4f}", f"{mm / MM_PER_INCH:.5f}"])
    return out.getvalue()


def job_document(job: Job, ruler: Ruler) -> Document:
    """Return the job as JSON, lengths in mm; settings as the user's own scales read them."""
    return {
        "setup": job.setup.number,
        "status": job.status,
        "ended": job.standing.ended,
        "standing": job.standing.code,
        "settings": on_scale(job.settings, job.setup.plan.machine),
        "lengths": {name: round(mm, 4) for name, mm in job.lengths().items()},
        "steps": {heading: [say(r, ruler) for r in steps] for heading, steps in job.sections},
        "notices": remarks_document(job.notices, ruler),
        "cautions": remarks_document(job.cautions, ruler),
    }
