"""The page as an ASGI application: which address is which screen."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from ...errors import FitlogError
from .desk import Desk
from .html import show

_STATIC = Path(__file__).with_name("static")


def page_app(desk: Desk) -> Starlette:
    """Return the page's screens and answers, all but the gate before them, which says in
    `request.scope["phone"]` who asks (`who.Phone`).
    """

    @asynccontextmanager
    async def open_all_day(_app: Starlette) -> AsyncIterator[None]:
        yield
        await desk.close()

    app = Starlette(
        routes=[
            Route("/", _tiles),
            Mount("/static", StaticFiles(directory=_STATIC), name="static"),
        ],
        exception_handlers={FitlogError: refused},
        lifespan=open_all_day,
    )
    app.state.desk = desk
    return app


async def _tiles(_request: Request) -> Response:
    return show("base")


async def refused(_request: Request, error: Exception) -> Response:
    """Return a refusal as the command line words it, its code beside it."""
    assert isinstance(error, FitlogError)
    sentence = f"{error.message}: {error.hint}" if error.hint else error.message
    return show("sentence", 409, heading="fitlog", sentence=sentence, code=error.code, back="/")
