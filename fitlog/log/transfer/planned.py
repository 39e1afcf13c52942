"""What a merge is to store: put aside while others write, and stored in one turn, if nothing came
meanwhile that it should have known of.

What came and is about other set-ups only moves the numbers of what is put in after it.
"""

from __future__ import annotations

import pickle
from collections.abc import Sequence
from functools import cache
from typing import IO

from sqlalchemy import Column, Connection, Table, select, update

from ..layout import CATALOGUE
from ..schema import ADVICE, BIT, ENTRY, PREFERENCE, READING, SETUP, SHARPENING, VERDICT
from . import bulk, digesting
from .digesting import Values

NUMBERED = (SETUP, SHARPENING, PREFERENCE, ENTRY, ADVICE, VERDICT, READING)
_MOVABLE = (ENTRY, ADVICE, VERDICT, READING)


class MovedOn(Exception):
    """The log is no longer the one that was planned for: plan again."""


class Planned:
    """Rows in batches, in the order in which they can be put in. last: the number that the newest
    row of each table had; edited: bits that are there, as they will be.
    """

    def __init__(self, connection: Connection, aside: IO[bytes]) -> None:
        self._aside, self._batches = aside, 0
        self.last = {table.name: bulk.highest(connection, table) for table in NUMBERED}
        self.edited: list[Values] = []
        self._digests, self._catalogue = digesting.heads(connection), _catalogue(connection)
        self._digest = dict(self._digests)

    def put(self, rows: dict[str, list[Values]]) -> None:
        """Put rows aside by the name of their table, each with its digest, and forget them."""
        digesting.give(self._digest, rows)
        pickle.dump(dict(rows), self._aside, pickle.HIGHEST_PROTOCOL)
        self._batches += 1
        rows.clear()

    def store(self, connection: Connection) -> None:
        """Put all of it in, in a turn to write; raises MovedOn."""
        came = _Came(connection, self.last)
        if _catalogue(connection) != self._catalogue:
            raise MovedOn
        digest = digesting.heads(connection)
        chained_on = digest == self._digests
        self._aside.seek(0)
        for _ in range(self._batches):
            rows = pickle.load(self._aside)
            if came.any or not chained_on:
                came.move(rows)
                digesting.give(digest, rows)
            bulk.insert(connection, rows)
        for bit in self.edited:
            connection.execute(update(BIT).where(BIT.c.id == bit["id"]).values(bit))


class _Came:
    """What others wrote since the `last` rows; raises MovedOn for what is more than entries and
    advices of set-ups that were there.
    """

    def __init__(self, connection: Connection, last: dict[str, int]) -> None:
        now = {table.name: bulk.highest(connection, table) for table in NUMBERED}
        self._by = {name: now[name] - last[name] for name in now if now[name] != last[name]}
        self._last = last
        if not self._by.keys() <= {table.name for table in _MOVABLE}:
            raise MovedOn
        self._moments, self._keys, self._setups = set[str](), set[str](), set[int]()
        if not self.any:
            return
        columns = (ENTRY.c.kind, ENTRY.c.setup, ENTRY.c.at, ENTRY.c.key)
        for row in connection.execute(select(*columns).where(ENTRY.c.id > last["entry"])):
            self._moments.add(row.at)
            self._keys.add(row.key)
            if row.kind != "choose":
                self._setups.add(row.setup)
        shown = select(ADVICE.c.at).where(ADVICE.c.id > last["advice"])
        self._moments.update(connection.execute(shown).scalars())
        self._keys.discard(None)

    @property
    def any(self) -> bool:
        """Whether anything came at all."""
        return bool(self._by)

    def move(self, rows: dict[str, list[Values]]) -> None:
        """Give rows the numbers after what came; raises MovedOn where that is about the same."""
        for row in rows.get("entry", ()):
            if row["setup"] in self._setups or row["key"] in self._keys:
                raise MovedOn
        for name in ("entry", "advice"):
            if any(row["at"] in self._moments for row in rows.get(name, ())):
                raise MovedOn
        for table in bulk.FILLED:
            columns = [(name, of) for name, of in _numbers(table) if of in self._by]
            for row in rows.get(table.name, ()) if columns else ():
                for name, of in columns:
                    if row[name] is not None and row[name] > self._last[of]:
                        row[name] += self._by[of]


@cache
def _numbers(table: Table) -> tuple[tuple[str, str], ...]:
    """Return the columns of a table that hold numbers of rows, each with the table that they are
    of.
    """
    return tuple(
        (column.name, _of(column))
        for column in table.columns
        if column.name == "id" or column.foreign_keys
    )


def _of(column: Column[object]) -> str:
    for link in column.foreign_keys:
        return _of(link.column)
    return str(column.table.name)


def _catalogue(connection: Connection) -> list[Sequence[object]]:
    """Return what tells the catalogue from any other."""
    return [
        tuple(row)
        for table in CATALOGUE
        for row in connection.execute(select(table.c.id, table.c.digest).order_by(table.c.id))
    ]
