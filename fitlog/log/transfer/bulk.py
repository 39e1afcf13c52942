"""The rows of a log in bulk: read out in the order of the log whatever their number, and put in by
the thousand.

A row is (kind, columns). The catalogue, the sharpenings and the preferences come first; then the
entries in their order, each with everything about it inside, and each advice right after the entry
that was the newest when it was shown. Memory stays the same however long the log is: every table is
read once, side by side, a thousand rows at a time.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Generator, Iterator, Sequence
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Connection,
    Select,
    Table,
    func,
    literal,
    select,
    text,
)

from ...errors import Refused
from .. import door
from ..entries import HIGHEST
from ..layout import CATALOGUE
from ..schema import (
    ADVICE,
    BIT,
    ENTRY,
    FOUND,
    MACHINE,
    NOTE,
    PREFERENCE,
    READING,
    REDO,
    RETRACTION,
    SETUP,
    SHARPENING,
    STOCK,
    TRIAL_CUT,
    VERDICT,
)
from .digesting import MEASURED, PARTS, SAID, Values

Item = tuple[str, Values]
BATCH = 1000
FIRST = (*CATALOGUE, SHARPENING, PREFERENCE)
# The order in which tables can be filled without a reference to what is not there yet.
FILLED = (
    BIT,
    STOCK,
    MACHINE,
    SHARPENING,
    PREFERENCE,
    ENTRY,
    SETUP,
    ADVICE,
    TRIAL_CUT,
    VERDICT,
    READING,
    FOUND,
    NOTE,
    RETRACTION,
    REDO,
)

# The guards' queries are planned while the tables may still be empty, and the plans kept: one that
# reads a whole table would do so for every row that follows. (A plan forced upon it is no reason to
# compile it.)
_BY_INDEX = "SELECT set_config('enable_seqscan', 'off', true), set_config('jit', 'off', true)"


def _refuse(damage: Refused) -> None:
    raise damage


_STRAY = "a row of {table} belongs to no entry of its kind"
_HALF = "entry {number} is a {kind} without what belongs to it"
_LOOK = "look with fitlog log health, then restore your latest backup"
Told = Callable[[Refused], object]  # what is done about a row that has no place


def everything(connection: Connection, told: Told = _refuse) -> Generator[Item, None, None]:
    """Yield every row of a log in the order of the log; `told` as `entries` has it."""
    for table in FIRST:
        for row in _rows(connection, table, select(table).order_by(table.c.id), told):
            yield table.name, row
    advices = select(ADVICE).order_by(ADVICE.c.id)
    shown = _Waiting(_rows(connection, ADVICE, advices, told), "entry")
    for entry in entries(connection, told=told):
        yield "entry", entry
        for row in shown.until(entry["id"]):
            yield "advice", row
    for row in shown.until(HIGHEST):
        yield "advice", row


def entries(
    connection: Connection, numbers: Sequence[int] | None = None, told: Told = _refuse
) -> Iterator[Values]:
    """Yield the entries in the order of the log with what belongs to them, all or those of
    `numbers`.

    told: is called for an entry without what belongs to it, and for what belongs to none; what it
    does not raise ("damaged-log") is left out.
    """

    def chosen(column: ColumnElement[int]) -> ColumnElement[bool]:
        return literal(1) == 1 if numbers is None else column.in_(numbers)

    def beside(table: Table, column: str, *order: str) -> _Waiting:
        wanted = (
            select(table)
            .where(chosen(table.c[column]))
            .order_by(*(table.c[name] for name in (column, *order)))
        )
        return _Waiting(_rows(connection, table, wanted, told), column)

    def belonging(waiting: _Waiting, what: str, number: int) -> Iterator[Values]:
        for one in waiting.until(number):
            if one[waiting.column] == number:
                yield one
            else:
                told(Refused("damaged-log", _STRAY, _LOOK, table=what))

    parts = {kind: beside(table, "entry") for kind, (_, table, _) in PARTS.items()}
    said = {key: (beside(table, "cut", "id"), table.name) for key, table in (SAID, MEASURED)}
    every = select(ENTRY).where(chosen(ENTRY.c.id)).order_by(ENTRY.c.id)
    for row in _rows(connection, ENTRY, every, told):
        number, kind = row["id"], row["kind"]
        if kind in PARTS:
            key, table, known = PARTS[kind]
            found = list(belonging(parts[kind], table.name, number))
            if found and found[0].get("id", row["setup"]) == row["setup"]:
                row[key] = {name: value for name, value in found[0].items() if name not in known}
            else:
                told(Refused("damaged-log", _HALF, _LOOK, number=number, kind=kind))
        if "cut" in row:
            for key, (waiting, of) in said.items():
                of_it = belonging(waiting, of, number)
                row["cut"][key] = [{k: v for k, v in part.items() if k != "cut"} for part in of_it]
        yield row
    left = [(parts[kind], table.name) for kind, (_, table, _) in PARTS.items()]
    for waiting, name in (*left, *said.values()):
        for _ in belonging(waiting, name, HIGHEST):
            pass


class _Waiting:
    """Rows in the order of a column, taken as long as they belong to what is looked at."""

    def __init__(self, rows: Iterator[Values], column: str) -> None:
        self._rows, self.column = rows, column
        self._next = next(rows, None)

    def until(self, number: int) -> Iterator[Values]:
        """Yield rows up to a number in their column; one with none at all, as only a damaged log
        has it, comes at once.
        """
        while self._next is not None:
            place = self._next[self.column]
            if isinstance(place, int) and place > number:
                return
            row, self._next = self._next, next(self._rows, None)
            yield row


def _rows(
    connection: Connection, table: Table, wanted: Select[Any], told: Told
) -> Iterator[Values]:
    with connection.execute(wanted, execution_options={"yield_per": BATCH}) as found:
        for row in found:
            if damage := door.fault(row, table.name, table):
                told(damage)
            # Yes and no are 1 and 0 in every export, whatever the database has for them; whose role
            # it was, only the server says that has it.
            yield {
                name: int(value) if value is True or value is False else value
                for name, value in row._mapping.items()
                if name != "role"
            }


def insert(connection: Connection, rows: dict[str, list[Values]]) -> None:
    """Store rows by the name of their table, references first."""
    on_server = connection.dialect.name != "sqlite"
    if on_server:
        connection.exec_driver_sql(_BY_INDEX)
    for table in FILLED:
        found = rows.get(table.name)
        if found:
            if on_server:
                _insert_at_once(connection, table, found)
            else:
                connection.execute(table.insert(), found)


def _insert_at_once(connection: Connection, table: Table, rows: list[Values]) -> None:
    """Store rows with one statement: a server spends more on one for each row than on all its
    guards, which look at each row all the same, after those before it.
    """
    dialect = connection.dialect
    columns = [column for column in table.columns if column.name in rows[0]]
    named = {dialect.identifier_preparer.format_column(column): column for column in columns}
    names = ", ".join(named)
    typed = ", ".join(f"{name} {column.type.compile(dialect)}" for name, column in named.items())
    put = (
        f"INSERT INTO {table.name} ({names}) "
        f"SELECT {names} FROM json_to_recordset(CAST(:rows AS json)) AS came({typed})"
    )
    # An object goes into a column of text as it stands here, which is as one row alone puts it in.
    connection.execute(text(put), {"rows": json.dumps(rows, ensure_ascii=False)})


def is_empty(connection: Connection) -> bool:
    """Tell whether a log holds no row at all."""
    return all(connection.execute(select(table).limit(1)).first() is None for table in FILLED)


def keeps_numbers(connection: Connection) -> bool:
    """Tell whether rows may be put in by numbers of their own: on a server by the owner alone."""
    owns = "SELECT pg_has_role(relowner, 'USAGE') FROM pg_class WHERE oid = 'entry'::regclass"
    if connection.dialect.name == "sqlite":
        return True
    return bool(connection.exec_driver_sql(owns).scalar_one())


def highest(connection: Connection, table: Table) -> int:
    """Return the largest number that a row of `table` has, 0 without rows."""
    return int(connection.execute(select(func.coalesce(func.max(table.c.id), 0))).scalar_one())
