"""What is refused before the page, in one sentence: with which status, and its code."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.types import Scope

from ...errors import FitlogError, Refused
from ...texts import tell
from .html import not_logged, show
from .letting_in import PAIR

# By the codes of refusals; of all others 409, as of what the log refuses.
STATUS = {
    "wrong-host": 421,
    "no-method": 405,
    "cross-site": 403,
    "too-large": 413,
    "too-slow": 408,
    "not-a-form": 415,
    "bad-form": 400,
    "too-often": 429,
    "not-paired": 401,
    "only-reads": 403,
    "too-many-tries": 429,
    "no-such-page": 404,
    "page-failed": 500,
    "phones-unkept": 503,
}


def told(error: FitlogError) -> str:
    """Return a refusal as a phone is told it: what was wrong, and what to do next there."""
    return f"{error.message}: {error.on_page}" if error.on_page else error.message


def sentence(error: FitlogError, request: Request) -> Response:
    """Return a refusal as a page; a script that waits for events is told to wait no more."""
    if "text/event-stream" in request.headers.get("accept", ""):
        return Response(status_code=204)  # any other one a browser calls an error
    said, status = told(error), STATUS.get(error.code, 409)
    way = (PAIR, tell("Let this phone in")) if error.code == "not-paired" else ("/", "")
    values = {"sentence": said, "code": error.code, "back": way[0], "way": way[1]}
    found = show("sentence", status, heading="fitlog", **values)
    if status == 405:
        found.headers["Allow"] = "GET, HEAD, POST"
    elif error.code == "too-often":
        found.headers["Retry-After"] = "5"
    return not_logged(request, found, error.code)


def bare(status: int, scope: Scope) -> FitlogError:
    """Return a status of the page without words as a refusal that has some."""
    if status >= 500:
        return failed()
    if status == 405:
        return Refused(
            "no-method",
            "this page knows no {method!r}",
            "use what it shows",
            method=scope["method"],
        )
    return Refused(
        "no-such-page",
        "there is no page {path!r}",
        "go back, and take one that it shows",
        path=scope["path"][:60],
    )


def failed() -> FitlogError:
    """Return the refusal of what went wrong here."""
    return Refused(
        "page-failed",
        "the page failed at that",
        "what was in the log is in it; go back and look, then say it again",
    )
