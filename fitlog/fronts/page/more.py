"""The screens beside the way from piece to piece: the real boards, what is wrong, what is kept, how
it converged, what was found, and a start.
"""

from __future__ import annotations

from collections.abc import Callable

from starlette.requests import Request
from starlette.routing import BaseRoute, Route

from ...domain import SetUp
from ...service.bench import Workbench
from . import files, starting
from .desk import Sitting
from .screens.boards import boards
from .screens.check import check, looked
from .screens.common import Values
from .screens.fault import fault
from .screens.found import found
from .screens.keep import keep
from .screens.progress import progress
from .screens.start import begun

Screen = Callable[[Request, Sitting, SetUp, Workbench], "Values | str"]
_OF_A_SETUP: dict[str, Screen] = {
    "boards": lambda r, sitting, setup, bench: boards(
        sitting, setup, bench, r.query_params.get("boards", "")
    ),
    "check": lambda r, sitting, setup, bench: check(
        sitting, setup, bench, r.query_params.get("after", "")
    ),
    "looked": lambda _r, sitting, setup, bench: looked(sitting, setup, bench),
    "fault": lambda r, sitting, setup, bench: fault(
        sitting, setup, bench, r.query_params.get("what", ""), r.query_params.get("size", "")
    ),
    "keep": lambda _r, sitting, setup, bench: keep(sitting, setup, bench),
    "progress": lambda _r, sitting, setup, bench: progress(sitting, setup, bench),
    "found": lambda r, sitting, setup, bench: found(
        sitting, setup, bench, again="again" in r.query_params
    ),
    "begun": lambda r, sitting, setup, bench: begun(sitting, setup, bench, r.query_params),
}


def routes(screen: Callable[[str, Screen], Callable[[Request], object]]) -> list[BaseRoute]:
    """Return the routes of these screens. screen: answers for a template with its values."""
    return [
        *(
            Route(f"/s/{{number:int}}/{name}", screen(name, values))
            for name, values in _OF_A_SETUP.items()
        ),
        *(
            Route(f"/s/{{number:int}}/{name}.{{ending}}", draw)
            for name, draw in (("sheet", files.sheet), ("label", files.label))
        ),
        Route("/start", starting.ask),
        Route("/start", starting.start, methods=["POST"]),
    ]
