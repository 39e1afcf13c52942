"""A store: where a log is kept, and how it is read and written in transactions, whatever keeps it.

`sqlite` keeps a log in one file, `postgres` in a database; `opening` opens either, and the
rest of fitlog sees this only.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from pathlib import Path
from typing import NamedTuple

from sqlalchemy import Connection

BUSY_SECONDS = 5.0  # how long one writer waits for another; common practice, no source


class Upgraded(NamedTuple):
    """A log was brought from layout `found` to `now`; as it was before it is in the file `backup`,
    where that was one.
    """

    found: int
    now: int
    backup: Path | None


class Store(ABC):
    """An open store with one connection, for one thread.

    where: its place as it may be shown, never with a password.  path: its file, None without one.
    read_only: this user may not write it.  upgraded: the log was of an older layout when it was
    opened.
    """

    where: str
    path: Path | None = None
    read_only: bool
    upgraded: Upgraded | None = None
    known_of_others: int = 0  # what `written_by_others` answered last, or would have at the opening
    shelves: object = None  # the catalogue as it was read last, until anybody may have changed it
    _connection: Connection
    _snapshot: str
    _at_one_moment = _asked = False

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a connection that sees one moment of the log, however many queries are made. Within
        another reading it is the moment of that one.
        """
        if self._at_one_moment:
            yield self._connection
            return
        with self._transaction(self._snapshot) as connection:
            self._at_one_moment, self._asked = True, False
            try:
                if self.shelves is not None:
                    self.written_by_others()
                yield connection
            finally:
                self._at_one_moment = False

    @contextmanager
    def glance(self) -> Iterator[Connection]:
        """Give a connection for a single query, which sees one moment without a transaction."""
        if self._at_one_moment:
            yield self._connection
            return
        with self._transaction() as connection:
            yield connection

    def patient(self) -> AbstractContextManager[None]:
        """Let single statements take long within a block: what reads or writes the whole log."""
        return nullcontext()

    @abstractmethod
    def writing(self) -> AbstractContextManager[Connection]:
        """Give a connection that nobody else writes beside; all is stored at the end, or
        nothing.
        """

    def written_by_others(self) -> int:
        """Return a number that changes when anyone but this store has written; at one moment it is
        asked for once.
        """
        if not (self._at_one_moment and self._asked):
            with self.glance() as connection:
                said = self._others(connection)
            if said != self.known_of_others:
                self.known_of_others, self.shelves = said, None
            self._asked = True
        return self.known_of_others

    @abstractmethod
    def _others(self, connection: Connection) -> int:
        """Ask for that number."""

    @abstractmethod
    def explained(self) -> AbstractContextManager[None]:
        """Run a block; whatever the store says is wrong is raised as Refused."""

    def reach_again(self) -> None:  # noqa: B027 - a file is never out of reach
        """Connect anew after the connection was lost."""

    def survey(self) -> None:  # noqa: B027 - a file has its rows by its indexes, however many
        """Have the rows counted anew after many came in, for what plans by their number."""

    def shut(self) -> None:
        """Let the store go."""
        with self.explained():
            self._connection.close()

    @contextmanager
    def _transaction(self, *begin: str) -> Iterator[Connection]:
        """Run a block in the transaction that the statements `begin` open."""
        # The driver is in autocommit mode and never begins by itself, so that DDL rolls back too.
        with self.explained():
            try:
                with self._connection.begin():
                    for statement in begin:
                        self._connection.exec_driver_sql(statement)
                    yield self._connection
            except BaseException:
                # A COMMIT that fails, on a full disk for one, leaves the transaction open; a
                # connection that was lost has none.
                if not self._connection.invalidated:
                    self._connection.connection.rollback()
                raise
