"""What is read back from the log of many set-ups at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Connection, Select, func, select

from ..domain import SetUp
from ..texts import tell
from . import entries, reading, recent, trouble
from .engine import Store
from .schema import ENTRY, SETUP, TRIAL_CUT
from .shelf import Shelves, shelves


class LookBack:
    """Sets of set-ups. Every method is one transaction, but for `every`, which takes some set-ups
    at a time.
    """

    _store: Store

    def setups(
        self,
        *,
        bit: str | None = None,
        stock: str | None = None,
        limit: int | None = None,
        before: int | None = None,
        ended: bool | None = None,
    ) -> list[SetUp]:
        """Return the set-ups whose start stands, newest first; `stock` is that of either board.

        limit: so many at most.  before: only smaller numbers.  ended: only those, or only the open
        ones.

        Raises Refused: unknown-name for a bit or stock that is not in the catalogue.
        """
        with self._store.reading() as connection:
            there = self._shelves(connection)
            wanted: list[Any] = [] if bit is None else [SETUP.c.bit_id == there.bit(bit)[0]]
            if before is not None:
                wanted.append(SETUP.c.id < before)
            if ended is not None:
                wanted.append(~entries.IS_OPEN if ended else entries.IS_OPEN)
            if stock is None:
                return self._load(connection, recent.newest(*wanted, most=limit))
            boards = recent.of_either_board(there.stock(stock)[0], *wanted, most=limit)
            return self._load(connection, boards)

    def finished(
        self,
        *,
        bit: str,
        machine: str | None,
        stocks: Sequence[str],
        people: Iterable[str],
        before: int | None = None,
        newest: int | None = None,
        pieces: int | None = None,
    ) -> list[SetUp]:
        """Return the finished set-ups with the bit, at the machine, in a species of `stocks` or by
        one of `people`.

        Oldest first.  machine None: those without a machine.  stocks: of the tail board, then the
        pin board.  before: only smaller numbers.  newest: so many of each of these, and of the
        repeats with the bit and both stocks; None: all. pieces: only so many of the newest pieces
        of each; None: all.  Raises Refused: unknown-name.
        """
        with self._store.reading() as connection:
            there = self._shelves(connection)
            at, found = there.machine(machine), [there.stock(name) for name in stocks]
            kinds = {stock.species.casefold() for _, stock in found}
            of_each = recent.finished(
                bit=there.bit(bit)[0],
                machine=at,
                boards=(found[0][0], found[-1][0]),
                woods=[n for n, s in there.stocks.items() if s.species.casefold() in kinds],
                people=sorted(people),
                before=before,
                most=newest,
            )
            return self._load(connection, of_each, pieces)[::-1]

    def every(self) -> Iterator[SetUp]:
        """Yield all set-ups whose start stands, oldest first, some at a time: memory stays bounded
        however long the log.
        """
        with self._store.reading() as connection:
            numbers = list(connection.execute(recent.newest()).scalars())[::-1]
        for start in range(0, len(numbers), reading.BATCH):
            with self._store.reading() as connection:
                found = self._load(connection, numbers[start : start + reading.BATCH])
            yield from reversed(found)

    def finished_by(self, person: str, newest: int | None = None) -> list[SetUp]:
        """Return the finished set-ups of which a person cut a piece, oldest first; `newest`: only
        so many.
        """
        with self._store.reading() as connection:
            return self._load(connection, recent.cut_by(person, most=newest))[::-1]

    def finished_with(
        self, bit: str, newest: int | None = None, pieces: int | None = None
    ) -> list[SetUp]:
        """Return the newest finished set-ups of a bit and the newest of all, oldest first; None:
        all. pieces: as `finished`.
        """
        with self._store.reading() as connection:
            own = SETUP.c.bit_id == self._shelves(connection).bit(bit)[0]
            found = (
                recent.newest(*which, entries.IS_FINISHED, most=newest) for which in ((own,), ())
            )
            return self._load(connection, recent.any_of(*found), pieces)[::-1]

    def joints_cut(self, bit: str) -> int:
        """Return how many joints of real boards were cut with a bit since it was last sharpened, as
        far as they were counted: of each set-up the most. Raises Refused: unknown-name.
        """
        with self._store.reading() as connection:
            number, item = self._shelves(connection).bit(bit)
            wanted = (
                select(func.max(TRIAL_CUT.c.after))
                .join(ENTRY, ENTRY.c.id == TRIAL_CUT.c.entry)
                .join(SETUP, SETUP.c.id == ENTRY.c.setup)
                .where(SETUP.c.bit_id == number, SETUP.c.sharpenings == item.sharpenings)
                .where(TRIAL_CUT.c.after.is_not(None), entries.NOT_UNDONE, entries.LIVE)
                .group_by(SETUP.c.id)
            )
            return sum(connection.execute(wanted).scalars())

    def count_finished(self) -> int:
        """Return how many set-ups are finished."""
        with self._store.reading() as connection:
            return recent.count(connection)

    def people(self) -> list[str]:
        """Return everybody who has logged a cut, in order."""
        with self._store.reading() as connection:
            return recent.people(connection)

    def open_setups(self, bit: str) -> list[SetUp]:
        """Return the set-ups of a bit that are neither ended nor undone. Raises Refused:
        unknown-name.
        """
        with self._store.reading() as connection:
            number = self._shelves(connection).bit(bit)[0]
            return self._load(connection, recent.newest(SETUP.c.bit_id == number, entries.IS_OPEN))

    @contextmanager
    def at_one_moment(self) -> Iterator[None]:
        """Run a block in which everything is read as it is at one moment, and the catalogue once;
        nothing is written in it.
        """
        with self._store.reading():
            yield

    def _shelves(self, connection: Connection) -> Shelves:
        """Return the catalogue at the moment that is being read."""
        if not isinstance(self._store.shelves, Shelves):
            self._store.shelves = shelves(connection)
        return self._store.shelves

    def _load(
        self,
        connection: Connection,
        wanted: Select[Any] | Sequence[int],
        pieces: int | None = None,
        by: str | None = None,
    ) -> list[SetUp]:
        try:
            return reading.load(connection, self._shelves(connection), wanted, pieces, by)
        except KeyError as error:  # written past the foreign keys
            why = tell("a set-up refers to row {number}, which is not there", number=str(error))
            raise trouble.damaged(self._store.where, why) from error
