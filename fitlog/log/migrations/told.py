"""What the scripts of `versions` share: changes that keep the meaning of every column in the
schema.
"""

from __future__ import annotations

import re
from typing import Any

from alembic import op
from sqlalchemy import Column, Connection
from sqlalchemy.schema import CreateColumn

from ...texts import tell


def add(table: str, *columns: Column[Any]) -> None:
    """Add columns to a table; SQLite keeps a column's meaning only as a comment inside the
    statement.
    """
    connection = op.get_bind()
    for column in columns:
        if connection.dialect.name != "sqlite":
            op.add_column(table, column)
            continue
        name, rest = str(CreateColumn(column).compile(dialect=connection.dialect)).split(" ", 1)
        connection.exec_driver_sql(
            f"ALTER TABLE {table} ADD COLUMN {name} /* {column.comment} */ {rest}"
        )


def make(statements: str) -> None:
    """Run SQL statements that blank lines separate."""
    for statement in re.split(r"\n\s*\n", statements.strip()):
        op.get_bind().exec_driver_sql(statement, execution_options={"no_parameters": True})


def reword(table: str, *parts: tuple[str, str]) -> None:
    """Make a table anew in SQLite, with the same rows, each part (old, new) of its CREATE statement
    replaced.

    For what ALTER TABLE cannot change: a CHECK, the meaning of a column. Every row is checked
    against the new words. The steps are those of https://www.sqlite.org/lang_altertable.html,
    section 7; the caller has switched foreign keys off. Raises ValueError unless each old part is
    there once.
    """
    connection = op.get_bind()
    create, kept = _sql(connection, table)
    anew = re.sub(rf'^CREATE TABLE "?{table}"? ', f"CREATE TABLE {table}_anew ", create)
    for old, new in parts:
        if anew.count(old) != 1:
            raise ValueError(
                tell("the table {table} does not say {old!r} once", table=table, old=old)
            )
        anew = anew.replace(old, new)
    _replace(table, anew, f"SELECT * FROM {table}", kept)


def remake(table: str, create: str, values: dict[str, str]) -> None:
    """Make a table anew in SQLite by its CREATE statement `create`, its rows from those of the old
    one. values: for each column what it takes of an old row, in SQL.

    For what `reword` cannot: columns that become others. Indexes and triggers stay.
    """
    _, kept = _sql(op.get_bind(), table)
    anew = create.replace(f"CREATE TABLE {table} (", f"CREATE TABLE {table}_anew (", 1)
    rows = f"({', '.join(values)}) SELECT {', '.join(values.values())} FROM {table}"
    _replace(table, anew, rows, kept)


def _replace(table: str, create: str, rows: str, kept: list[str]) -> None:
    connection = op.get_bind()
    connection.exec_driver_sql(
        "PRAGMA legacy_alter_table = ON"
    )  # what refers to the table goes on doing so by its name
    try:
        for statement in (
            create,
            f"INSERT INTO {table}_anew {rows}",
            f"DROP TABLE {table}",
            f"ALTER TABLE {table}_anew RENAME TO {table}",
            *kept,
        ):
            connection.exec_driver_sql(statement)
    finally:
        connection.exec_driver_sql("PRAGMA legacy_alter_table = OFF")


def _sql(connection: Connection, table: str) -> tuple[str, list[str]]:
    """Return the statement that made a table, and those that made its indexes and triggers."""
    found = connection.exec_driver_sql(
        "SELECT type, sql FROM sqlite_master WHERE tbl_name = ? AND sql IS NOT NULL ORDER BY rowid",
        (table,),
    ).all()
    return next(row.sql for row in found if row.type == "table"), [
        row.sql for row in found if row.type != "table"
    ]
