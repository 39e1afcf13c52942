"""The two screens of a phone that is new here: the number that lets it in, and who holds it."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import NamedTuple

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from ...domain import clean_name
from ...errors import NotUnderstood, Refused
from ...service.people import login_of, people
from .desk import Desk
from .forms import fields
from .html import show
from .pairing import Pairing
from .phones import Paired, PhoneBook

PAIR, WHO = "/pair", "/who"
COOKIE = "fitlog"
_MAX_AGE = 400 * 86_400  # s, as long as browsers keep any; the computer forgets a phone earlier


class LettingIn(NamedTuple):
    """How phones come in. owner: the login of whoever serves the page; secure: over TLS, so that
    a key goes over nothing else; say: is given what the computer shows beside the number.
    """

    desk: Desk
    phones: PhoneBook
    pairing: Pairing
    owner: str
    secure: bool
    say: Callable[..., None]

    async def pair(self, request: Request, address: str) -> Response:
        """Show the form for the number, or take what was typed into it. Raises Refused:
        too-many-tries, and for a key that cannot be kept.
        """
        if request.method != "POST":
            self.pairing.ask()
            return show("pair", error=None)
        typed = "".join(fields(await request.body()).get("number", "").split())
        try:
            if not (len(typed) == 6 and typed.isascii() and typed.isdecimal()):
                raise NotUnderstood(
                    "not-six-digits", "that is no number of six digits", "type all six of them"
                )
            self.pairing.spend(typed, address)
        except (NotUnderstood, Refused) as error:
            if error.code == "too-many-tries":
                raise
            return show("pair", error=error)  # as an error a browser would tell of it, too
        key = await asyncio.to_thread(self.phones.add, address)
        self.say("A phone at {address} was paired: fitlog page phones lists it.", address=address)
        answer = RedirectResponse("/", 303)
        answer.set_cookie(
            COOKIE, key, _MAX_AGE, path="/", secure=self.secure, httponly=True, samesite="strict"
        )
        return answer

    async def who(self, request: Request, phone: Paired) -> Response:
        """Show whom the log knows, or keep who was chosen. Raises Refused for a log that cannot be
        read.
        """
        if request.method != "POST":
            return show("who", names=await self._names(), now=phone.name, error=None)
        said = fields(await request.body())
        try:
            name = clean_name("name", said.get("other", "").strip() or said.get("name", ""))
        except Refused as error:
            return show("who", names=await self._names(), now=phone.name, error=error)
        login, name = await self.desk.do(lambda: login_of(self.desk.log, self.owner, name))
        await asyncio.to_thread(self.phones.name, phone.number, login, name)
        self.say("Phone {number} is held by {name}.", number=phone.number, name=name)
        return RedirectResponse("/", 303)

    async def _names(self) -> list[str]:
        found = await self.desk.do(lambda: people(self.desk.log, self.owner))
        return sorted({*found.values()}, key=str.casefold)
