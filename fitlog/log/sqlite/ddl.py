"""How a new log is laid out in SQLite: commented tables, indexes, and triggers that make it
append-only.
"""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Table
from sqlalchemy.dialects import sqlite
from sqlalchemy.schema import CreateTable

from .. import layout
from ..layout import APPEND_ONLY, CATALOGUE, INDEXED, KIND_OF, ONLY, USED_BY, exists, same
from . import header


def statements() -> Iterator[str]:
    """Yield the statements that lay out an empty log; run them in one transaction."""
    for table in (*CATALOGUE, *APPEND_ONLY):
        yield create(table)
        yield _refuse(
            table.name, "overwrite", "INSERT", exists(f"{table.name} WHERE {same(table)}")
        )
    for table in APPEND_ONLY:
        yield _refuse(table.name, "update", "UPDATE", "1")
        yield _refuse(table.name, "delete", "DELETE", "1")
    for name, kind in KIND_OF.items():
        wrong = f"(SELECT kind FROM entry WHERE id = NEW.entry) IS NOT '{kind}'"
        yield _refuse(name, "kind", "INSERT", wrong, f"its entry is no {kind}")
    for name, users in USED_BY.items():
        yield _refuse(
            name, "in_use", "DELETE", " OR ".join(map(exists, users)), "the log refers to it"
        )
    yield "CREATE UNIQUE INDEX verdict_of_aspect ON verdict (cut, aspect) WHERE aspect <> 'fault'"
    yield "CREATE UNIQUE INDEX entry_of_key ON entry (key)"
    yield from (f"CREATE INDEX {index}" for index in INDEXED)
    yield header.OURS
    yield header.numbered(layout.VERSION)


def create(table: Table) -> str:
    """Return the CREATE statement of `table` with the meaning of the table and of every column kept
    in it.
    """
    dialect = sqlite.dialect()
    sql = str(CreateTable(table).compile(dialect=dialect)).strip()
    for column in table.columns:
        start = f"\n\t{dialect.identifier_preparer.format_column(column)} "
        sql = sql.replace(start, f"\n\t-- {column.comment}{start}", 1)
    return sql.replace("(\n", f"(\n\t-- {table.comment}\n", 1) + " STRICT"


def _refuse(table: str, name: str, event: str, when: str, why: str = ONLY) -> str:
    return (
        f"CREATE TRIGGER {table}_no_{name} BEFORE {event} ON {table} WHEN {when} "
        f"BEGIN SELECT RAISE(ABORT, '{why}'); END"
    )
