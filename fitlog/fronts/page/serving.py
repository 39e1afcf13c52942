"""The page served: its address, what the computer's screen shows, and how it ends."""

from __future__ import annotations

import asyncio
import errno
import gc
import ipaddress
import logging
import os
import signal
import socket
import ssl
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import datetime, timedelta
from types import FrameType
from typing import NamedTuple

import segno
import uvicorn

from ...errors import FitlogError, Refused
from ...render.screen import Screen
from ...texts import tell
from .app import page_app
from .connection import Connection
from .desk import Desk
from .door import Door
from .gate import Gate
from .letting_in import LettingIn
from .pairing import Pairing
from .phones import PhoneBook

LOOPBACK = "127.0.0.1"
_MOST_HEAD = 16_384  # bytes of a request's line and headers
# s after which the desk's thread, at work on an advice, lets another answer go out.
_TURN = 0.0005
_LAST_WORDS = 2  # s for answers under way when the page ends
_PLAIN = {80: "http", 443: "https"}  # ports that no browser names


class Wanted(NamedTuple):
    """How the page is to be served. at: an address or name of this computer, None: to itself alone;
    port: 0 for any that is free; certificate, key: files for TLS, in PEM.
    """

    at: str | None = None
    port: int = 8517
    read_only: bool = False
    certificate: str | None = None
    key: str | None = None


def serve(place: str, owner: str, phones: PhoneBook, wanted: Wanted) -> int:
    """Serve the log at `place` until a signal ends it; return the signal's number. owner: the login
    of whoever started it.

    Raises Refused as opening a log does, and: bad-address, port-taken, port-closed,
    bad-certificate, damaged-phones, unreadable-file.
    """
    context = _tls(wanted)
    phones.all()
    with _listening(wanted) as listening:
        for name in ("uvicorn.error", "asyncio"):  # their tracebacks would show what was sent
            logging.getLogger(name).setLevel(logging.CRITICAL + 1)
        return asyncio.run(_served(Desk(place), owner, phones, wanted, context, listening))


async def _served(
    desk: Desk,
    owner: str,
    phones: PhoneBook,
    wanted: Wanted,
    context: ssl.SSLContext | None,
    listening: socket.socket,
) -> int:
    board, beside = _Board(Screen()), _Board(Screen(sys.stderr))
    if told := await desk.open():
        beside.line(told)
    host, port = listening.getsockname()[:2]
    scheme = "https" if context else "http"
    names = [wanted.at or LOOPBACK, host, *([] if wanted.at else ["localhost"])]
    hosts = [_authority(name, port, scheme) for name in names]
    door = Door(frozenset(hosts), owner, context is not None, wanted.at is None, wanted.read_only)
    board.open(f"{scheme}://{hosts[0]}", door, None if wanted.at is None else host)
    way = None
    if wanted.at is not None:
        way = LettingIn(desk, phones, Pairing(board.number), owner, door.secure, board.line)
        way.pairing.ask()
    config = uvicorn.Config(
        Gate(page_app(desk, beside.line), door, way, beside.line),
        http=Connection,
        ws="none",
        loop="asyncio",
        lifespan="on",
        log_config=None,
        access_log=False,
        proxy_headers=False,  # nobody else says where a request comes from
        server_header=False,
        h11_max_incomplete_event_size=_MOST_HEAD,
        timeout_graceful_shutdown=_LAST_WORDS,
    )
    config.load()
    config.ssl = context
    server = _Server(config)
    gc.freeze()
    sys.setswitchinterval(_TURN)
    await server.serve([listening])
    with suppress(FitlogError):
        phones.note()
    return server.ended


class _Server(uvicorn.Server):
    """Ends at a signal once what is under way is answered, at the second one at once."""

    ended = 0

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        numbers = (signal.SIGINT, signal.SIGTERM, getattr(signal, "SIGHUP", signal.SIGTERM))
        wanted = [n for n in dict.fromkeys(numbers) if signal.getsignal(n) is not signal.SIG_IGN]
        before = {number: signal.signal(number, self.handle_exit) for number in wanted}
        try:
            yield
        finally:
            for number, handler in before.items():
                signal.signal(number, handler)

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Take in a signal."""
        self.force_exit = self.should_exit
        self.should_exit, self.ended = True, sig


class _Board:
    """What stands on the computer's screen; one that is gone ends nothing."""

    def __init__(self, screen: Screen) -> None:
        self._screen = screen

    def line(self, text: str, /, **values: object) -> None:
        """Show a text."""
        with suppress(OSError):
            self._screen.line(tell(text, **values))
            self._screen.stream.flush()

    def open(self, url: str, door: Door, at: str | None) -> None:
        """Show where the page is, and how phones come to it. at: the address that was asked for."""
        if door.open:
            self.line("The page is at {url}, for this computer alone.", url=url)
            self.line("For phones in the shop's network: fitlog page --at {at}", at=_own_address())
        else:
            self.line("The page is at {url}", url=url)
            self._code(url)
            if not door.secure:
                self.line(
                    "Without --certificate and --key others in this network can read along, and "
                    "take over what a phone has."
                )
        if at is not None and ipaddress.ip_address(at.partition("%")[0]).is_loopback:
            self.line(
                "No phone reaches {at}, this computer's address to itself: give --at {own}.",
                at=at,
                own=_own_address(),
            )
        if door.read_only:
            self.line("It is only to be read: nobody can log anything on it.")
        self.line("Ctrl-C ends it; the log keeps what was answered.")

    def _code(self, url: str) -> None:
        """Show an address as a QR code: light on dark, whatever the terminal's colours are."""
        before, after = ("\033[97;40m", "\033[0m") if self._screen.terminal else ("", "")
        with suppress(OSError, UnicodeEncodeError):
            rows = qr_rows(url)
            "".join(rows).encode(self._screen.stream.encoding)
            for row in rows:
                print(f"{before}{row}{after}", file=self._screen.stream)

    def number(self, digits: str, holds: float) -> None:
        """Show the number that lets a phone in. holds: s."""
        self.line(
            "Number for a new phone: {digits} (until {until:%H:%M})",
            digits=f"{digits[:3]} {digits[3:]}",
            until=datetime.now().astimezone() + timedelta(seconds=holds),
        )


def qr_rows(url: str) -> list[str]:
    """Return a QR code of an address as rows of half blocks, light on a dark screen."""
    border = 2
    matrix = [
        [bool(cell) for cell in row]
        for row in segno.make(url, micro=False).matrix_iter(border=border)
    ]
    matrix += [[True] * len(matrix[0])] * (len(matrix) % 2)
    shapes = {(False, False): "█", (False, True): "▀", (True, False): "▄", (True, True): " "}
    return [
        "".join(shapes[pair] for pair in zip(upper, lower, strict=True))
        for upper, lower in zip(matrix[::2], matrix[1::2], strict=True)
    ]


def _authority(host: str, port: int, scheme: str) -> str:
    """What a browser says in Host for an address."""
    name = f"[{host}]" if ":" in host else host.encode("idna").decode().lower()
    return name if _PLAIN.get(port) == scheme else f"{name}:{port}"


def _own_address() -> str:
    """This computer's address in its network, as far as it can tell; nothing is sent."""
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        probe.connect(("192.0.2.1", 9))  # RFC 5737: an address that nobody has
        return str(probe.getsockname()[0])
    return "ADDRESS"


def _listening(wanted: Wanted) -> socket.socket:
    """Return a socket that listens where the page is to be. Raises Refused: bad-address,
    port-taken, port-closed.
    """
    at = LOOPBACK if wanted.at is None else wanted.at
    try:
        family, kind, _, _, where = socket.getaddrinfo(at, wanted.port, type=socket.SOCK_STREAM)[0]
        if not at or "%" in at or not _is_one(str(where[0]).partition("%")[0]):  # no browser's, %
            raise OSError(errno.EADDRNOTAVAIL, "all addresses at once are none")
    except (OSError, ValueError) as error:
        raise _no_address(at) from error
    found = socket.socket(family, kind)
    try:
        if os.name == "posix":
            found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        found.bind(where)
        found.listen(128)
    except OSError as error:
        found.close()
        if error.errno == errno.EADDRINUSE:
            raise Refused(
                "port-taken",
                "another program listens at port {port} already",
                "end it if it is an earlier fitlog page, or give another: --port {other}",
                port=wanted.port,
                other=wanted.port + 1 if wanted.port < 65_535 else 8517,
            ) from error
        if error.errno == errno.EACCES:
            raise Refused(
                "port-closed",
                "port {port} may not be served by you",
                "give one above 1023, such as --port 8517",
                port=wanted.port,
            ) from error
        raise _no_address(at) from error
    return found


def _is_one(at: str) -> bool:
    """Tell whether an address is no name for several, as IPv4 or written into IPv6."""
    found = ipaddress.ip_address(at)
    found = getattr(found, "ipv4_mapped", None) or found
    return not (found.is_unspecified or found.is_multicast)


def _no_address(at: str) -> Refused:
    return Refused(
        "bad-address",
        "{at!r} is no one address of this computer",
        "give the one that its network settings show: --at {own}",
        at=at[:80],
        own=_own_address(),
    )


def _tls(wanted: Wanted) -> ssl.SSLContext | None:
    """Return what TLS needs; None without. Raises Refused: bad-certificate."""
    if not wanted.certificate:
        return None
    found = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    try:
        # A key with a password would ask for it in the middle of the screen.
        found.load_cert_chain(wanted.certificate, wanted.key, password=lambda: "")
    except (OSError, ValueError) as error:  # ssl's own is an OSError
        name = "reason" if isinstance(error, ssl.SSLError) else "strerror"
        raise Refused(
            "bad-certificate",
            "{certificate!r} with the key {key!r} cannot be served ({why})",
            "give a certificate and its key without a password, both in PEM, that you may read",
            certificate=wanted.certificate,
            key=wanted.key or wanted.certificate,
            why=getattr(error, name, None) or str(error),
        ) from error
    return found
