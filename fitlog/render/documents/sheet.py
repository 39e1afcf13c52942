"""The JSON of `sheet`."""

from __future__ import annotations

from ...document import Document
from ...families.boards import Job
from ..sheet.own import own_of
from ..sheet.paper import MARGIN, Page


def sheet_document(job: Job, pages: tuple[Page, ...], paper: str, files: list[str]) -> Document:
    """Return the sheet's true-scale facts as JSON: mm from the page's left and top, as they must
    measure on paper.
    """
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
        **own_of(job.setup.plan).marks(job, pages),
    }


def label_document(job: Job, page: Page, type_size: float, file: str) -> Document:
    """Return a label as JSON: its size, mm, as it must measure, and that of its type, points."""
    return {
        "setup": job.setup.number,
        "status": job.status,
        "ended": job.standing.ended,
        "standing": job.standing.code,
        "files": [file],
        "page_size": [page.width, page.height],
        "type": type_size,
    }
