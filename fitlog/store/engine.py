"""How the file of a log is opened, laid out when new, read, written and let go."""

from __future__ import annotations

import os
import re
import sqlite3
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from sqlalchemy import Connection, create_engine
from sqlalchemy.exc import OperationalError
from sqlalchemy.pool import NullPool

from ..errors import Refused
from . import ddl, trouble

BUSY_SECONDS = 5.0


class Store:
    """An open file with one connection, for one thread. `read_only`: this user may not write it."""

    def __init__(self, path: Path, mode: str) -> None:
        self.path = path
        self.read_only = mode != "mode=rw"
        engine = create_engine("sqlite://", creator=lambda: _connect(path, mode), poolclass=NullPool)
        with trouble.explained(path):
            self._connection = engine.connect()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a connection that sees one moment of the log, however many queries are made."""
        with self._transaction("BEGIN") as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Give a connection that nobody else writes beside; all is stored at the end, or nothing."""
        if self.read_only:
            raise trouble.read_only(self.path)
        with self._transaction("BEGIN IMMEDIATE") as connection:
            yield connection

    @contextmanager
    def _transaction(self, begin: str) -> Iterator[Connection]:
        # The driver is in autocommit mode and never begins by itself, so that DDL rolls back too.
        with trouble.explained(self.path):
            try:
                with self._connection.begin():
                    self._connection.exec_driver_sql(begin)
                    yield self._connection
            except BaseException:
                # A COMMIT that fails, on a full disk for one, leaves the transaction open.
                self._connection.connection.rollback()
                raise

    def write_ahead(self) -> None:
        """Let readers and a writer work side by side; where that is not to be had, they take turns."""
        with suppress(OperationalError):
            self._connection.exec_driver_sql("PRAGMA journal_mode = WAL")
        self._connection.rollback()

    def shut(self) -> None:
        """Let the file go; SQLite then folds its -wal file in."""
        with trouble.explained(self.path):
            self._connection.close()


def open_store(location: str | os.PathLike[str], *, create: bool) -> Store:
    """Open the file of a log, laying it out first when it is new and `create` is True.

    Raises Refused: no-log, log-is-folder, parent-is-file, not-a-log, newer-log, unknown-version,
    no-such-store, no-permission, read-only-log, log-busy, disk-full, damaged-log, log-unreachable.
    """
    with trouble.explained(Path(location)):
        path = _path_of(os.fspath(location))
        fresh = _is_missing(path)
        if fresh and not create:
            raise trouble.missing(path)
        if fresh:
            _make_file(path)
        store = Store(path, _mode(path))
    try:
        _settle(store, create)
    except BaseException:
        with suppress(Exception):
            store.shut()
        raise
    return store


def _path_of(location: str) -> Path:
    text = location.removeprefix("sqlite:///")
    if re.match(r"[A-Za-z][A-Za-z0-9+.-]*://", text) or text.startswith("postgresql:"):
        raise trouble.no_such_store(text)
    if not text or "\0" in text:
        raise Refused("bad-path", f"{location!r} names no file", "name the log with --db FILE")
    return Path(os.path.realpath(os.path.expanduser(text)))  # noqa: PTH111 - an unknown ~user stays as it is


def _is_missing(path: Path) -> bool:
    """Tell whether there is no file, or an empty one; refuse what is no file."""
    try:
        found = path.stat()
    except FileNotFoundError:
        return True
    except PermissionError:
        raise trouble.unreadable(path) from None
    if stat.S_ISDIR(found.st_mode):
        raise trouble.is_folder(path)
    if not stat.S_ISREG(found.st_mode):
        raise trouble.not_a_log(path)
    return found.st_size == 0


def _make_file(path: Path) -> None:
    """Make an empty file that only its owner can read, and the folders above it."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise trouble.parent_is_file(path) from None
    with suppress(FileExistsError):  # empty, or another process was quicker
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))


def _mode(path: Path) -> str:
    """Return how SQLite must open the file: a log that this user may not write is still read."""
    if not _may(path, os.R_OK):
        raise trouble.unreadable(path)
    if _may(path, os.W_OK) and _may(path.parent, os.W_OK):
        return "mode=rw"
    log_ahead = path.with_name(path.name + "-wal")
    # Reading beside a -wal file needs a shared index in the folder; without one there is nothing to share.
    return "mode=ro" if log_ahead.exists() and log_ahead.stat().st_size else "mode=ro&immutable=1"


def _may(path: Path, what: int) -> bool:
    return os.access(path, what, effective_ids=os.access in os.supports_effective_ids)


def _connect(path: Path, mode: str) -> sqlite3.Connection:
    connection = sqlite3.connect(f"{path.as_uri()}?{mode}", uri=True, timeout=BUSY_SECONDS, isolation_level=None)
    try:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = FULL")
    except BaseException:
        connection.close()
        raise
    return connection


def _settle(store: Store, create: bool) -> None:
    """Check whose file it is, lay it out when it is nobody's yet, bring an older layout up to this one."""
    with store.reading() as connection:
        blank, older = _is_blank(connection, store.path), _layout(connection) < ddl.VERSION
    if older and not blank:
        with store.writing() as connection:
            for statement in ddl.upgrade(_layout(connection)):  # none, if another process was quicker
                connection.exec_driver_sql(statement)
    if blank and not create:
        raise trouble.missing(store.path)
    if blank:
        with store.writing() as connection:
            if _is_blank(connection, store.path):  # unless another process was quicker
                for statement in ddl.statements():
                    connection.exec_driver_sql(statement)
    if create and not store.read_only:
        store.write_ahead()


def _is_blank(connection: Connection, path: Path) -> bool:
    """Tell whether the file holds nothing at all; refuse what this version cannot read."""
    application, version, filled = connection.exec_driver_sql(
        "SELECT (SELECT application_id FROM pragma_application_id), (SELECT user_version FROM pragma_user_version),"
        " EXISTS (SELECT 1 FROM sqlite_master)"
    ).one()
    if application == ddl.APPLICATION_ID and 1 <= version <= ddl.VERSION:
        return False
    if application == ddl.APPLICATION_ID:
        raise trouble.other_version(path, version, ddl.VERSION)
    if application or version or filled:
        raise trouble.not_a_log(path)
    return True


def _layout(connection: Connection) -> int:
    """Return the number of the layout that a log has."""
    return int(connection.exec_driver_sql("PRAGMA user_version").scalar_one())
