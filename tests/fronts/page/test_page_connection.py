"""A connection that says too slowly what it wants, or one of too many, is let go of."""

from __future__ import annotations

import asyncio
from typing import Any

import pytest
import uvicorn
from uvicorn.server import ServerState

from fitlog.fronts.page import connection
from fitlog.fronts.page.connection import Connection

WHOLE = b"GET / HTTP/1.1\r\nHost: a\r\n\r\n"


class Line(asyncio.Transport):
    """The other end: what was sent back, and whether it was let go of."""

    def __init__(self, address: str = "192.0.2.7") -> None:
        super().__init__({"peername": (address, 1)})
        self.sent, self.closed = b"", False

    def write(self, data: Any) -> None:
        self.sent += bytes(data)

    def close(self) -> None:
        self.closed = True

    abort = close

    def is_closing(self) -> bool:
        return self.closed

    def pause_reading(self) -> None:
        pass

    resume_reading = pause_reading


class Served:
    """Connections to an application that answers a GET at once and anything else not at all."""

    def __init__(self) -> None:
        async def app(scope: Any, _receive: Any, send: Any) -> None:
            await send({"type": "http.response.start", "status": 200, "headers": []})
            await send({"type": "http.response.body", "body": b""})

        self._config = uvicorn.Config(app, ws="none", lifespan="off", log_config=None)
        self._config.load()
        self._state = ServerState()

    def open(self, address: str = "192.0.2.7") -> tuple[Connection, Line]:
        made, line = Connection(self._config, self._state, {}), Line(address)
        made.connection_made(line)
        return made, line


@pytest.fixture(autouse=True)
def _impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connection, "_PATIENCE", 0.02)
    monkeypatch.setattr(connection, "_MOST_EACH", 3)


def kept(*parts: bytes, rest: float = 0.1) -> bool:
    """Whether who says these parts, with a pause after each, is still listened to."""

    async def said() -> bool:
        made, line = Served().open()
        for part in parts:
            if part:  # of nothing, no network tells
                made.data_received(part)
            await asyncio.sleep(rest)
        still = not line.closed
        made.connection_lost(None)
        return still

    return asyncio.run(said())


def test_who_says_nothing_is_let_go_of() -> None:
    assert not kept(b"")
    assert not kept(b"GET / HTTP/1.1\r\n")
    assert kept(b"", rest=0)


def test_who_says_it_drop_by_drop_is_let_go_of() -> None:
    assert not kept(*(WHOLE[n : n + 1] for n in range(8)), rest=0.005)


def test_who_has_said_it_is_answered_and_kept() -> None:
    assert kept(WHOLE) and kept(WHOLE, WHOLE)


def test_the_rest_of_what_was_answered_already_is_not_taken_without_end() -> None:
    head = b"POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 1000000\r\n\r\n"
    assert not kept(head, *[b"x"] * 12, rest=0.005)


def test_one_address_opens_only_so_many() -> None:
    async def opened() -> list[bool]:
        served = Served()
        lines = [served.open()[1] for _ in range(5)] + [served.open("192.0.2.8")[1]]
        return [line.closed for line in lines]

    assert asyncio.run(opened()) == [False, False, False, True, True, False]


def test_one_device_has_many_addresses_of_its_network() -> None:
    """In IPv6: a new one for each connection is one asker all the same."""

    async def opened() -> list[bool]:
        served = Served()
        own = [f"2001:db8::{n}" for n in range(1, 6)]
        lines = [served.open(address)[1] for address in (*own, "2001:db8:0:1::1")]
        return [line.closed for line in lines]

    assert asyncio.run(opened()) == [False, False, False, True, True, False]
