"""Layout 5: a digest over every entry and all that belongs to it, chained; a key by which a writer
finds its entry again; the server's role that wrote it; to whom an advice was shown.

What an older log holds is digested as it stands, and says so ("~"): it is vouched for from here on.
The text of a row and its digest are `digests`', which no later layout changes.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from alembic import op
from sqlalchemy import CheckConstraint, Column, Text

from fitlog.log import digests
from fitlog.log.migrations.told import add, make

revision = "5"
down_revision = "4"

BATCH = 1000
CATALOGUE = ("bit", "stock", "machine")
CHAINED = ("sharpening", "preference", "entry", "advice")
PARTS = {
    "start": "setup",
    "cut": "trial_cut",
    "found": "found",
    "retract": "retraction",
    "redo": "redo",
}
NAME = "length(trim(machine)) BETWEEN 1 AND 60 AND machine NOT LIKE '-%'"
MACHINE = "name of the machine it is for; NULL: not said"
OBJECTS = ("parts", "figures", "settings", "zeros", "advised", "sizes")
SERVER = Path(__file__).with_name("layout_5_server.sql")
Row = dict[str, Any]


def upgrade() -> None:
    """From layout 4."""
    add(
        "entry",
        _word("key", "what its writer calls it, to find it again; NULL: nothing"),
        _word("role", "the server's role that wrote it; NULL: in a file"),
    )
    whom = CheckConstraint("length(by) <= 200")
    add(
        "advice",
        Column("by", Text, whom, comment="to whom; NULL: not known"),
        Column("machine", Text, CheckConstraint(NAME), comment=MACHINE),
    )
    for table in (*CATALOGUE, *CHAINED):
        says = "over the row and what belongs to it, after the one before (SHA-256); ~: made later"
        check = CheckConstraint("length(digest) BETWEEN 64 AND 65")
        add(table, Column("digest", Text, check, comment=says))
    make("CREATE UNIQUE INDEX entry_of_key ON entry (key)")
    if op.get_bind().dialect.name != "sqlite":
        make(SERVER.read_text())
    for table in (*CATALOGUE, *CHAINED):
        with _open_to_change(table):
            _digest(table)


def _word(name: str, says: str) -> Column[Any]:
    check = CheckConstraint(f"length({name}) BETWEEN 1 AND 100")
    return Column(name, Text, check, comment=says)


@contextmanager
def _open_to_change(table: str) -> Iterator[None]:
    """Have a table's guards away for a while."""
    connection = op.get_bind()
    if connection.dialect.name != "sqlite":
        connection.exec_driver_sql(f"ALTER TABLE {table} DISABLE TRIGGER USER")
        yield
        connection.exec_driver_sql(f"ALTER TABLE {table} ENABLE TRIGGER USER")
        return
    guard = connection.exec_driver_sql(
        "SELECT sql FROM sqlite_master WHERE name = ?", (f"{table}_no_update",)
    ).scalar()
    if guard:
        connection.exec_driver_sql(f"DROP TRIGGER {table}_no_update")
    yield
    if guard:
        connection.exec_driver_sql(guard)


def _digest(table: str) -> None:
    """Digest every row of a table in its order, by the thousand."""
    last, before = 0, ""
    while rows := _rows(f"{table} WHERE id > {last} ORDER BY id LIMIT {BATCH}"):
        lists = _belonging(rows) if table == "entry" else {}
        changed = []
        for row in rows:
            if table in CATALOGUE:
                digest = digests.own(row)["digest"]
            elif table == "advice":
                digest = digests.chained(before, digests.advice_said(row))
            else:
                said = digests.said_of(row, *lists.get(row["id"], (None,)))
                digest = digests.chained(before, said)
            before = digests.LATER + digest
            changed.append((before, row["id"]))
        mark = "?" if op.get_bind().dialect.name == "sqlite" else "%s"
        op.get_bind().exec_driver_sql(
            f"UPDATE {table} SET digest = {mark} WHERE id = {mark}", changed
        )
        last = rows[-1]["id"]


def _belonging(entries: list[Row]) -> dict[int, tuple[Any, ...]]:
    """Return what belongs to each of some entries by its number: its part and the lists of that."""
    span = f"BETWEEN {entries[0]['id']} AND {entries[-1]['id']}"
    part = {
        (kind, row["entry"]): row
        for kind, table in PARTS.items()
        for row in _rows(f"{table} WHERE entry {span}")
    }
    lists: dict[tuple[str, int], list[Row]] = defaultdict(list)
    for table in ("verdict", "reading"):
        for row in _rows(f"{table} WHERE cut {span} ORDER BY id"):
            lists[table, row["cut"]].append(row)
    return {
        row["id"]: (
            part.get((row["kind"], row["id"])),
            lists["verdict", row["id"]],
            lists["reading", row["id"]],
        )
        for row in entries
    }


def _rows(what: str) -> list[Row]:
    found = op.get_bind().exec_driver_sql(f"SELECT * FROM {what}").mappings().all()
    return [
        {
            name: json.loads(value) if name in OBJECTS and value is not None else value
            for name, value in row.items()
        }
        for row in found
    ]
