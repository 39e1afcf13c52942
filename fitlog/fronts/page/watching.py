"""Whether a set-up has another entry than a screen shows: told as events, while the screen stays as
it is.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from contextlib import suppress

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from .desk import Desk

_EVERY = 2.0  # seconds between looks at what other processes wrote
_BEAT = 15.0  # seconds after which a silent stream says that it is there
MOST = 60  # streams at once; a shop has fewer phones
_ALIVE = "event: beat\ndata:\n\n"  # a page that hears neither this nor anything asks again


class Watch:
    """One look at the log for all screens that wait."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._newest: dict[int, int] = {}
        self._waiting: dict[int, set[asyncio.Event]] = {}
        self._now = asyncio.Event()
        self._task: asyncio.Task[None] | None = None

    @property
    def waiting(self) -> int:
        """How many screens wait."""
        return sum(map(len, self._waiting.values()))

    def look(self) -> None:
        """Look at once: something was logged here."""
        self._now.set()

    async def changes(self, number: int, seen: int | None) -> AsyncIterator[int | None]:
        """Yield a set-up's newest entry each time that it is another than the one before; None as
        a sign of life. seen: the first one.
        """
        self._task = self._task or asyncio.create_task(self._go())
        woken = asyncio.Event()
        if number not in self._newest:
            self.look()
        self._waiting.setdefault(number, set()).add(woken)
        try:
            while True:
                newest = self._newest.get(number)
                if newest is not None and newest != seen:
                    seen = newest
                    yield newest
                with suppress(TimeoutError):
                    await asyncio.wait_for(woken.wait(), _BEAT)
                if not woken.is_set():
                    yield None
                woken.clear()
        finally:
            self._waiting[number].discard(woken)
            if not self._waiting[number]:
                del self._waiting[number]
                self._newest.pop(number, None)

    async def _go(self) -> None:
        while True:
            with suppress(TimeoutError):
                await asyncio.wait_for(self._now.wait(), _EVERY)
            self._now.clear()
            if not self._waiting:
                continue
            for number, newest in (await self._desk.newest([*self._waiting])).items():
                if newest != self._newest.get(number):
                    self._newest[number] = newest
                    for woken in self._waiting.get(number, ()):
                        woken.set()

    async def close(self) -> None:
        """Stop looking."""
        if self._task is not None:
            self._task.cancel()
            with suppress(asyncio.CancelledError):
                await self._task


async def events(request: Request) -> Response:
    """Return the stream of a set-up's newest entries, `seen` the one on the screen."""
    watch: Watch = request.app.state.watch
    if watch.waiting >= MOST:
        return Response(status_code=503, headers={"Retry-After": "30"})
    seen = request.query_params.get("seen", "")
    first = int(seen[1:]) if seen[:1] == "e" and seen[1:].isdecimal() else None

    async def lines() -> AsyncIterator[str]:
        async for newest in watch.changes(request.path_params["number"], first):
            yield _ALIVE if newest is None else f"data: {json.dumps(newest)}\n\n"

    return StreamingResponse(lines(), media_type="text/event-stream")
