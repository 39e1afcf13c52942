"""Layout 4: what a family of joints names itself is kept by its names: settings, figures, what is
known of a machine's parts as JSON objects; aspects, words and readings as text. A cutter may be
straight. A cut may be made again on the end of an earlier piece.

Written out, not taken from `schema`, which goes on changing: the tables are in `layout_4.sql`, what
becomes of a row in `earlier`, which is frozen too. Files and servers have had layout 3.

Python writes the numbers, since SQLite's json_object rounds them. A file is written anew but for
its entries, and keeps the room of the old tables for what comes. 50,000 cuts (234 MB, 448 MB after)
took 23 s with the backup and all checks, on two busy cores; it grows with the log.
"""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

from alembic import op

from fitlog.log.migrations import earlier
from fitlog.log.migrations.told import make, remake

revision = "4"
down_revision = "3"

TABLES = Path(__file__).with_suffix(".sql")
SERVER = Path(__file__).with_name("layout_4_server.sql")


def upgrade() -> None:
    """From layout 3."""
    if op.get_bind().dialect.name != "sqlite":
        make(SERVER.read_text())
        return
    plain = op.get_bind().connection.driver_connection
    assert isinstance(plain, sqlite3.Connection)
    for create in re.split(r"\n\s*\n", TABLES.read_text().strip()):
        table = create.split(" ", 3)[2]
        changes = earlier.CHANGES.get(table, {})
        gone = {name for _, names in changes.values() for name in names}
        there = [row[1] for row in plain.execute(f"PRAGMA table_info({table})")]
        values = {name: name for name in there if name not in gone}
        for new, (change, names) in changes.items():
            plain.create_function(f"to_{new}", len(names), _as_text(change), deterministic=True)
            values[new] = f"to_{new}({', '.join(names)})"
        remake(table, create, values)


def _as_text(change: Callable[..., Any]) -> Callable[..., str | None]:
    def text(*values: Any) -> str | None:
        found = change(*values)
        return found if found is None or isinstance(found, str) else json.dumps(found)

    return text
