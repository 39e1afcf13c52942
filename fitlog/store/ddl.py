"""How a new log is laid out in SQL: commented tables, indexes, and triggers that make it append-only."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Table
from sqlalchemy.dialects import sqlite
from sqlalchemy.schema import CreateColumn, CreateTable
from sqlmodel import SQLModel

from . import schema

APPLICATION_ID = 0x4669744C  # "FitL" in the file's header: this file is a log of fitlog
VERSION = 2

CATALOGUE = (schema.BIT, schema.STOCK, schema.MACHINE)
APPEND_ONLY = (
    schema.SHARPENING, schema.ENTRY, schema.SETUP, schema.ADVICE, schema.TRIAL_CUT, schema.VERDICT,
    schema.READING, schema.RETRACTION, schema.PREFERENCE,
)  # fmt: skip

# What makes a row the same row. INSERT OR REPLACE would delete it without asking the DELETE trigger.
SAME_ROW = {
    "setup": "id = NEW.id OR entry = NEW.entry",
    "trial_cut": "entry = NEW.entry",
    "verdict": "id = NEW.id OR (cut = NEW.cut AND aspect = NEW.aspect AND aspect <> 'fault')",
    "retraction": "entry = NEW.entry OR retracted = NEW.retracted",
    "bit": "id = NEW.id OR name = NEW.name",
    "stock": "id = NEW.id OR name = NEW.name",
    "machine": "id = NEW.id OR name = NEW.name",
}
KIND_OF = {"setup": "start", "trial_cut": "cut", "retraction": "retract"}
USED_BY = {
    "bit": ("setup WHERE bit_id = OLD.id", "sharpening WHERE bit = OLD.id"),
    "stock": ("setup WHERE OLD.id IN (stock_id, pin_stock_id)",),
    "machine": ("setup WHERE machine_id = OLD.id",),
}
INDEXED = (
    "entry_of_setup ON entry (setup)",
    "advice_of_setup ON advice (setup)",
    "reading_of_cut ON reading (cut)",
    "fault_of_cut ON verdict (cut)",
    "sharpening_of_bit ON sharpening (bit)",
)


def statements() -> Iterator[str]:
    """Yield the statements that lay out an empty log; run them in one transaction."""
    for table in (*CATALOGUE, *APPEND_ONLY):
        yield create(table)
        yield _refuse(table.name, "overwrite", "INSERT", _exists(f"{table.name} WHERE {_same(table)}"))
    for table in APPEND_ONLY:
        yield _refuse(table.name, "update", "UPDATE", "1")
        yield _refuse(table.name, "delete", "DELETE", "1")
    for name, kind in KIND_OF.items():
        wrong = f"(SELECT kind FROM entry WHERE id = NEW.entry) IS NOT '{kind}'"
        yield _refuse(name, "kind", "INSERT", wrong, f"its entry is no {kind}")
    for name, users in USED_BY.items():
        yield _refuse(name, "in_use", "DELETE", " OR ".join(map(_exists, users)), "the log refers to it")
    yield "CREATE UNIQUE INDEX verdict_of_aspect ON verdict (cut, aspect) WHERE aspect <> 'fault'"
    yield from (f"CREATE INDEX {index}" for index in INDEXED)
    yield f"PRAGMA application_id = {APPLICATION_ID}"
    yield f"PRAGMA user_version = {VERSION}"


ADDED = {2: {schema.STOCK: ("moisture", "temperature", "humidity", "sawn"),
             schema.SETUP: ("tails", "spacing", "moisture", "pin_moisture", "scrap_moisture")}}  # fmt: skip


def upgrade(found: int) -> Iterator[str]:
    """Yield the statements that bring a log from layout `found` to this one; run them in one transaction."""
    for version in range(found + 1, VERSION + 1):
        for table, names in ADDED[version].items():
            for name in names:
                yield f"ALTER TABLE {table.name} ADD COLUMN {_column(table, name)}"
        yield f"PRAGMA user_version = {version}"


def _column(table: Table, name: str) -> str:
    """Return the definition of a column with its checks and its meaning, where ALTER TABLE keeps a comment."""
    named, rest = str(CreateColumn(table.c[name]).compile(dialect=sqlite.dialect())).split(" ", 1)
    return f"{named} /* {table.c[name].comment} */ {rest}"


def create(table: Table) -> str:
    """Return the CREATE statement of `table` with the meaning of the table and of every column kept in it."""
    dialect = sqlite.dialect()
    sql = str(CreateTable(table).compile(dialect=dialect)).strip()
    for column in table.columns:
        start = f"\n\t{dialect.identifier_preparer.format_column(column)} "
        sql = sql.replace(start, f"\n\t-- {column.comment}{start}", 1)
    return sql.replace("(\n", f"(\n\t-- {_meaning(table)}\n", 1) + " STRICT"


def _meaning(table: Table) -> str:
    rows = (model for model in SQLModel.__subclasses__() if getattr(model, "__table__", None) is table)
    return str(next(rows).__doc__)


def _same(table: Table) -> str:
    return SAME_ROW.get(table.name, "id = NEW.id")


def _exists(rows: str) -> str:
    return f"EXISTS (SELECT 1 FROM {rows})"


def _refuse(table: str, name: str, event: str, when: str, why: str = "the log is append-only") -> str:
    return (
        f"CREATE TRIGGER {table}_no_{name} BEFORE {event} ON {table} WHEN {when} "
        f"BEGIN SELECT RAISE(ABORT, '{why}'); END"
    )
