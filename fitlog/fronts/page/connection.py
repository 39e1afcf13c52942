"""One connection of a browser: as uvicorn's, but whoever says too slowly what is wanted, or opens
more than a browser does, is let go of.
"""

from __future__ import annotations

import asyncio

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from .buckets import asker

_PATIENCE = 10.0  # s for the head of a request, or for the rest of a refused one
_MOST_EACH = 100  # connections of one asker; a browser opens six, an access point may be ten


class Connection(H11Protocol):
    """A connection that is read only as long as somebody has something to say."""

    _late: asyncio.TimerHandle | None = None
    _asker = ""

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin, or let go of one too many."""
        super().connection_made(transport)
        self._asker = asker(self.client[0] if self.client else "")
        if sum(map(self._is_beside, self.connections)) > _MOST_EACH:
            transport.abort()
        self._wait()

    def _is_beside(self, other: object) -> bool:
        """Tell whether a connection, this one too, is the same one's."""
        return isinstance(other, Connection) and other._asker == self._asker

    def data_received(self, data: bytes) -> None:
        """Take in some bytes; a whole head ends the wait for it."""
        super().data_received(data)
        self._wait()

    def connection_lost(self, exc: Exception | None) -> None:
        """End."""
        super().connection_lost(exc)
        if self._late is not None:
            self._late.cancel()

    def _wait(self) -> None:
        """Have the wait begin, go on or end, by what is missing."""
        at = self.conn.their_state
        refused = self.cycle is not None and self.cycle.response_complete
        missing = at is h11.IDLE or (at is h11.SEND_BODY and refused)
        if not missing and self._late is not None:
            self._late.cancel()
            self._late = None
        elif missing and self._late is None:
            self._late = self.loop.call_later(_PATIENCE, self.transport.close)
