"""A file of a log whose rules are put aside, so that a test can spoil it; what health says then."""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing
from pathlib import Path

from fitlog.errors import Refused
from fitlog.log import open_log
from fitlog.log.care import upkeep as care
from fitlog.log.digests import chained
from fitlog.log.transfer import bulk, digesting


def faults(path: Path) -> str:
    """What health says is wrong with a log, or what keeps it from being opened; empty: nothing."""
    try:
        with open_log(path, create=False) as log:
            return "\n".join(care.health(log).faults)
    except Refused as refusal:
        return refusal.message


class Unguarded:
    """A log's file without its rules: anything can be put anywhere."""

    def __init__(self, path: Path) -> None:
        self.path = path
        with closing(sqlite3.connect(path, isolation_level=None)) as plain:
            asked = "SELECT name, sql FROM sqlite_master WHERE type = ? AND name NOT LIKE 'sqlite%'"
            self.tables = plain.execute(asked, ("table",)).fetchall()
            self.triggers = plain.execute(asked, ("trigger",)).fetchall()

    def put(self, table: str, column: str, value: object, key: str, number: int) -> None:
        """Put a value into a column of a row, past every rule; the rules are as before."""
        with closing(sqlite3.connect(self.path, isolation_level=None)) as plain:
            plain.execute("PRAGMA synchronous = OFF")
            plain.execute("BEGIN")
            for name, _ in self.triggers:
                plain.execute(f"DROP TRIGGER {name}")
            plain.execute("COMMIT")
            plain.execute("PRAGMA writable_schema = ON")
            for name, sql in self.tables:
                lax = re.sub(r"(?<!IS) NOT NULL", "", sql).replace(") STRICT", ")")
                plain.execute("UPDATE sqlite_master SET sql = ? WHERE name = ?", (lax, name))
        with closing(sqlite3.connect(self.path, isolation_level=None)) as plain:
            plain.execute("PRAGMA ignore_check_constraints = ON")
            plain.execute(f'UPDATE {table} SET "{column}" = ? WHERE {key} = ?', (value, number))
            plain.execute("PRAGMA writable_schema = ON")
            for name, sql in self.tables:
                plain.execute("UPDATE sqlite_master SET sql = ? WHERE name = ?", (sql, name))
        with closing(sqlite3.connect(self.path, isolation_level=None)) as plain:
            plain.execute("PRAGMA synchronous = OFF")
            plain.execute("BEGIN")
            for _, trigger in self.triggers:
                plain.execute(trigger)
            plain.execute("COMMIT")


def digested_anew(path: Path) -> None:
    """Give every row of a log without guards the digest that it should have, as whoever owns the
    file can.
    """
    before = dict.fromkeys((table.name for table in digesting.CHAINED), "")
    digests = []
    with open_log(path, create=False) as log, log.store.reading() as connection:
        for kind, row in bulk.everything(connection):
            digest = chained(before.get(kind, ""), digesting.said(kind, row))
            digests.append((kind, digest, row["id"]))
            before.update({kind: digest} if kind in before else {})
    with closing(sqlite3.connect(path)) as plain:
        for kind, digest, number in digests:
            plain.execute(f"UPDATE {kind} SET digest = ? WHERE id = ?", (digest, number))
        plain.commit()
