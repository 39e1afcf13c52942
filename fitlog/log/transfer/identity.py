"""What makes a row of another log the same as one that is here, and what a merge has to say of
itself.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left
from collections import defaultdict
from dataclasses import dataclass, field

from sqlalchemy import (
    Column,
    Connection,
    FromClause,
    Integer,
    MetaData,
    Table,
    Text,
    insert,
    literal,
    select,
    union_all,
)

from ..schema import ADVICE, ENTRY
from .bulk import PARTS, Values

# Columns that say where a row lies, not what it says: numbers that a merge gives anew.
PLACES = frozenset(
    (
        "id",
        "entry",
        "cut",
        "advice",
        "piece",
        "setup",
        "bit_id",
        "stock_id",
        "pin_stock_id",
        "machine_id",
        "digest",
        "role",
    )
)


@dataclass
class Merged:
    """What a merge did: rows added and rows found by kind, what catalogue names became, what was
    left out and why.
    """

    added: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    found: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    renamed: list[tuple[str, str, str]] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    setups: list[int] = field(default_factory=list)


class Numbers:
    """What the numbers of rows became: two columns of eight bytes, looked up by halving; 0 for what
    was left out.
    """

    def __init__(self, what: str) -> None:
        self.what, self._old, self._new = what, array("q"), array("q")

    def add(self, old: int, new: int) -> None:
        """Keep a pair; raises ValueError unless the old numbers come in rising order."""
        if self._old and old <= self._old[-1]:
            raise ValueError(f"{self.what} {old} comes after {self.what} {self._old[-1]}")
        self._old.append(old)
        self._new.append(new)

    def get(self, old: int) -> int:
        """Return what a number became; raises ValueError for one that did not come."""
        at = bisect_left(self._old, old)
        if at == len(self._old) or self._old[at] != old:
            raise ValueError(f"it refers to {self.what} {old}, which is not in the file before it")
        return self._new[at]


def moments(connection: Connection) -> FromClause:
    """Return what finds entries and advices by their moment: a table of this session alone; on a
    server, whose roles have none, the tables themselves.
    """
    if connection.dialect.name != "sqlite":
        both = ((k, t.c) for k, t in (("entry", ENTRY), ("advice", ADVICE)))
        found = (select(literal(k).label("kind"), c.at, c.id.label("row")) for k, c in both)
        return union_all(*found).subquery("moment_here")
    table = Table(
        "moment_here",
        MetaData(),
        Column("kind", Text),
        Column("at", Text),
        Column("row", Integer),
        prefixes=["TEMPORARY"],
    )
    table.create(connection)
    for kind, of in (("entry", ENTRY), ("advice", ADVICE)):
        rows = select(literal(kind), of.c.at, of.c.id)
        connection.execute(insert(table).from_select(["kind", "at", "row"], rows))
    connection.exec_driver_sql("CREATE INDEX moment_here_at ON moment_here (at)")
    return table


def content(row: Values, back: int | None) -> tuple[object, ...]:
    """Return what an entry says, without the numbers that say where it lies. back: the entry that
    it takes or brings back.
    """
    key = PARTS[row["kind"]][0] if row["kind"] in PARTS else None
    within = row[key] if key else {}
    lists = tuple(
        tuple(sorted(_said(one) for one in within.get(name, ())))
        for name in ("verdicts", "readings")
    )
    return row["kind"], row["at"], " ".join(row["by"].split()), _said(within), lists, back


def _said(row: Values) -> tuple[tuple[str, str], ...]:
    """Return the columns of a row that say something, in a form that can be ordered and
    compared.
    """
    kept = (
        (k, v)
        for k, v in row.items()
        if k not in PLACES and k not in ("verdicts", "readings", "retracted", "redone")
    )
    return tuple(sorted((k, _plain(v)) for k, v in kept))


def _plain(value: object) -> str:
    """Return a value in the words that all its spellings have: names of an object in any order, a
    number with or without its .0, text with any space.
    """
    if isinstance(value, dict):
        return repr(sorted((name, _plain(one)) for name, one in value.items()))
    if isinstance(value, int) and not isinstance(value, bool):
        return repr(float(value))
    return repr(" ".join(value.split()) if isinstance(value, str) else value)
