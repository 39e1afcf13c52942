"""Sheet and label as downloads: read in the desk's thread, drawn in one of their own, so that no
phone waits for a drawing.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Collection
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from tempfile import TemporaryDirectory
from zipfile import ZIP_DEFLATED, ZipFile

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from ...families.boards import Job
from ...language.units import Ruler
from ...newfile import Place
from ...render.sheet.paper import PAPERS
from ...service.boards import for_sheet
from ...service.reader.label import label_size
from ...service.sheets import for_label
from .desk import Desk, Sitting

_DRAWS = ThreadPoolExecutor(1, "drawing")  # one at a time: matplotlib's settings are everybody's
_TYPES = {"pdf": "application/pdf", "svg": "image/svg+xml", "zip": "application/zip"}
_LABEL = ("62mm", "29mm")  # where nobody says another size
Draw = Callable[[Place], object]


async def sheet(request: Request) -> Response:
    """Return the sheet to print, all its pages: a PDF, or a zip of an SVG for each."""

    def read(sitting: Sitting) -> Draw:
        setup, bench = sitting.at(request.path_params["number"])
        job, ruler = for_sheet(bench, setup, None), bench.ruler
        usual = "a4" if ruler.units == "mm" else "letter"
        paper = request.query_params.get("paper", usual)
        paper = paper if paper in PAPERS else usual
        return lambda place: _sheet(job, paper, ruler, place)

    return await _drawn(request, read, "", ("pdf", "zip"))


async def label(request: Request) -> Response:
    """Return the label of the sample. width, height: as typed, each 62 and 29 mm without."""

    def read(sitting: Sitting) -> Draw:
        setup, bench = sitting.at(request.path_params["number"])
        asked = request.query_params
        wide, high = (
            asked.get(n) or usual for n, usual in zip(("width", "height"), _LABEL, strict=True)
        )
        size, job = label_size(sitting.reader, (wide, high)), for_label(bench, setup)
        return lambda place: _label(job, size, bench.ruler, place)

    return await _drawn(request, read, "-label", ("pdf", "svg"))


async def _drawn(
    request: Request, read: Callable[[Sitting], Draw], what: str, endings: Collection[str]
) -> Response:
    desk: Desk = request.app.state.desk
    ending = request.path_params["ending"]
    if ending not in endings:
        raise HTTPException(404)
    draw = await desk.sit(request.scope["phone"], read)
    name = f"set-up-{request.path_params['number']}{what}.{ending}"
    told = await asyncio.get_running_loop().run_in_executor(_DRAWS, _bytes, draw, name)
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store"}
    return Response(told, media_type=_TYPES[ending], headers=headers)


def _bytes(draw: Draw, name: str) -> bytes:
    """Draw into a folder of its own; return the file. Raises Refused: no-matplotlib,
    label-too-small.
    """
    from ...render.canvas import checked

    with TemporaryDirectory(prefix="fitlog-") as folder:
        path = Path(folder, name)
        if path.suffix != ".zip":
            draw(checked(str(path), sheet=True))
            return path.read_bytes()
        draw(checked(str(Path(folder, f"{path.stem}-page.svg")), sheet=True))
        pages = sorted(Path(folder).iterdir(), key=lambda page: (len(page.name), page.name))
        with ZipFile(path, "w", ZIP_DEFLATED) as told:
            for number, page in enumerate(pages, 1):
                told.write(page, f"{path.stem}-page-{number}.svg")
        return path.read_bytes()


def _sheet(job: Job, paper: str, ruler: Ruler, place: Place) -> None:
    from ...render.sheet import draw

    draw.drawn(job, paper, ruler, place, over=False)


def _label(job: Job, size: tuple[float, float], ruler: Ruler, place: Place) -> None:
    from ...render.sheet import draw

    draw.drawn_label(job, size, ruler, place)
