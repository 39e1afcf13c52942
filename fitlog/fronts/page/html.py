"""How a screen becomes HTML: the one set of templates, whatever comes in shown as text."""

from __future__ import annotations

from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from ...texts import tell
from .later import WAITS

# What the page's script says of itself, and what it is told of the answer that it sent.
SCRIPT, ANSWER = "fitlog-script", "Fitlog-Answer"


@cache
def _templates() -> Environment:
    made = Environment(
        loader=PackageLoader(__package__),
        autoescape=select_autoescape(default=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals["tell"] = tell
    return made


def show(template: str, /, http: int = 200, **values: object) -> HTMLResponse:
    """Return a screen. template: its name without the ending; http: the status of the answer;
    values: what it speaks of.
    """
    return HTMLResponse(_templates().get_template(f"{template}.html").render(values), http)


def go_on(request: Request, to: str) -> Response:
    """Return what leads from an answer to the next screen: by 303, so that loading that one again
    says nothing twice. The page's script only learns where it is: what it is led to it would load,
    and then open.
    """
    if SCRIPT in request.headers:
        return Response(status_code=204, headers={ANSWER: "logged", "Fitlog-Next": to})
    return RedirectResponse(to, 303)


def not_logged(request: Request, page: Response, code: str = "") -> Response:
    """Return the refusal of an answer. To the page's script it is marked, by its code as one that
    the answer waits for, and no error: a browser calls every status of refusal one of the page.
    """
    if SCRIPT in request.headers:
        page.status_code = 200
        page.headers[ANSWER] = "waits" if code in WAITS else "not-logged"
    return page
