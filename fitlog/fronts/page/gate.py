"""The gate before the page: who may come in, and what every answer says to the browser."""

from __future__ import annotations

import asyncio
import re
import traceback
from collections.abc import Callable
from contextlib import suppress
from ipaddress import ip_address, ip_network
from pathlib import Path

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from ...errors import FitlogError, Refused
from ...texts import tell
from .buckets import Buckets
from .door import Door, Gone, whole_body
from .html import show
from .letting_in import COOKIE, PAIR, WHO, LettingIn
from .phones import Paired
from .who import Phone

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
_OF_THE_FILE = ("damaged-phones", "unreadable-file", "unwritable-file", "is-a-log", "bad-path")
_POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_ALWAYS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    # With "no-referrer" a browser would send "Origin: null" with the page's own forms.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
}
_KEY = re.compile("[A-Za-z0-9_-]{43}")
# Tokens a second and in all: a phone that opens a page asks for it, its style and its script, one
# that polls once a second. An address may be that of ten phones behind one access point.
_PHONE, _ADDRESS, _STRANGER = (20.0, 200.0), (200.0, 2000.0), (5.0, 60.0)


class Gate:
    """The page behind its gate, as an ASGI application."""

    def __init__(
        self,
        page: ASGIApp,
        door: Door,
        letting_in: LettingIn | None,
        say: Callable[..., None],
    ) -> None:
        """letting_in: None where the door is open; say: is told what went wrong here, an English
        text and its values, without anything that was sent.
        """
        self._page, self._door, self._letting_in = page, door, letting_in
        self.say = say
        self._phones, self._addresses = Buckets(*_PHONE), Buckets(*_ADDRESS)
        self._strangers = Buckets(*_STRANGER)
        self._noting: asyncio.Task[None] | None = None

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, the refused ones in one sentence."""
        if scope["type"] != "http":
            await self._page(scope, receive, send)
            return
        answer = _Answer(send, scope, self._door)
        try:
            await self._let_through(scope, receive, answer)
        except Gone:
            return
        except FitlogError as error:
            answer.refused = self._tellable(error)
        except Exception as error:
            self.say(
                "fitlog: the page failed at {method} {path}: {kind} in {place}",
                method=scope["method"],
                path=scope["path"][:80],
                kind=type(error).__name__,
                place=_place(error),
            )
            if answer.begun:  # half an answer must not look like a whole one
                raise
            answer.refused = _failed()
        if answer.refused is not None:
            await _sentence(answer.refused)(scope, receive, answer.out)

    def _tellable(self, error: FitlogError) -> FitlogError:
        """What a phone may be told: where this computer keeps its files is for the computer."""
        if error.code not in _OF_THE_FILE:
            return error
        self.say("fitlog: {told}: {hint}", told=error.message, hint=error.hint)
        return Refused(
            "phones-unkept",
            "the computer cannot read or write which phones are paired",
            "see what it shows",
        )

    async def _let_through(self, scope: Scope, receive: Receive, answer: _Answer) -> None:
        headers, address = Headers(scope=scope), _address(scope)
        self._require_calm(self._addresses, address)
        self._door.require_ours(scope["method"], headers)
        self._door.require_small(headers)
        found = self._paired(headers)
        self._require_calm(*((self._phones, found.number) if found else (self._strangers, address)))
        if self._door.read_only and scope["method"] == "POST" and scope["path"] != PAIR:
            raise Refused(
                "only-reads",
                "this page is only to be read",
                "say it at the computer, or have fitlog page started without --read-only",
            )
        if scope["method"] == "POST":
            receive = _again(await whole_body(receive), receive)
        own = await self._at_the_gate(scope, receive, found, address)
        if own is not None:
            await own(scope, receive, answer)
            return
        scope["phone"] = self._phone(found)
        await self._page(scope, receive, answer)

    async def _at_the_gate(
        self, scope: Scope, receive: Receive, found: Paired | None, address: str
    ) -> Response | None:
        """Return what the gate itself answers; None where the page is to."""
        path, way = scope["path"], self._letting_in
        if path.startswith("/static/"):
            return None
        if path == "/favicon.ico":  # browsers ask for one, and call a missing one an error
            return Response(status_code=204)
        if way is None:
            return RedirectResponse("/", 303) if path in (PAIR, WHO) else None
        request = Request(scope, receive)
        if path == PAIR:
            return RedirectResponse("/", 303) if found else await way.pair(request, address)
        if found and path == WHO:
            return await way.who(request, found)
        if found and (found.login or self._door.read_only):
            self._note(found, way)
            return None
        if scope["method"] != "POST" and "text/html" in request.headers.get("accept", ""):
            return RedirectResponse(WHO if found else PAIR, 303)
        raise Refused(
            "not-paired",
            "this phone is not let in",
            "open the page on it, and answer what it asks",
        )

    def _paired(self, headers: Headers) -> Paired | None:
        if self._letting_in is None:
            return None
        key = _key(headers)
        return self._letting_in.phones.known(key) if key else None

    def _phone(self, found: Paired | None) -> Phone:
        if found is None:
            return Phone(0, self._door.owner, tell("this computer"), self._door.read_only)
        return Phone(
            found.number, found.login or self._door.owner, found.label, self._door.read_only
        )

    def _require_calm(self, buckets: Buckets, key: object) -> None:
        if buckets is self._strangers and self._letting_in is None:
            return
        if not buckets.take(key):
            raise Refused("too-often", "too much was asked at once", "wait a few seconds")

    def _note(self, found: Paired, way: LettingIn) -> None:
        """Write down that a phone is there, now and then, beside the answer."""

        async def note() -> None:
            with suppress(FitlogError):  # it is the list of phones alone that says less then
                await asyncio.to_thread(way.phones.note)

        if way.phones.seen(found.number) and (self._noting is None or self._noting.done()):
            self._noting = asyncio.create_task(note())


class _Answer:
    """What goes back: with the headers that every answer has, and a sentence of ours where the page
    has only a bare status to say. out: sends on what is answered.
    """

    def __init__(self, send: Send, scope: Scope, door: Door) -> None:
        self._send, self._scope, self._door = send, scope, door
        self.begun = False
        self.refused: FitlogError | None = None

    async def __call__(self, message: Message) -> None:
        """Send a part of the page's answer."""
        if message["type"] == "http.response.start" and message["status"] >= 400:
            kind = Headers(raw=message["headers"]).get("content-type", "text/plain")
            if kind.startswith("text/plain"):
                self.refused = _bare(message["status"], self._scope)
        if self.refused is None:
            await self.out(message)

    async def out(self, message: Message) -> None:
        """Send a part of an answer with the headers of all."""
        if message["type"] == "http.response.start":
            self.begun = True
            headers = MutableHeaders(raw=list(message["headers"]))
            for name, value in _ALWAYS.items():
                headers[name] = value
            if self._door.open or self._door.secure:  # elsewhere browsers ignore it, and say so
                headers["Cross-Origin-Opener-Policy"] = "same-origin"
            fixed = self._scope["path"].startswith("/static/")
            headers.setdefault("Cache-Control", "no-cache" if fixed else "no-store")
            message = {**message, "headers": headers.raw}
        await self._send(message)


def _sentence(error: FitlogError) -> Response:
    said = f"{error.message}: {error.hint}" if error.hint else error.message
    status = STATUS.get(error.code, 409)
    found = show("sentence", status, heading="fitlog", sentence=said, code=error.code, back="/")
    if status == 405:
        found.headers["Allow"] = "GET, HEAD, POST"
    elif error.code == "too-often":
        found.headers["Retry-After"] = "5"
    return found


def _bare(status: int, scope: Scope) -> FitlogError:
    """A status of the page without words, in words."""
    if status >= 500:
        return _failed()
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


def _failed() -> FitlogError:
    return Refused(
        "page-failed",
        "the page failed at that",
        "what was in the log is in it; go back and look, then say it again",
    )


def _key(headers: Headers) -> str | None:
    """The key that a phone shows; None where it shows none, or several."""
    parts = (part.strip() for line in headers.getlist("cookie") for part in line.split(";"))
    found = [part.removeprefix(f"{COOKIE}=") for part in parts if part.startswith(f"{COOKIE}=")]
    return found[0] if len(found) == 1 and _KEY.fullmatch(found[0]) else None


def _address(scope: Scope) -> str:
    """Where a request comes from; of IPv6 the network, since one device has many addresses."""
    host = scope["client"][0] if scope.get("client") else ""
    with suppress(ValueError):
        if (address := ip_address(host.partition("%")[0])).version == 6:
            return str(ip_network((address, 64), strict=False))
    return host


def _again(body: bytes, receive: Receive) -> Receive:
    """Give a body that was read once more, then what comes."""
    left: list[Message] = [{"type": "http.request", "body": body, "more_body": False}]

    async def again() -> Message:
        return left.pop() if left else await receive()

    return again


def _place(error: Exception) -> str:
    """Where in the source something went wrong: no value that was sent."""
    frames = traceback.extract_tb(error.__traceback__)
    return f"{Path(frames[-1].filename).name}:{frames[-1].lineno}" if frames else "?"
