"""The rows of a log in bulk: read out in the order of the log whatever their number, and put in by
the thousand.

A row is (kind, columns). The catalogue, the sharpenings and the preferences come first; then the
entries in their order, each with everything about it inside, and each advice right after the entry
that was the newest when it was shown. Memory stays the same however long the log is: every table is
read once, side by side, a thousand rows at a time.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager
from datetime import datetime
from typing import Any

from sqlalchemy import (
    Boolean,
    ColumnElement,
    Connection,
    Row,
    Select,
    Table,
    func,
    literal,
    or_,
    select,
)

from ...errors import Refused
from .. import digests
from ..engine import Store
from ..entries import NOT_UNDONE
from ..layout import CATALOGUE
from ..log import Log
from ..rows import moment_text
from ..schema import (
    ADVICE,
    BIT,
    ENTRY,
    FOUND,
    MACHINE,
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
from ..shelf import BITS, STOCKS

Values = dict[str, Any]
Item = tuple[str, Values]
BATCH = 1000
CHAINED = (SHARPENING, PREFERENCE, ENTRY, ADVICE)  # each row's digest follows the one before
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
    RETRACTION,
    REDO,
)
# What an entry carries inside: its key, the table, the columns that say what stands around it
# anyway.
PARTS = {
    "start": ("started", SETUP, frozenset(("id", "entry"))),
    "cut": ("cut", TRIAL_CUT, frozenset(("entry",))),
    "found": ("found", FOUND, frozenset(("entry",))),
    "retract": ("takes_back", RETRACTION, frozenset(("entry",))),
    "redo": ("brings_back", REDO, frozenset(("entry",))),
}
SAID, MEASURED = ("verdicts", VERDICT), ("readings", READING)


class _Joined(Store):
    """A store within the transaction of another: all that is done through it is stored together, or
    not at all.
    """

    def __init__(self, around: Store, connection: Connection) -> None:
        self.where, self.path, self.read_only = around.where, around.path, around.read_only
        self._around, self._connection = around, connection

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give the connection of the transaction, in which much may have been written since."""
        self.shelves = None
        yield self._connection

    writing = glance = reading

    def _others(self, connection: Connection) -> int:
        return 0  # nobody else writes meanwhile

    def explained(self) -> AbstractContextManager[None]:
        """Explain as the store around does."""
        return self._around.explained()

    def shut(self) -> None:
        """Leave it to the store around."""


class Undo(Exception):
    """Raised in `together` to have nothing stored."""


@contextmanager
def together(log: Log) -> Iterator[tuple[Log, Connection]]:
    """Give the log within one transaction, and its connection; raise `Undo` inside for nothing to
    be stored.
    """
    try:
        with log._store.patient(), log._store.writing() as connection:
            yield Log(_Joined(log._store, connection)), connection
    except Undo:
        return
    finally:
        log._store.shelves = None


def setup_numbers(
    log: Log,
    *,
    bit: str | None = None,
    stock: str | None = None,
    joint: str | None = None,
    at: datetime | None = None,
) -> list[int]:
    """Return the numbers of the set-ups whose start stands, oldest first; `stock` is that of either
    board.

    at: only those that started at that moment. Raises Refused: unknown-name.
    """
    wanted = select(SETUP.c.id).where(NOT_UNDONE)
    with log._store.reading() as connection:
        if bit is not None:
            wanted = wanted.where(SETUP.c.bit_id == BITS.find(connection, bit)[0])
        if stock is not None:
            number = STOCKS.find(connection, stock)[0]
            wanted = wanted.where(or_(SETUP.c.stock_id == number, SETUP.c.pin_stock_id == number))
        if joint is not None:
            wanted = wanted.where(SETUP.c.joint == joint)
        if at is not None:
            then = select(ENTRY.c.id).where(ENTRY.c.kind == "start", ENTRY.c.at == moment_text(at))
            wanted = wanted.where(SETUP.c.entry.in_(then))
        return [int(number) for number in connection.execute(wanted.order_by(SETUP.c.id)).scalars()]


@contextmanager
def at_one_moment(log: Log) -> Iterator[Iterator[Item]]:
    """Give every row of the log as it is at this moment, read as they are asked for."""
    with log._store.patient(), log._store.reading() as connection:
        yield everything(connection)


def everything(connection: Connection) -> Iterator[Item]:
    """Yield every row of a log in the order of the log."""
    for table in FIRST:
        for row in _rows(connection, select(table).order_by(table.c.id)):
            yield table.name, row
    shown = _Waiting(_rows(connection, select(ADVICE).order_by(ADVICE.c.id)))
    for entry in entries(connection):
        yield "entry", entry
        for row in shown.until(lambda row, number=entry["id"]: row["entry"] <= number):  # type: ignore[misc]
            yield "advice", row
    for row in shown.until(lambda _: True):
        yield "advice", row


def entries(connection: Connection, numbers: Sequence[int] | None = None) -> Iterator[Values]:
    """Yield the entries in the order of the log with what belongs to them, all or those of
    `numbers`.
    """

    def chosen(column: ColumnElement[int]) -> ColumnElement[bool]:
        return literal(1) == 1 if numbers is None else column.in_(numbers)

    def beside(table: Table, column: str, *order: str) -> _Waiting:
        wanted = (
            select(table)
            .where(chosen(table.c[column]))
            .order_by(*(table.c[name] for name in (column, *order)))
        )
        return _Waiting(_rows(connection, wanted))

    parts = {kind: beside(table, "entry") for kind, (_, table, _) in PARTS.items()}
    said = {key: beside(table, "cut", "id") for key, table in (SAID, MEASURED)}
    for row in _rows(connection, select(ENTRY).where(chosen(ENTRY.c.id)).order_by(ENTRY.c.id)):
        number = row["id"]
        if row["kind"] in PARTS:
            key, _, known = PARTS[row["kind"]]
            found = list(parts[row["kind"]].until(lambda part, n=number: part["entry"] <= n))  # type: ignore[misc]
            if [part["entry"] for part in found] != [number] or found[0].get(
                "id", row["setup"]
            ) != row["setup"]:
                said_ = f"entry {number} is a {row['kind']} without what belongs to it"
                raise Refused(
                    "damaged-log",
                    said_,
                    "look with fitlog log health, then restore your latest backup",
                )
            row[key] = {name: value for name, value in found[0].items() if name not in known}
        if row["kind"] == "cut":
            for key, rows in said.items():
                of_it = rows.until(lambda part, n=number: part["cut"] <= n)  # type: ignore[misc]
                row["cut"][key] = [{k: v for k, v in part.items() if k != "cut"} for part in of_it]
        yield row


class _Waiting:
    """Rows in an order, taken as long as they belong to what is looked at."""

    def __init__(self, rows: Iterator[Values]) -> None:
        self._rows = rows
        self._next = next(rows, None)

    def until(self, belongs: Callable[[Values], bool]) -> Iterator[Values]:
        """Yield rows while they belong."""
        while self._next is not None and belongs(self._next):
            row, self._next = self._next, next(self._rows, None)
            yield row


def _rows(connection: Connection, wanted: Select[Any]) -> Iterator[Values]:
    found: Iterable[Row[Any]] = connection.execute(wanted, execution_options={"yield_per": BATCH})
    for row in found:
        # Yes and no are 1 and 0 in every export, whatever the database has for them; whose role
        # it was, only the server says that has it.
        yield {
            name: int(value) if value is True or value is False else value
            for name, value in row._mapping.items()
            if name != "role"
        }


def said(kind: str, row: Values) -> str:
    """Return what a row says to its digest; an entry with what belongs to it inside."""
    if kind == "advice":
        return digests.advice_said(row)
    key = PARTS[row["kind"]][0] if kind == "entry" and row["kind"] in PARTS else ""
    part = row.get(key, {})
    plain = {name: value for name, value in row.items() if name != key}
    return digests.said_of(plain, part, *(part.get(name, ()) for name, _ in (SAID, MEASURED)))


def _digest(connection: Connection, rows: dict[str, list[Values]]) -> None:
    """Give every row that is to be put in its digest."""
    part = {row["entry"]: row for _, table, _ in PARTS.values() for row in rows[table.name]}
    lists: dict[str, dict[int, list[Values]]] = {
        t.name: defaultdict(list) for t in (VERDICT, READING)
    }
    for name, found in lists.items():
        for row in rows[name]:
            found[row["cut"]].append(row)
    for table in CATALOGUE:
        for row in rows[table.name]:
            row.update(digests.own(row))
    for table in CHAINED:
        before = last_digest(connection, table) if rows[table.name] else ""
        for row in rows[table.name]:
            if table is ENTRY:
                of_it = (lists[t.name][row["id"]] for t in (VERDICT, READING))
                text = digests.said_of(row, part.get(row["id"]), *of_it)
            else:
                text = said(table.name, row)
            before = row["digest"] = digests.chained(before, text)


def last_digest(connection: Connection, table: Table) -> str:
    """Return the digest of the last row of a table, "" without any."""
    last = select(table.c.digest).order_by(table.c.id.desc()).limit(1)
    return str(connection.execute(last).scalar() or "")


def put(connection: Connection, rows: dict[str, list[Values]]) -> None:
    """Store rows by the name of their table, references first, each with its digest, and forget
    them.
    """
    _digest(connection, defaultdict(list, rows))
    for table in FILLED:
        found = rows.get(table.name)
        if found:
            flags = [column.name for column in table.columns if isinstance(column.type, Boolean)]
            for row in found if flags else ():
                row.update({name: bool(row[name]) for name in flags if row.get(name) is not None})
            connection.execute(table.insert(), found)
    rows.clear()


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
