"""A log of an older layout is brought up to today's: a backup first, then all the scripts in one
transaction, or nothing.

Imported only when a log is older than this fitlog.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection
from sqlalchemy.exc import ProgrammingError

from ...errors import Refused
from .. import layout, migrations
from ..engine import Upgraded
from ..sqlite import header
from . import copies

if TYPE_CHECKING:
    from ..sqlite.files import FileStore

AS_TOLD = {
    "disk-full",
    "read-only-log",
    "log-busy",
    "no-permission",
    "damaged-log",
}  # their sentences say what to do


def bring_up(store: FileStore) -> Upgraded | None:
    """Bring the log up to today's layout; None when another process was quicker.

    Nobody writes between the backup and the end, because it is made while this process holds the
    lock of the writer. Raises Refused: older-log where the file may not be written,
    migration-failed, disk-full, log-busy, damaged-log; the log is then as it was, and no backup is
    left behind. After log-unreachable nobody knows which layout it has, and the backup stays.
    """
    found, backup = _layout_of(store), None
    if store.read_only:
        raise _closed(store.path, found)
    try:
        with _references_unchecked(store), store.writing() as connection:
            found = header.number(connection)
            if found >= layout.VERSION:
                return None
            backup, _ = copies.backup_named(store.path, f"layout-{found}-", date.today())
            _run(connection, found)
    except BaseException as error:
        unsure = backup is not None and _may_be_up(store, error)
        if backup is not None and not unsure:
            with suppress(OSError):
                backup.unlink()
        if isinstance(error, Exception) and not unsure:
            raise _untouched(store.path, found, error) from error
        raise
    return Upgraded(found, layout.VERSION, backup)


def bring_up_server(location: str) -> Upgraded | None:
    """Bring the log in a database up to today's layout, in one transaction; None when it is there
    already.

    No backup is made: that is the server's keeper's, before. Raises Refused: migration-failed and
    what `server` raises; the log is then as it was.
    """
    from ..postgres import server

    store, found = server.ServerStore(*server.read(location)), 0
    try:
        with store.patient(), store.upgrading() as connection:
            found = server.layout_of(connection)
            if found >= layout.VERSION:
                return None
            migrations.run(connection, found)
            connection.exec_driver_sql(
                f"INSERT INTO fitlog_layout VALUES ('fitlog', {layout.VERSION})"
            )
    except Exception as error:
        raise _untouched(store.where, found, error) from error
    finally:
        with suppress(Exception):
            store.shut()
    return Upgraded(found, layout.VERSION, None)


@contextmanager
def _references_unchecked(store: FileStore) -> Iterator[None]:
    """Let a script make a table anew that others refer to; `_run` checks the references, all of
    them, at the end.
    """
    with store.reading() as connection:
        plain = _plain(connection)
    with store.explained():
        plain.execute("PRAGMA foreign_keys = OFF")  # within a transaction it would do nothing
        try:
            yield
        finally:
            plain.execute("PRAGMA foreign_keys = ON")


def _layout_of(store: FileStore) -> int:
    with store.reading() as connection:
        return header.number(connection)


def _run(connection: Connection, found: int) -> None:
    """Run the scripts, and let SQLite check every row against the constraints that came
    with them.
    """
    migrations.run(connection, found)
    connection.exec_driver_sql(header.numbered(layout.VERSION))
    for wrong in copies.sound(_plain(connection)):
        raise ValueError(wrong)


def _may_be_up(store: FileStore, error: BaseException) -> bool:
    """Tell whether the log may have today's layout in spite of an `error`: the COMMIT was made
    before, or the disk did not take it for sure, and SQLite may find it when it opens the file
    anew; one that was not written whole it never takes for one.
    """
    cause = getattr(error.__cause__, "orig", error.__cause__)
    if getattr(cause, "sqlite_errorcode", 0) == sqlite3.SQLITE_IOERR_FSYNC:
        return True
    with suppress(Refused):
        return _layout_of(store) == layout.VERSION
    return True


def _plain(connection: Connection) -> sqlite3.Connection:
    plain = connection.connection.driver_connection
    assert isinstance(plain, sqlite3.Connection)
    return plain


def _closed(path: Path, found: int) -> Refused:
    return Refused(
        "older-log",
        "the log {path} has the older layout {found} and can only be read, so it cannot be "
        "brought to layout {newest}",
        "let its owner open it once, or work on a copy: fitlog log restore FILE --db COPY",
        path=path,
        found=found,
        newest=layout.VERSION,
    )


def _untouched(where: Path | str, found: int, error: Exception) -> Refused:
    """Return the refusal of a migration that failed, whatever the reason; the log is as it was, or
    the refusal says that nobody knows.
    """
    if isinstance(error, Refused) and error.unsure:
        return error
    cause = error.__cause__ if isinstance(error, Refused) else error
    if (
        isinstance(error, Refused)
        and error.code in AS_TOLD
        and not isinstance(cause, ProgrammingError)
    ):
        return Refused(
            error.code,
            "{what}; the log {where} stays as it is, at layout {found}",
            "{remedy}",
            what=error.message,
            where=where,
            found=found,
            remedy=error.hint,
        )
    why = str(getattr(cause, "orig", None) or cause or error).strip() or type(error).__name__
    return Refused(
        "migration-failed",
        "the log {where} could not be brought from layout {found} to {newest} "
        "({why}); it is as it was",
        "keep using the fitlog that wrote it",
        where=where,
        found=found,
        newest=layout.VERSION,
        why=why.splitlines()[0],
    )
