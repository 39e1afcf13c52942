"""A connection that gives up a server which says nothing, such as one behind a proxy that swallows
all; imported only where psycopg is.

The system notices a dead peer; one that acknowledges what it gets and never answers, it does not.
"""

from __future__ import annotations

from collections.abc import Generator
from time import monotonic
from typing import Any

import psycopg


class Silent(psycopg.OperationalError):
    """Nothing came within the time; the connection is closed."""


class Deadlined(psycopg.Connection[Any]):
    """silence: how long the server may say nothing to one request, s."""

    silence = 10.0

    def wait(self, gen: Any, *args: Any, **options: Any) -> Any:
        """Wait for what the driver asked; raises Silent."""
        return super().wait(self._listening(gen), *args, **options)

    def _listening(self, asked: Any) -> Generator[Any, Any, Any]:
        """Pass on what the driver asks of the socket. It looks up at short intervals, at which
        nothing may have come.
        """
        try:
            wanted, until = next(asked), monotonic() + self.silence
            while True:
                ready = yield wanted
                if ready:
                    until = monotonic() + self.silence
                elif monotonic() > until:
                    self.pgconn.finish()
                    raise Silent("the server does not answer")
                wanted = asked.send(ready)
        except StopIteration as done:
            return done.value


def connect(_dialect: Any, _record: Any, given: Any, named: Any) -> Deadlined:
    """Connect as SQLAlchemy asks for it."""
    return Deadlined.connect(*given, **named)
