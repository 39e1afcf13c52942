"""The gate before the page: who may come in, and what every answer says to the browser."""

from __future__ import annotations

import asyncio
import re
import traceback
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from ...errors import FitlogError, Refused
from ...texts import tell
from .buckets import Buckets, asker
from .door import Door, Gone, whole_body
from .letting_in import COOKIE, PAIR, WHO, LettingIn
from .outgoing import Answer
from .phones import Paired
from .refusals import failed, sentence
from .who import Phone

_OF_THE_FILE = ("damaged-phones", "unreadable-file", "unwritable-file", "is-a-log", "bad-path")
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
        answer = Answer(send, scope, self._door)
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
            answer.refused = failed()
        if answer.refused is not None:
            await sentence(answer.refused, Request(scope))(scope, receive, answer.out)

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

    async def _let_through(self, scope: Scope, receive: Receive, answer: Answer) -> None:
        headers = Headers(scope=scope)
        address = asker(scope["client"][0] if scope.get("client") else "")
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
        answer.still = lambda: self._is_still_in(found)
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

    def _is_still_in(self, found: Paired | None) -> bool:
        """Tell whether whoever is being answered was not revoked meanwhile."""
        if found is None or self._letting_in is None:
            return True
        with suppress(FitlogError):
            return any(phone.digest == found.digest for phone in self._letting_in.phones.all())
        return False

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


def _key(headers: Headers) -> str | None:
    """The key that a phone shows; None where it shows none, or several."""
    parts = (part.strip() for line in headers.getlist("cookie") for part in line.split(";"))
    found = [part.removeprefix(f"{COOKIE}=") for part in parts if part.startswith(f"{COOKIE}=")]
    return found[0] if len(found) == 1 and _KEY.fullmatch(found[0]) else None


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
