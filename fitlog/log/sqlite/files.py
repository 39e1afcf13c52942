"""A log in one SQLite file: how it is opened, laid out when new, read, written and let go."""

from __future__ import annotations

import os
import random
import sqlite3
import stat
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from pathlib import Path

from sqlalchemy import Connection, create_engine
from sqlalchemy.exc import OperationalError
from sqlalchemy.pool import NullPool

from .. import engine, layout, trouble
from . import ddl, header

LOOKS = (
    0.0005,
    0.003,
)  # seconds between two looks at a busy file, drawn anew each time so that no two writers keep step


class FileStore(engine.Store):
    """An open file."""

    path: Path
    _snapshot = "BEGIN"

    def __init__(self, path: Path, mode: str) -> None:
        self.path, self.where = path, str(path)
        self.read_only = mode != "mode=rw"
        made = create_engine("sqlite://", creator=lambda: _connect(path, mode), poolclass=NullPool)
        with self.explained():
            self._connection = made.connect()
            self._identity = _identity(path)

    def explained(self) -> AbstractContextManager[None]:
        """Run a block; whatever SQLite or the system says is raised as Refused."""
        return trouble.explained(self.path)

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Give a connection that nobody else writes beside; all is stored at the end, or
        nothing.
        """
        if self.read_only:
            raise trouble.read_only(self.path)
        with self._transaction() as connection:
            _take_turn(connection)
            yield connection
            if (
                _identity(self.path) != self._identity
            ):  # SQLite would go on writing to a file that nobody can find
                raise trouble.gone(self.path)

    def _others(self, connection: Connection) -> int:
        return int(connection.exec_driver_sql("PRAGMA data_version").scalar_one())

    def write_ahead(self) -> None:
        """Let readers and a writer work side by side; where that is not to be had, they
        take turns.
        """
        with suppress(OperationalError):
            self._connection.exec_driver_sql("PRAGMA journal_mode = WAL")
        self._connection.rollback()


def open_file(
    location: Path, *, create: bool, older: Callable[[FileStore], engine.Upgraded | None]
) -> FileStore:
    """Open the file of a log, laying it out first when it is new and `create` is True.

    older: brings one of an older layout up to today's.
    Raises Refused: no-log, log-is-folder, parent-is-file, not-a-log, newer-log, unknown-version,
    no-permission, read-only-log, log-busy, disk-full, damaged-log, log-unreachable.
    """
    with trouble.explained(location):
        path = resolved(location)
        fresh = _is_missing(path)
        if fresh and not create:
            raise trouble.missing(path)
        if fresh:
            _make_file(path)
        if not header.may(path, os.R_OK):
            raise trouble.unreadable(path)
        store = FileStore(path, header.mode(path))
    try:
        _settle(store, create, older)
    except BaseException:
        with suppress(Exception):
            store.shut()
        raise
    return store


def resolved(location: Path) -> Path:
    """Return where a path leads: links followed, the home of ~ filled in."""
    return Path(os.path.realpath(os.path.expanduser(location)))  # noqa: PTH111 - an unknown ~user stays as it is


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
        make_folders(path.parent)
    except FileExistsError:
        raise trouble.parent_is_file(path) from None
    try:
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    except FileExistsError:  # empty, or another process was quicker
        with suppress(OSError):  # of another owner
            path.chmod(0o600)


def make_folders(folder: Path) -> None:
    """Make a folder and those above it that are missing, for their owner alone. Raises OSError."""
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    for one in reversed(missing):
        one.mkdir(mode=0o700, exist_ok=True)
    folder.mkdir(exist_ok=True)  # refuses what is there and is no folder


def _identity(path: Path) -> tuple[int, int] | None:
    """Return what tells the file at `path` from any other, None when there is none."""
    try:
        found = path.stat()
    except (FileNotFoundError, NotADirectoryError):
        return None
    return found.st_dev, found.st_ino


def _connect(path: Path, mode: str) -> sqlite3.Connection:
    connection = header.connect(path, mode)
    try:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = FULL")
    except BaseException:
        connection.close()
        raise
    return connection


def _take_turn(connection: Connection) -> None:
    """Begin a transaction that nobody else writes beside, as soon as nobody does, and within
    BUSY_SECONDS.

    SQLite's own waiting looks ever more seldom, so that among ten busy writers one may find none of
    its looks lucky.
    """
    plain = connection.connection.driver_connection
    assert isinstance(plain, sqlite3.Connection)
    until = time.monotonic() + engine.BUSY_SECONDS
    plain.execute("PRAGMA busy_timeout = 0")
    try:
        while True:
            try:
                plain.execute("BEGIN IMMEDIATE")
                return
            except sqlite3.OperationalError as error:
                if (
                    error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY
                    or time.monotonic() >= until
                ):
                    raise
            time.sleep(random.uniform(*LOOKS))
    finally:
        plain.execute(f"PRAGMA busy_timeout = {int(engine.BUSY_SECONDS * 1000)}")


def _settle(
    store: FileStore, create: bool, older: Callable[[FileStore], engine.Upgraded | None]
) -> None:
    """Check whose file it is, lay it out when it is nobody's yet, bring an older layout up to this
    one.
    """
    with store.glance() as connection:
        found, store.known_of_others = _found(connection, store.path)
    if 0 < found < layout.VERSION:
        store.upgraded = older(store)
    if not found and not create:
        raise trouble.missing(store.path)
    if not found:
        with store.writing() as connection:
            if not _found(connection, store.path)[0]:  # unless another process was quicker
                for statement in ddl.statements():
                    connection.exec_driver_sql(statement)
    if create and not store.read_only:
        store.write_ahead()
        store.written_by_others()  # what laid it out or switched it over is no news


def _found(connection: Connection, path: Path) -> tuple[int, int]:
    """Return the layout of a file as `header.known` does, and the count of what others wrote."""
    said = connection.exec_driver_sql(header.HEADER).one()
    return header.known(said, path), int(said[3])
