"""Somebody who speaks to the page's server over a socket, as no browser does."""

from __future__ import annotations

import re
import socket
from contextlib import suppress
from typing import NamedTuple

from atterminal import Served
from shop import Shop

AT = "127.0.0.1"
ANSWER = b"what=cut&key=0123456789&seen=SEEN"  # which is logged where nothing keeps it out


class Reply(NamedTuple):
    """What came back: its status, 0 for none, and all of it."""

    status: int
    text: str

    @classmethod
    def of(cls, told: bytes) -> Reply:
        text = told.decode("latin-1")
        found = re.match(r"HTTP/1\.1 (?:100 Continue\r\n\r\nHTTP/1\.1 )?(\d+) ", text)
        return cls(int(found[1]) if found else 0, text)

    @property
    def code(self) -> str:
        """The code of its refusal."""
        found = re.search('data-code="([^"]*)"', self.text)
        return found[1] if found else ""


class Target:
    """A server that lets a phone in, and that phone's key."""

    def __init__(self, shop: Shop, page: Served) -> None:
        self.shop, self.page = shop, page
        self.host = page.url.removeprefix("http://")
        self.key, self.seen = "", 0
        number = page.reads(r"Number for a new phone: (\d{3} \d{3}) ").replace(" ", "")
        paired = self.says(post(b"/pair", f"number={number}".encode()))
        self.key = re.findall(r"fitlog=([A-Za-z0-9_-]{43});", paired.text)[0]
        assert self.says(post(b"/who", b"other=Jo")).status == 303
        self.seen = int(re.findall('data-seen="e([0-9]+)"', self.says(get()).text)[0])

    def line(self, source: str = AT) -> socket.socket:
        """A connection from an address of this computer."""
        made = socket.socket()
        made.settimeout(20)
        made.bind((source, 0))
        made.connect((AT, int(self.host.rsplit(":", 1)[1])))
        return made

    def says(self, said: bytes, source: str = AT) -> Reply:
        """Say all of it, whether it is heard or not, and hear what comes until the end."""
        with self.line(source) as line:
            return self.heard(line, said)

    def heard(self, line: socket.socket, said: bytes = b"") -> Reply:
        with suppress(OSError):  # it was let go of in the middle
            line.sendall(self.filled(said))
        told = b""
        with suppress(ConnectionError):
            while part := line.recv(65_536):
                told += part
        return Reply.of(told)

    def filled(self, said: bytes) -> bytes:
        """What is said, with what this server and its phone are called."""
        for name, value in (("HOST", self.host), ("KEY", self.key), ("SEEN", f"e{self.seen:03}")):
            said = said.replace(name.encode(), value.encode())
        return said


def request(
    head: bytes, *more: bytes, host: bytes = b"HOST", cookie: bytes = b"fitlog=KEY"
) -> bytes:
    lines = [head, b"Host: " + host, b"Cookie: " + cookie, b"Connection: close", *more]
    return b"\r\n".join(lines) + b"\r\nAccept: text/html\r\n\r\n"


def get(path: bytes = b"/s/1/set", *more: bytes, **other: bytes) -> bytes:
    return request(b"GET " + path + b" HTTP/1.1", *more, **other)


def post(
    path: bytes = b"/s/1/answer",
    body: bytes = ANSWER,
    *more: bytes,
    origin: bytes = b"Origin: http://HOST",
    length: bytes | None = None,
    **other: bytes,
) -> bytes:
    """A form. length: how long it is said to be, as a header."""
    said = b"Content-Length: %d" % len(body) if length is None else length
    kind = b"Content-Type: application/x-www-form-urlencoded"
    lines = [line for line in (origin, kind, said, *more) if line]
    return request(b"POST " + path + b" HTTP/1.1", *lines, **other) + body
