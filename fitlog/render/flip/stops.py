"""The real boards of joints cut from both faces as a screen, as CSV and as JSON."""

from __future__ import annotations

import csv
import io

from ...document import Document, on_scale, remarks_document
from ...families.flip.boards import FlipJob
from ...families.telling import say
from ...language.units import MM_PER_INCH, Ruler
from ...texts import tell
from ..screen import Screen
from ..standing import unsettled
from ..ticks import Part, Tick, sectioned
from ..whence import whence

COLUMNS = ("what", "length_mm", "length_in")


def stops(screen: Screen, job: FlipJob, ruler: Ruler, *, every: bool) -> None:
    """Print what is measured off, and what to do before each part; every: and why."""
    plan = job.setup.plan
    if told := unsettled(job.standing):
        screen.head(told)
    screen.line()
    screen.head(
        "Set-up {number}, {status}: {bit}, {joint} in boards of {thick}.",
        number=job.setup.number,
        status=job.status,
        bit=plan.bit.name,
        joint=plan.joint,
        thick=ruler.size(plan.tail_thickness),
    )
    dial = job.settings.on_scale(plan.machine)
    rows = [[tell(kind.noun), ruler.length(dial[kind.name])] for kind in plan.family.settings]
    rows += [[_called(name), ruler.length(mm)] for name, mm in job.lengths.items()]
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
        "rail": tell("rail, end to end"),
        "board": tell("board, its tongue included"),
    }[name]


def parts(job: FlipJob, ruler: Ruler) -> list[Part]:
    """See `render.ticks`."""
    off = tuple(Tick(ruler.length(mm), _called(name)) for name, mm in job.lengths.items())
    first = [Part(tell("Measure off"), (), off)] if off else []
    return [*first, *sectioned(job.sections)]


def as_csv(job: FlipJob) -> str:
    """Return the settings and the lengths as CSV (RFC 4180), one row each, in mm and in inches."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    dial = job.settings.on_scale(job.setup.plan.machine)
    for name, mm in {**dial, **job.lengths}.items():
        writer.writerow([name, f"{mm:.4f}", f"{mm / MM_PER_INCH:.5f}"])
    return out.getvalue()


def job_document(job: FlipJob, ruler: Ruler) -> Document:
    """Return the job as JSON, lengths in mm; settings as the user's own scales read them."""
    return {
        "setup": job.setup.number,
        "status": job.status,
        "ended": job.standing.ended,
        "standing": job.standing.code,
        "settings": on_scale(job.settings, job.setup.plan.machine),
        "lengths": {name: round(mm, 4) for name, mm in job.lengths.items()},
        "steps": {heading: [say(r, ruler) for r in steps] for heading, steps in job.sections},
        "notices": remarks_document(job.notices, ruler),
        "cautions": remarks_document(job.cautions, ruler),
    }
