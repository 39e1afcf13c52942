"""Where a printed sheet measures true, as JSON: for who checks it, and for what reads it."""

from __future__ import annotations

from ...document import Document
from ...families.half_blind.layouts.job import Job
from ...families.half_blind.widths import widths
from ..sheet.bar import bars_on
from ..sheet.paper import MARGIN, Line, Page
from . import stick


def marks(job: Job, pages: tuple[Page, ...]) -> Document:
    """Return where the story stick's bars, ticks and matches are, and its strips, as JSON; and the
    widths of mouth and tail with what they are known by.
    """
    known = widths(job.setup, job.past, job.layout, job.settings)
    at = {stop.number: stop.cut.position for stop in job.stops.stops}
    named: dict[str, list[Document]] = {"bars": bars_on(pages), "ticks": [], "matches": []}
    for page, mark in (
        (n, m) for n, p in enumerate(pages, 1) for m in p.marks if isinstance(m, Line) and m.name
    ):
        if mark.name.startswith("bar-"):
            continue
        kind, which, *strip = mark.name.split("-")
        (x, y), (_, end) = mark.points[0], mark.points[-1]
        where = {"page": page, "x": round(x, 4), "y": round(y, 4), "y_end": round(end, 4)}
        if kind == "match":
            named["matches"].append({"match": which, "strip": int(strip[0]), **where})
        else:
            true = job.layout.width - at[int(which)] if kind == "turned" else at[int(which)]
            own = {
                "stop": int(which),
                "mark": kind,
                "from_edge": round(true, 4),
                "strip": int(strip[0]),
            }
            named["ticks"].append({**own, **where})
    strips = stick.strips(job.layout, pages[0].width - 2 * MARGIN)
    return {
        "strips": [
            {"from": round(s.start, 4), "to": round(s.end, 4), "x": round(s.left + MARGIN, 4)}
            for s in strips
        ],
        **named,
        "widths": {
            "mouth": round(known.mouth.mean, 4),
            "tail": round(known.tail.mean, 4),
            "by": known.by,
            "within90": round(known.doubt, 4),
        },
    }
