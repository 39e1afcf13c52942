"""The real boards of a lock mitre as a screen, as CSV and as JSON."""

from __future__ import annotations

import csv
import io

from ...document import Document, on_scale, remarks_document
from ...families.boards import Job
from ...families.lock_mitre.boards import MitreJob
from ...families.lock_mitre.figures import EDGE_SEEN
from ...families.telling import say
from ...language.units import MM_PER_INCH, Ruler
from ...texts import tell
from ..screen import Screen
from ..standing import unsettled
from ..ticks import Part, sectioned
from ..whence import whence

COLUMNS = ("what", "length_mm", "length_in")


def stops(screen: Screen, job: Job, ruler: Ruler, *, every: bool = False) -> None:
    """Print what is set, and what to do before each part; every: and why."""
    assert isinstance(job, MitreJob)
    plan = job.setup.plan
    if told := unsettled(job.standing):
        screen.head(told)
    screen.line()
    screen.head(
        "Set-up {number}: {bit}, boards {thick} thick.",
        number=job.setup.number,
        bit=plan.bit.name,
        thick=ruler.size(plan.tail_thickness),
    )
    dial = job.settings.on_scale(plan.machine)
    rows = [[kind.noun, ruler.length(dial[kind.name])] for kind in plan.family.settings]
    screen.table(["setting", "set to"], rows, right=(1,))
    beside = ((tell("Note"), job.notices), (tell("Care"), job.cautions))
    for heading, steps in (*((tell(h), s) for h, s in job.sections), *beside):
        if steps:
            screen.line()
            screen.head(heading)
        for step in steps:
            screen.line(f"- {say(step, ruler)}", indent="  ")
    if every:
        edge = tell(
            "Ends shortened by {edge}: half of what both pairs are expected to stand proud."
            if job.edge > 0
            else "Ends left {edge} blunt: half of what both pairs are expected to lie shy.",
            edge=ruler.length(abs(job.edge)),
        )
        whence(screen, job, ruler, *([edge] if abs(job.edge) >= EDGE_SEEN else []))


def parts(job: Job, ruler: Ruler) -> list[Part]:
    """See `render.ticks`."""
    assert isinstance(job, MitreJob)
    return sectioned(job.sections)


def as_csv(job: Job) -> str:
    """Return settings and lengths as CSV (RFC 4180), one row each, in mm and in inches."""
    assert isinstance(job, MitreJob)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    dial = job.settings.on_scale(job.setup.plan.machine)
    for name, mm in {**dial, "edge": job.edge, "longer": job.longer}.items():
        writer.writerow([name, f"{mm:.4f}", f"{mm / MM_PER_INCH:.5f}"])
    return out.getvalue()


def job_document(job: Job, ruler: Ruler) -> Document:
    """Return the job as JSON, lengths in mm; settings as the user's own scales read them."""
    assert isinstance(job, MitreJob)
    return {
        "setup": job.setup.number,
        "status": job.status,
        "ended": job.standing.ended,
        "standing": job.standing.code,
        "settings": on_scale(job.settings, job.setup.plan.machine),
        "edge": round(job.edge, 4),
        "longer": round(job.longer, 4),
        "steps": {heading: [say(r, ruler) for r in steps] for heading, steps in job.sections},
        "notices": remarks_document(job.notices, ruler),
        "cautions": remarks_document(job.cautions, ruler),
    }
