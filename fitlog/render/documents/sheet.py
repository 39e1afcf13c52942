"""The JSON of `sheet`."""

from __future__ import annotations

from ...document import Document
from ...families.half_blind.layouts.job import Job
from ..sheet import stick
from ..sheet.pages import Page
from ..sheet.paper import MARGIN, Line


def sheet_document(job: Job, pages: tuple[Page, ...], paper: str, files: list[str]) -> Document:
    """Return the sheet's true-scale facts as JSON: mm from the page's left and top, as they must
    measure on paper.
    """
    at = {stop.number: stop.cut.position for stop in job.stops.stops}
    named: dict[str, list[Document]] = {"bars": [], "ticks": [], "matches": []}
    for page, mark in (
        (n, m) for n, p in enumerate(pages, 1) for m in p.marks if isinstance(m, Line) and m.name
    ):
        kind, which, *strip = mark.name.split("-")
        (x, y), (_, end) = mark.points[0], mark.points[-1]
        where = {"page": page, "x": round(x, 4), "y": round(y, 4), "y_end": round(end, 4)}
        if kind == "bar":
            named["bars"] += [{**where, "length": stick.BAR}] if which == "0" else []
        elif kind == "match":
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
        "setup": job.setup.number,
        "status": job.status,
        "ended": job.standing.ended,
        "standing": job.standing.code,
        "files": files,
        "paper": paper,
        "page_size": [pages[0].width, pages[0].height],
        "pages": len(pages),
        "margin": MARGIN,
        "marked_edge": "left",
        "strips": [
            {"from": round(s.start, 4), "to": round(s.end, 4), "x": round(s.left + MARGIN, 4)}
            for s in strips
        ],
        **named,
    }
