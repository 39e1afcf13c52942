"""The page as an ASGI application: which address is which screen."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Mapping
from contextlib import asynccontextmanager
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Mount, Route
from starlette.staticfiles import StaticFiles

from ...domain import SetUp
from ...errors import FitlogError
from ...service.bench import Workbench
from ...texts import tell
from ..bench import stand
from .answers import Another, InDoubt, Meanwhile, hear, require_seen
from .desk import Desk, Sitting
from .html import go_on, not_logged, show
from .later import LATER
from .more import routes
from .refusals import told
from .said import given_on, said
from .screens import ends, unsaid
from .screens.common import Values
from .screens.dial import dial
from .screens.judge import judge, number
from .screens.now import now
from .screens.recipe import Odd, recipe
from .screens.tiles import tiles
from .watching import Watch, events

_STATIC = Path(__file__).with_name("static")
Screen = Callable[[Request, Sitting, SetUp, Workbench], "Values | str"]


def page_app(desk: Desk, say: Callable[..., None]) -> Starlette:
    """Return the page's screens and answers, all but the gate before them, which says in
    `request.scope["phone"]` who asks (`who.Phone`). say: is told on this computer what no phone is.
    """

    @asynccontextmanager
    async def open_all_day(app: Starlette) -> AsyncIterator[None]:
        yield
        await app.state.watch.close()
        await desk.close()

    app = Starlette(
        routes=_routes(),
        exception_handlers={FitlogError: refused},
        lifespan=open_all_day,
    )
    app.state.desk, app.state.watch, app.state.say = desk, Watch(desk), say
    return app


def _routes() -> list[BaseRoute]:
    screens: dict[str, tuple[str, Screen]] = {
        "": ("", lambda _r, _s, setup, _b: where(setup)),
        "/set": (
            "set",
            lambda request, sitting, setup, bench: (
                _if_cuttable(setup) or dial(sitting, setup, bench, request.query_params)
            ),
        ),
        "/cut": ("cut", _cut),
        "/judge": (
            "judge",
            lambda _r, sitting, setup, bench: _if_judged(setup) or judge(sitting, setup, bench),
        ),
        "/number": (
            "number",
            lambda _r, sitting, setup, bench: number(sitting, setup, bench) or where(setup),
        ),
        "/now": ("now", lambda _r, sitting, setup, bench: now(sitting, setup, bench)),
        "/back": ("back", lambda _r, sitting, setup, bench: ends.back(sitting, setup, bench)),
        "/finish": ("finish", lambda _r, sitting, setup, bench: ends.finish(sitting, setup, bench)),
    }
    return [
        Route("/", _tiles),
        *(
            Route(f"/s/{{number:int}}{path}", _screen(template, values))
            for path, (template, values) in screens.items()
        ),
        Route("/s/{number:int}/answer", _answer, methods=["POST"]),
        Route("/s/{number:int}/events", events),
        *routes(_screen),
        Mount("/static", StaticFiles(directory=_STATIC), name="static"),
    ]


def where(setup: SetUp) -> str:
    """Return the screen on which a set-up goes on."""
    at = stand(setup).at
    here = "now" if at == "over" else "set" if at == "settings" else "judge"
    return f"/s/{setup.number}/{here}"


def _if_cuttable(setup: SetUp) -> str:
    return "" if stand(setup).at == "settings" else where(setup)


def _if_judged(setup: SetUp) -> str:
    return where(setup) if stand(setup).at in ("settings", "over") else ""


def _cut(request: Request, sitting: Sitting, setup: SetUp, bench: Workbench) -> Values | str:
    if "seen" not in request.query_params:
        return where(setup)
    require_seen(sitting, setup, request.query_params["seen"])
    return _if_cuttable(setup) or recipe(sitting, setup, bench, request.query_params)


def _screen(template: str, values: Screen) -> Callable[[Request], object]:
    """Return what answers for a screen of a set-up: its template filled, or where to go instead."""

    async def answer(request: Request) -> Response:
        def look(sitting: Sitting) -> tuple[str, int, Values] | str:
            setup, bench = sitting.at(request.path_params["number"])
            try:
                found = values(request, sitting, setup, bench)
            except Meanwhile as seen:
                return "meanwhile", 200, unsaid.meanwhile(sitting, seen)
            except Odd as odd:
                return "odd", 200, unsaid.odd(sitting, odd)
            return found if isinstance(found, str) else (template, found.pop("http", 200), found)

        found = await request.app.state.desk.sit(request.scope["phone"], look)
        if isinstance(found, str):
            return RedirectResponse(found, 303)
        shown, status, filled = found
        return show(shown, status, **{"filled": request.query_params, **filled})

    return answer


async def _tiles(request: Request) -> Response:
    before = request.query_params.get("before", "")

    def look(sitting: Sitting) -> Values:
        return tiles(sitting, before)

    return show("tiles", **await request.app.state.desk.sit(request.scope["phone"], look))


async def _answer(request: Request) -> Response:
    """Do what was said, and go on; or say why it is not in the log."""
    one, at = said(await request.body()), request.path_params["number"]
    desk: Desk = request.app.state.desk

    def do(sitting: Sitting) -> tuple[str, str, Values]:
        try:
            return hear(sitting, at, one), "", {}
        except Meanwhile as found:
            return "", "meanwhile", unsaid.meanwhile(sitting, found)
        except Another as found:
            return "", "another", unsaid.another(sitting, found, at)
        except InDoubt as found:
            return "", "doubt", unsaid.in_doubt(sitting, found)

    next_, template, values = await desk.sit(request.scope["phone"], do)
    request.app.state.watch.look()
    return go_on(request, next_) if next_ else not_logged(request, show(template, 409, **values))


def _back(request: Request, number: int, sent: Mapping[str, str]) -> str:
    """Return where what was refused was typed: by what was sent, for a cut the screen to set, else
    the screen of the same set-up that led here.
    """
    if sent:
        return given_on(number, sent)
    if request.url.path.endswith("/cut"):
        return given_on(number, {**request.query_params, "what": "cut"})
    led = urlsplit(request.headers.get("referer", ""))
    to = f"{led.path}?{led.query}" if led.query else led.path
    own = led.netloc == request.headers.get("host") and led.path.startswith(f"/s/{number}/")
    return to if own and to != f"{request.url.path}?{request.url.query}" else f"/s/{number}"


async def refused(request: Request, error: Exception) -> Response:
    """Return a refusal as the command line words it, its code beside it."""
    assert isinstance(error, FitlogError)
    number = request.path_params.get("number")
    sent = dict(parse_qsl((await request.body()).decode("ascii", "replace")))
    values: Values = {
        "heading": "fitlog",
        "sentence": told(error),
        "code": error.code,
        "back": "/" if number is None else _back(request, number, sent),
    }
    if error.code in LATER:  # where this computer keeps its files is no phone's business
        request.app.state.say("fitlog: {told}: {hint}", told=error.message, hint=error.hint)
        values["sentence"] = tell("The shop's computer cannot use its log; see what it shows.")
        return not_logged(request, show("sentence", 503, **values), error.code)
    if request.method != "POST":
        return show("sentence", 404 if error.code == "unknown-setup" else 409, **values)
    return not_logged(request, show("sentence", 409, **values, drop=sent.get("key", "")))
