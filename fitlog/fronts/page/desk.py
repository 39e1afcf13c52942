"""The log on the desk: one thread holds it open and does one thing after the other, so that ten
phones say their answers in one order.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from typing import TypeVar

from ...log import Log
from ...service import session as service

T = TypeVar("T")


class Desk:
    """The log, for whoever is served. Everything that touches it runs in the desk's own thread."""

    def __init__(self, place: str) -> None:
        """place: the log's file or address; it is opened by `open`."""
        self.place = place
        self._thread = ThreadPoolExecutor(1, "desk")
        self._open = ExitStack()
        self._log: Log | None = None

    async def open(self) -> str:
        """Open the log; return what was done to bring it up to date, "" for nothing. Raises
        Refused as `open_log` does.
        """
        return await self.do(self._opened)

    def _opened(self) -> str:
        self._log, told = self._open.enter_context(service.opened(self.place, create=False))
        return told

    async def session(self, login: str, what: Callable[[service.Session], T]) -> T:
        """Return what `what` makes of one person's session at the log."""
        return await self.do(lambda: what(service.Session(self.log, login)))

    @property
    def log(self) -> Log:
        """The open log; only for the desk's thread."""
        assert self._log is not None, "the desk is not open"
        return self._log

    async def do(self, what: Callable[[], T]) -> T:
        """Return what `what` does, in the desk's thread."""
        return await asyncio.get_running_loop().run_in_executor(self._thread, what)

    async def close(self) -> None:
        """Close the log."""
        await self.do(self._open.close)
        self._thread.shutdown()
