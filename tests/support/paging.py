"""The page in this process, without a browser: its application behind a gate that lets one person
in, and what stands on a screen.
"""

from __future__ import annotations

import asyncio
import os
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from html.parser import HTMLParser
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple
from urllib.parse import unquote, urlencode

from starlette.applications import Starlette
from starlette.types import Message, Scope

from fitlog.fronts.page.app import page_app
from fitlog.fronts.page.desk import Desk
from fitlog.fronts.page.who import Phone
from fitlog.texts import tell


class Seen(HTMLParser):
    """A screen as it is read. text: all that is shown; fields: of its forms, by name, those that
    are ticked or filled; boxes: names of all that can be ticked; links: where they lead.
    """

    def __init__(self, status: int, html: str, url: str) -> None:
        super().__init__()
        self.status, self.html, self.url = status, html, url
        self.words: list[str] = []
        self.tags: list[str] = []
        self.fields: dict[str, str] = {}
        self.boxes: list[tuple[str, str]] = []
        self.links: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what a person could touch."""
        self.tags.append(tag)
        known = {name: value or "" for name, value in attrs}
        if tag == "a":
            self.links.append(known.get("href", ""))
        if tag == "input":
            self._input(known)

    def _input(self, known: Mapping[str, str]) -> None:
        name, value = known.get("name", ""), known.get("value", "")
        if known["type"] in ("checkbox", "radio"):
            self.boxes.append((name or known.get("id", ""), value))
            if "checked" not in known:
                return
        self.fields[name] = value

    def handle_data(self, data: str) -> None:
        """Note what is read."""
        self.words.append(data)

    @property
    def text(self) -> str:
        """All that is read, in one line."""
        return " ".join(" ".join(self.words).split())

    @property
    def code(self) -> str:
        """The code of the refusal on it, "" for none."""
        _, _, after = self.html.partition('data-code="')
        return after.partition('"')[0]


class Reply(NamedTuple):
    """What the application answered; headers by their names in small letters."""

    status: int
    headers: dict[str, str]
    body: bytes


class Page:
    """A person's phone at the page. told: what the page said on its own computer."""

    def __init__(self, app: Starlette, phone: Phone, loop: asyncio.AbstractEventLoop) -> None:
        self._app, self._phone, self._loop = app, phone, loop
        self.told: list[str] = []
        app.state.say = lambda text, **values: self.told.append(tell(text, **values))

    def get(self, path: str) -> Seen:
        """Return a screen."""
        return self._seen(path, self.reply("GET", path))

    def cut(self, of: str = "/s/1", **typed: str) -> Seen:
        """Go on from the screen to set to the one to cut, with what was typed there."""
        seen = self.get(f"{of}/set").fields["seen"]
        return self.get(f"{of}/cut?{urlencode({'seen': seen, **typed})}")

    def say(self, path: str, key: str | None = None, **fields: str) -> Seen:
        """Give the answer of these fields on the screen at a path of a set-up; key: of its own
        without.
        """
        seen = self.get(path).fields.get("seen", "")
        to = f"/s/{path.split('/')[2]}/answer"
        return self.post(to, key=key or os.urandom(8).hex(), seen=seen, **fields)

    def post(self, to: str, **fields: str) -> Seen:
        """Give an answer as a form does."""
        return self._seen(to, self.reply("POST", to, urlencode(fields).encode()))

    def reply(self, method: str, path: str, body: bytes = b"", **headers: str) -> Reply:
        """Return what the application answers."""
        return self._loop.run_until_complete(self._reply(method, path, body, headers))

    def _seen(self, path: str, reply: Reply) -> Seen:
        while reply.status == 303:
            path = reply.headers["location"]
            reply = self.reply("GET", path)
        return Seen(reply.status, reply.body.decode(), path)

    async def _reply(
        self, method: str, path: str, body: bytes, more: Mapping[str, str] = MappingProxyType({})
    ) -> Reply:
        route, _, query = path.partition("?")
        scope: Scope = {
            "type": "http",
            "asgi": {"version": "3.0"},
            "http_version": "1.1",
            "method": method,
            "scheme": "http",
            "path": unquote(route),
            "raw_path": route.encode(),
            "query_string": query.encode(),
            "root_path": "",
            "headers": [
                (b"host", b"127.0.0.1:8517"),
                (b"content-length", b"%d" % len(body)),
                *((name.replace("_", "-").encode(), text.encode()) for name, text in more.items()),
            ],
            "phone": self._phone,
        }
        got: list[Message] = []

        async def receive() -> Message:
            return {"type": "http.request", "body": body, "more_body": False}

        async def send(message: Message) -> None:
            got.append(message)

        await self._app(scope, receive, send)
        headers = {name.decode().lower(): value.decode() for name, value in got[0]["headers"]}
        return Reply(got[0]["status"], headers, b"".join(m.get("body", b"") for m in got[1:]))


@contextmanager
def paged(db: Path, login: str = "jo", *, only_reads: bool = False) -> Iterator[Page]:
    """Serve a log to one person for a block."""
    desk = Desk(str(db))
    app = page_app(desk, print)
    with closing(asyncio.new_event_loop()) as loop:
        loop.run_until_complete(desk.open())
        try:
            yield Page(app, Phone(0, login, "", only_reads), loop)
        finally:
            loop.run_until_complete(app.state.watch.close())
            loop.run_until_complete(desk.close())
