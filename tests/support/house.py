"""A log that is served to phones behind the gate, and the computer's screen beside it."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator

from shop import Shop
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, StreamingResponse
from starlette.routing import Route
from visitor import Visitor

from fitlog.errors import FitlogError
from fitlog.fronts.page.app import page_app
from fitlog.fronts.page.desk import Desk
from fitlog.fronts.page.door import Door
from fitlog.fronts.page.gate import Gate
from fitlog.fronts.page.letting_in import LettingIn
from fitlog.fronts.page.pairing import Pairing
from fitlog.fronts.page.phones import PhoneBook

SITE = "http://192.0.2.5:8517"


class Screen:
    """What the computer shows, by a clock of its own."""

    def __init__(self) -> None:
        self.now = 0.0
        self.numbers: list[str] = []
        self.lines: list[str] = []
        self.pairing = Pairing(lambda digits, _: self.numbers.append(digits), lambda: self.now)

    def line(self, text: str, **values: object) -> None:
        self.lines.append(text.format(**values))

    def wrong(self) -> str:
        """Six digits that are not the number."""
        return "000000" if self.numbers[-1] != "000000" else "000001"

    def spend(self, typed: str, address: str = "192.0.2.7") -> str:
        """Type a number; return the code of the refusal, "" for none."""
        try:
            self.pairing.spend(typed, address)
        except FitlogError as error:
            assert self.numbers[-1] not in f"{error.message} {error.hint}"
            return error.code
        return ""


class House:
    """A log that is served to phones. whole: all of the page behind the gate, and not only what
    says who came in.
    """

    def __init__(
        self, shop: Shop, read_only: bool = False, secure: bool = False, whole: bool = False
    ) -> None:
        self.screen, self.book = Screen(), PhoneBook(shop.home / "phones.json")
        self.desk = Desk(str(shop.db))
        asyncio.run(self.desk.open())
        self.site = SITE.replace("http", "https") if secure else SITE
        door = Door(frozenset({"192.0.2.5:8517"}), "owner", secure, False, read_only)
        way = LettingIn(
            self.desk, self.book, self.screen.pairing, "owner", secure, self.screen.line
        )
        bare = [
            Route("/", self._look),
            Route("/events", self._look),
            Route("/say", self._look, methods=["POST"]),
            Route("/follow", self._follow),
        ]
        page = page_app(self.desk, self.screen.line) if whole else Starlette(routes=bare)
        self.gate = Gate(page, door, way, self.screen.line)

    async def _look(self, request: Request) -> JSONResponse:
        phone = request.scope["phone"]
        return JSONResponse([phone.number, phone.login, phone.only_reads])

    async def _follow(self, request: Request) -> StreamingResponse:
        """Tell of changes, one of which is that the phone is revoked elsewhere."""

        async def told() -> AsyncIterator[str]:
            yield "before"
            PhoneBook(self.book.path).revoke(request.scope["phone"].number)
            yield "after"
            yield "long after"

        return StreamingResponse(told())

    def visitor(self, address: str = "192.0.2.7") -> Visitor:
        return Visitor(self.gate, self.site, address)

    def paired(self, name: str = "") -> Visitor:
        """A phone that was let in, held by somebody."""
        visitor = self.visitor()
        visitor.get("/pair")
        answer = visitor.post("/pair", {"number": self.screen.numbers[-1]})
        assert (answer.status_code, answer.headers["location"]) == (303, "/")
        if name:
            assert visitor.post("/who", {"other": name}).headers["location"] == "/"
        return visitor
