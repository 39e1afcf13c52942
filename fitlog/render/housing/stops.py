"""The real boards that take a sheet as a screen, as CSV and as JSON."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from ...document import Document, on_scale, remarks_document
from ...families.boards import Job
from ...families.sheets.boards import SheetJob
from ...families.telling import say
from ...language.units import MM_PER_INCH, Ruler
from ...texts import tell
from ..screen import Screen
from ..standing import unsettled
from ..ticks import Part, Tick, sectioned
from ..whence import whence

COLUMNS = ("what", "length_mm", "length_in")
PLACES = ("housing", "fence", "near wall", "rounded by")


def stops(screen: Screen, job: Job, ruler: Ruler, *, every: bool) -> None:
    """Print settings, what is measured off, the places, what to do before each part and what to
    mind; every: and why.
    """
    assert isinstance(job, SheetJob)
    plan = job.setup.plan
    if told := unsettled(job.standing):
        screen.head(told)
    screen.line()
    screen.head(
        "Set-up {number}: {bit}, sides {thick} thick.",
        number=job.setup.number,
        bit=plan.bit.name,
        thick=ruler.size(plan.tail_thickness),
    )
    dial = job.settings.on_scale(plan.machine)
    rows = [[kind.noun, ruler.length(dial[kind.name])] for kind in plan.family.settings]
    rows += [[_called(name), ruler.length(mm)] for name, mm in job.lengths]
    screen.table(["what", "length"], rows, right=(1,))
    if job.places:
        screen.line()
        told_places = [
            [str(p.number), ruler.length(p.fence), ruler.length(p.near), _off(p.rounding, ruler)]
            for p in job.places
        ]
        screen.table(list(PLACES), told_places, right=(0, 1, 2, 3))
    for heading, steps in job.sections:
        screen.line()
        screen.head(heading)
        for step in steps:
            screen.line(f"- {say(step, ruler)}", indent="  ")
    if job.cautions:
        screen.line()
        screen.head("Care")
        for caution in job.cautions:
            screen.line(f"- {say(caution, ruler)}", indent="  ")
    if every:
        whence(screen, job, ruler, *_reasons(job, ruler))


def _reasons(job: SheetJob, ruler: Ruler) -> Iterator[str]:
    """Yield how the lengths and the places come about."""
    plan = job.setup.plan
    for name, mm in job.lengths:
        if name == "spacer":
            yield tell("The spacer block is the second pass itself, {long}.", long=ruler.length(mm))
        elif name == "left":
            left = ruler.length(mm), ruler.length(plan.tail_thickness)
            yield tell("Left under the rabbet: {left} of {side}.", left=left[0], side=left[1])
    if job.places:
        one = job.places[0]
        zero = plan.machine.zero("fence") if plan.machine else 0.0
        yield tell(
            "Fence: from the edge to the near wall, and half of the {wide} that the bit is "
            "expected to cut.",
            wide=ruler.length(2 * (one.exact - zero - one.near)),
        )


def _off(rounding: float, ruler: Ruler) -> str:
    return "-" if abs(rounding) < 5e-4 else ruler.length(rounding)


def _called(name: str) -> str:
    return {
        "spacer": tell("spacer block"),
        "shelf": tell("shelf, end to end"),
        "left": tell("left under the rabbet"),
    }[name]


def parts(job: Job, ruler: Ruler) -> list[Part]:
    """See `render.ticks`. Each place is where the fence stands for the first pass."""
    assert isinstance(job, SheetJob)
    off = tuple(Tick(ruler.length(mm), _called(name)) for name, mm in job.lengths)
    places = tuple(
        Tick(ruler.length(p.fence), tell("housing {number}", number=p.number)) for p in job.places
    )
    first = [Part(tell("Measure off"), (), off)] if off else []
    return [*first, *sectioned(job.sections, {"Sides": places})]


def as_csv(job: Job) -> str:
    """Return settings, lengths and places as CSV (RFC 4180), one row each, in mm and in inches."""
    assert isinstance(job, SheetJob)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    dial = job.settings.on_scale(job.setup.plan.machine)
    fences = ((f"fence_{p.number}", p.fence) for p in job.places)
    for name, mm in (*dial.items(), *job.lengths, *fences):
        writer.writerow([name, f"{mm:.4f}", f"{mm / MM_PER_INCH:.5f}"])
    return out.getvalue()


def job_document(job: Job, ruler: Ruler) -> Document:
    """Return the job as JSON, lengths in mm; settings as the user's own scales read them."""
    assert isinstance(job, SheetJob)
    return {
        "setup": job.setup.number,
        "status": job.status,
        "ended": job.standing.ended,
        "standing": job.standing.code,
        "settings": on_scale(job.settings, job.setup.plan.machine),
        "lengths": {name: round(mm, 4) for name, mm in job.lengths},
        "places": [
            {name: round(v, 4) if isinstance(v, float) else v for name, v in p._asdict().items()}
            for p in job.places
        ],
        "steps": {heading: [say(r, ruler) for r in steps] for heading, steps in job.sections},
        "notices": remarks_document(job.notices, ruler),
        "cautions": remarks_document(job.cautions, ruler),
    }
