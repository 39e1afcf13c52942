"""The door that every row comes in by when the log is read: each value is of its column's type, and
none is missing, which a database whose file was damaged no longer promises.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypeVar

from sqlalchemy import Boolean, Integer, Row, Table
from sqlalchemy.types import REAL

from ..errors import Refused
from ..texts import tell
from .columns import Members

Rows = TypeVar("Rows", bound=Sequence[Any])  # rows, whose columns no type tells
Types = tuple[type, ...]
# By the names of columns and where they are from: what rows of sound types have been seen, so that
# nearly every row takes one look.
_SEEN: dict[tuple[tuple[str, ...], tuple[str, ...]], set[Types]] = {}


def sound(rows: Rows, what: str, *tables: Table) -> Rows:
    """Return the rows of a query as they are; refuse ("damaged-log") the first of which a value
    cannot stand in its column. what: one of them, as a sentence names it before its number.

    tables: where the columns are from, the first that has one of a name; what is in none is
    computed and not looked at.
    """
    if rows:
        seen = _seen(rows[0], tables)
        for row in rows:
            if tuple(map(type, row)) not in seen and (damage := fault(row, what, *tables)):
                raise damage
    return rows


def fault(row: Row[Any], what: str, *tables: Table) -> Refused | None:
    """Return the refusal of a row as `sound` has it, None for a sound one."""
    kinds = tuple(map(type, row))
    seen = _seen(row, tables)
    if kinds in seen:
        return None
    for name, value in row._mapping.items():
        column = next((table.c[name] for table in tables if name in table.c), None)
        if column is None or (value is None and column.nullable):
            continue
        if not isinstance(value, _type(column.type)):
            number = row._mapping.get("id") or row._mapping.get("entry")
            shown = tell("missing") if value is None else repr(value)[:40]
            return Refused(
                "damaged-log",
                "{what} of the log makes no sense: {reason}",
                "look with fitlog log health, then restore your latest backup",
                what=tell("{what} {number}", what=what, number=number),
                reason=tell("its {column} is {shown}", column=name, shown=shown),
            )
    seen.add(kinds)
    return None


def _seen(row: Row[Any], tables: tuple[Table, ...]) -> set[Types]:
    return _SEEN.setdefault((row._fields, tuple(table.name for table in tables)), set())


def _type(sql: object) -> type | tuple[type, ...]:
    if isinstance(sql, Members):
        return dict
    if isinstance(sql, REAL):
        return float, int
    return int if isinstance(sql, Integer | Boolean) else str
