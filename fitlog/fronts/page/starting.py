"""A set-up is started: as an earlier one, or a new one. Once, however often it is said."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response

from ...errors import FitlogError
from ...language.doubts import Doubt
from ...service.again import Named
from ...service.doubts import put_right
from ...service.noting import NotesTyped
from ...service.odd_sizes import start_doubts
from ...service.reader.lengths import BoardsTyped
from ...service.reader.start import StartTyped, wanted_of
from .answers import Another, require_own
from .desk import Desk, Sitting
from .html import go_on, not_logged, show
from .later import LATER
from .said import said
from .screens import start as screen
from .screens import unsaid

Screen = Callable[[Sitting], tuple[str, int, dict[str, object]] | str]


@dataclass(frozen=True, slots=True)
class _Doubted(Exception):
    doubt: Doubt


async def ask(request: Request) -> Response:
    """Show which set-ups can be repeated, or with `joint` or `new` what a new one is asked for."""
    asked = request.query_params
    new, joint = "new" in asked, asked.get("joint", "")
    return await _seated(
        request, lambda sitting: ("start", 200, screen.start(sitting, {"joint": joint}, new=new))
    )


async def start(request: Request) -> Response:
    """Start what was said; go on by 303."""
    one = said(await request.body())

    def do(sitting: Sitting) -> tuple[str, int, dict[str, object]] | str:
        again = sitting.given_again(one.key, "start")
        if again is not None:
            return f"/s/{again}/begun"
        fields = one.fields or {}
        try:
            require_own(sitting, one)
            return _started(sitting, fields)
        except Another as found:
            return "another", 409, unsaid.another(sitting, found)
        except _Doubted as found:
            return "start_doubt", 409, screen.doubted(sitting, found.doubt, fields, one.raw)
        except FitlogError as error:
            if error.code in LATER:
                raise
            sitting.word(error)
            return "start", 409, screen.start(sitting, fields, error=error, old=one.raw)

    answer = await _seated(request, do)
    request.app.state.watch.look()
    return answer


def _started(sitting: Sitting, fields: Mapping[str, str]) -> str:
    """Start a set-up; return the screen that says what was begun."""

    def told(name: str) -> str | None:
        return fields.get(name, "").strip() or None

    typed = StartTyped(
        Named(told("bit"), told("stock"), told("pin_stock"), told("machine")),
        told("again"),
        told("joint"),
        figures={
            name.removeprefix("figure."): text.strip()
            for name, text in fields.items()
            if name.startswith("figure.") and text.strip()
        },
        boards=BoardsTyped(told("width"), told("thickness"), told("pin_thickness")),
    )
    wanted, several = wanted_of(sitting, typed, None)
    if "meant" not in fields:
        for doubt in list(start_doubts(wanted, sitting.ruler())):
            if not ("mend" in fields and doubt.mend):
                raise _Doubted(doubt)
            wanted = put_right(wanted, doubt)
    notes = NotesTyped(title=told("title")).notes()
    answer = sitting.bench(wanted.machine).start(wanted, notes)
    sitting.desk.learnt_more()
    numbers = {
        "as": wanted.again.number if wanted.again is not None else None,
        "closed": answer.closed,
        "several": "-".join(str(one.number) for one in several),
    }
    query = urlencode({name: value for name, value in numbers.items() if value})
    return f"/s/{answer.setup.number}/begun" + (f"?{query}" if query else "")


async def _seated(request: Request, make: Screen) -> Response:
    desk: Desk = request.app.state.desk
    found = await desk.sit(request.scope["phone"], make)
    if isinstance(found, str):
        return go_on(request, found)
    template, status, values = found
    page = show(template, status, **values)
    return page if status < 400 else not_logged(request, page)
