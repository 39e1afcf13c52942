"""Sheet and label as downloads: read in the desk's thread, drawn in one of their own, so that no
phone waits for a drawing.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from tempfile import TemporaryDirectory

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from ...families.boards import Job
from ...language.units import Ruler
from ...newfile import Place
from ...service.boards import for_sheet
from ...service.reader.label import label_size
from ...service.sheets import for_label
from .desk import Desk, Sitting

_DRAWS = ThreadPoolExecutor(1, "drawing")  # one at a time: matplotlib's settings are everybody's
_TYPES = {"pdf": "application/pdf", "svg": "image/svg+xml"}
_LABEL = ("62mm", "29mm")  # where nobody says another size
Draw = Callable[[Place], object]


async def sheet(request: Request) -> Response:
    """Return the sheet to print: all its pages as PDF; of an SVG the one that `page` names."""

    def read(sitting: Sitting) -> Draw:
        setup, bench = sitting.at(request.path_params["number"])
        job, ruler = for_sheet(bench, setup, None), bench.ruler
        paper = "letter" if request.query_params.get("paper") == "letter" else "a4"
        return lambda place: _sheet(job, paper, ruler, place)

    return await _drawn(request, read, "")


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

    return await _drawn(request, read, "-label")


async def _drawn(request: Request, read: Callable[[Sitting], Draw], what: str) -> Response:
    desk: Desk = request.app.state.desk
    ending = request.path_params["ending"]
    if ending not in _TYPES:
        raise HTTPException(404)
    draw = await desk.sit(request.scope["phone"], read)
    name = f"set-up-{request.path_params['number']}{what}.{ending}"
    asked = request.query_params.get("page", "")
    page = int(asked) if asked.isdecimal() and len(asked) < 4 else 1
    told = await asyncio.get_running_loop().run_in_executor(_DRAWS, _bytes, draw, name, page)
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store"}
    return Response(told, media_type=_TYPES[ending], headers=headers)


def _bytes(draw: Draw, name: str, page: int) -> bytes:
    """Draw into a folder of its own; return the file of a page, the first one where there is no
    such. Raises Refused: no-matplotlib, label-too-small.
    """
    from ...render.canvas import checked

    with TemporaryDirectory(prefix="fitlog-") as folder:
        path = Path(folder, name)
        draw(checked(str(path), sheet=True))
        other = path.with_stem(f"{path.stem}-{page}")
        return (other if page > 1 and other.exists() else path).read_bytes()


def _sheet(job: Job, paper: str, ruler: Ruler, place: Place) -> None:
    from ...render.sheet import draw

    draw.drawn(job, paper, ruler, place, over=False)


def _label(job: Job, size: tuple[float, float], ruler: Ruler, place: Place) -> None:
    from ...render.sheet import draw

    draw.drawn_label(job, size, ruler, place)
