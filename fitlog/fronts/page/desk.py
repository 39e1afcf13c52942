"""The log on the desk: one thread holds it open and does one thing after the other, so that ten
phones say their answers in one order.
"""

from __future__ import annotations

import asyncio
from collections import OrderedDict
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, suppress
from typing import TypeVar

from ...domain import SetUp
from ...errors import FitlogError
from ...service import Log
from ...service import session as service
from ...service.bench import Workbench
from ...service.held import Held
from .who import Phone

T = TypeVar("T")
_AT_HAND = 24  # workbenches that keep what they learnt


class Desk:
    """The log, for whoever is served. Everything that touches it runs in the desk's own thread."""

    def __init__(self, place: str) -> None:
        """place: the log's file or address; it is opened by `open`."""
        self.place = place
        self._thread = ThreadPoolExecutor(1, "desk")
        self._open = ExitStack()
        self._log: Log | None = None
        self._held: Held | None = None
        self._benches: OrderedDict[tuple[str, int], Workbench] = OrderedDict()

    async def open(self) -> str:
        """Open the log; return what was done to bring it up to date, "" for nothing. Raises
        Refused as `open_log` does.
        """
        return await self.do(self._opened)

    def _opened(self) -> str:
        self._log, told = self._open.enter_context(service.opened(self.place, create=False))
        self._held = Held(self._log)
        return told

    async def sit(self, phone: Phone, what: Callable[[Sitting], T]) -> T:
        """Return what `what` makes of one person's sitting at the log. Raises Refused: log-gone."""

        def sat() -> T:
            assert self._held is not None
            self._held.require_file()
            sitting = Sitting(self, phone)
            try:
                return what(sitting)
            except FitlogError as error:
                sitting.word(error)
                raise

        return await self.do(sat)

    async def newest(self, numbers: Sequence[int]) -> dict[int, int]:
        """Return the newest entry of each of some set-ups; nothing where that cannot be told."""

        def look() -> dict[int, int]:
            with suppress(FitlogError):
                return self.log.newest(numbers)
            return {}

        return await self.do(look)

    @property
    def log(self) -> Log:
        """The open log; only for the desk's thread."""
        assert self._log is not None, "the desk is not open"
        return self._log

    def bench(self, by: str, number: int, make: Callable[[], Workbench]) -> Workbench:
        """Return the workbench of a person at a set-up, the one from before where it is at hand."""
        bench = self._benches.pop((by, number), None) or make()
        self._benches[by, number] = bench
        if len(self._benches) > _AT_HAND:
            self._benches.popitem(last=False)
        return bench

    def learnt_more(self) -> None:
        """Say that set-ups teach something else now."""
        for bench in self._benches.values():
            bench.forget()

    async def do(self, what: Callable[[], T]) -> T:
        """Return what `what` does, in the desk's thread."""
        return await asyncio.get_running_loop().run_in_executor(self._thread, what)

    async def close(self) -> None:
        """Close the log."""
        await self.do(self._open.close)
        self._thread.shutdown()


class Sitting(service.Session):
    """One person at the log, for one request, whose workbenches keep what they learnt."""

    def __init__(self, desk: Desk, phone: Phone) -> None:
        super().__init__(desk.log, phone.login)
        self.desk, self.phone = desk, phone

    def word(self, error: FitlogError) -> None:
        """Have a refusal tell its lengths in this person's units."""
        ruler = self.ruler()
        error.length = None if ruler.units == "mm" else ruler.told

    def at(self, number: int | None = None) -> tuple[SetUp, Workbench]:
        """See `Session.at`."""
        with self.log.at_one_moment():
            new = self.bench()
            setup = new.current(number)
        bench = self.desk.bench(self.by, setup.number, lambda: new)
        bench.ruler, bench.home = self.ruler(setup.plan.machine), new.home
        return setup, bench
