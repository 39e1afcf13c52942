"""What a log's file says of itself in its header, and how SQLite opens a file."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from sqlalchemy import Connection

from ...newfile import APPLICATION_ID
from .. import digests, engine, layout, trouble

OURS = f"PRAGMA application_id = {APPLICATION_ID}"  # marks a file as a log
# Whose a file is, of which layout, whether it holds anything, SQLite's count of what others wrote.
HEADER = (
    "SELECT (SELECT application_id FROM pragma_application_id), (SELECT user_version FROM "
    "pragma_user_version), EXISTS (SELECT 1 FROM sqlite_master), (SELECT data_version FROM "
    "pragma_data_version)"
)
NUMBER = "PRAGMA user_version"


def numbered(version: int) -> str:
    """Return the statement that gives a file the number of its layout."""
    return f"{NUMBER} = {version}"


def number(connection: Connection) -> int:
    """Return the number of the layout that a file has."""
    return int(connection.exec_driver_sql(NUMBER).scalar_one())


def known(said: Sequence[Any], path: Path) -> int:
    """Return the layout that a HEADER tells, 0 of a file that holds nothing at all; refuse what
    this version cannot read.
    """
    application, version, filled, _ = said
    if application == APPLICATION_ID and 1 <= version <= layout.VERSION:
        return int(version)
    if application == APPLICATION_ID:
        raise trouble.other_version(path, version, layout.VERSION)
    if application or version or filled:
        raise trouble.not_a_log(path)
    return 0


def is_ours(plain: sqlite3.Connection) -> bool:
    """Tell whether an open file is a log, of whatever layout."""
    return bool(plain.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,))


def may(path: Path, what: int) -> bool:
    """Tell whether this user may read (os.R_OK) or write (os.W_OK) a file."""
    return os.access(path, what, effective_ids=os.access in os.supports_effective_ids)


def mode(path: Path) -> str:
    """Return how SQLite must open a file: what this user may not write is still read."""
    if may(path, os.W_OK) and may(path.parent, os.W_OK):
        return "mode=rw"
    log_ahead = path.with_name(path.name + "-wal")
    # Reading beside a -wal file needs a shared index in the folder; without one there is nothing to
    # share.
    return "mode=ro" if log_ahead.exists() and log_ahead.stat().st_size else "mode=ro&immutable=1"


def connect(path: Path, mode: str) -> sqlite3.Connection:
    """Open a file; each statement is stored at once unless it stands in a transaction."""
    made = sqlite3.connect(
        f"{path.absolute().as_uri()}?{mode}",
        uri=True,
        timeout=engine.BUSY_SECONDS,
        isolation_level=None,
    )
    made.create_function(digests.FUNCTION, 2, digests.chained, deterministic=True)
    return made
