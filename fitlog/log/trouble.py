"""What can go wrong with the file of a log, each as one sentence and a next step.

Nothing of SQLAlchemy or sqlite3 reaches a user: every use of the file runs inside `explained`.
"""

from __future__ import annotations

import errno
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from ..errors import Refused

INDEX_BYTES = (
    32_768  # what SQLite makes beside a -wal file first: https://www.sqlite.org/walformat.html, 2.2
)


@contextmanager
def explained(path: Path) -> Iterator[None]:
    """Run a block that uses the file at `path`; raise `Refused` for whatever SQLite or the system
    says.
    """
    try:
        yield
    except DBAPIError as error:
        raise told_by_sqlite(path, error.orig) from error
    except sqlite3.Error as error:
        raise told_by_sqlite(path, error) from error
    except (OverflowError, UnicodeError) as error:
        raise Refused(
            "not-stored", f"a value cannot be stored: {error}", "check what was given"
        ) from error
    except OSError as error:
        raise told_by_system(path, error) from error


def told_by_sqlite(path: Path, error: BaseException | None) -> Refused:
    """Return the refusal for an error of SQLite; https://www.sqlite.org/rescode.html names its
    codes.
    """
    if isinstance(error, sqlite3.ProgrammingError):
        return Refused("not-stored", f"a value cannot be stored: {error}", "check what was given")
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        return damaged(path, str(error))
    make = _BY_CODE.get(code & 0xFF)
    return (
        make(path)
        if make
        else Refused("log-unreachable", f"the log {path} gave an error: {error}", _COPY)
    )


def told_by_system(path: Path, error: OSError) -> Refused:
    """Return the refusal for an error of the operating system."""
    if isinstance(error, NotADirectoryError):
        return parent_is_file(path)
    if isinstance(error, PermissionError) or error.errno == errno.EROFS:
        return read_only(path)
    if error.errno == errno.ENOSPC:
        return disk_full(path)
    why = error.strerror or str(error)
    return Refused(
        "log-unreachable", f"the log {path} cannot be reached: {why}", "name another file with --db"
    )


def missing(path: Path | str) -> Refused:
    """There is no log yet."""
    return Refused(
        "no-log",
        f"there is no log at {path} yet",
        "start one: fitlog bit add NAME --diameter L --angle DEG --cutting-length L",
    )


def is_folder(path: Path) -> Refused:
    """The path names a folder."""
    return Refused(
        "log-is-folder",
        f"{path} is a folder, not a log",
        f"name a file in it: --db {path / 'fitlog.db'}",
    )


def parent_is_file(path: Path) -> Refused:
    """A part of the path that should be a folder is a file."""
    return Refused(
        "parent-is-file", f"{path} lies below a file, not a folder", "name another file with --db"
    )


def not_a_log(path: Path | str) -> Refused:
    """The file is something else; it is left as it is."""
    return Refused(
        "not-a-log",
        f"{path} is not a log of fitlog; it was left as it is",
        "name another file with --db",
    )


def other_version(path: Path | str, found: int, ours: int) -> Refused:
    """The layout is not the one this version knows."""
    if found > ours:
        said = (
            f"the log {path} was written by a newer fitlog (layout {found}, this one knows {ours})"
        )
        return Refused("newer-log", said, "upgrade fitlog")
    said = f"the log {path} has layout {found}, which this fitlog does not know (it knows {ours})"
    return Refused("unknown-version", said, "open it with the fitlog that wrote it")


def no_such_store(location: str) -> Refused:
    """The location is a URL of some server, whose password is not repeated."""
    scheme = location.split(":", 1)[0]
    return Refused(
        "no-such-store",
        f"a log at {scheme}: cannot be used",
        "name a file, or a database of PostgreSQL: --db postgresql+psycopg://HOST/DATABASE",
    )


def unreadable(path: Path) -> Refused:
    """The file may not be read."""
    return Refused(
        "no-permission",
        f"you have no permission to read the log {path}",
        "ask its owner, or name another with --db",
    )


def read_only(path: Path) -> Refused:
    """The file or its folder may not be written."""
    return Refused(
        "read-only-log",
        f"the log {path} can only be read: the file or its folder may not be written",
        "change the permissions of the file and its folder, or name another log with --db",
    )


def busy(path: Path | str) -> Refused:
    """Another process kept the file longer than we wait."""
    return Refused(
        "log-busy",
        f"another program keeps the log {path} locked",
        "close it or wait, then try again",
    )


def gone(path: Path) -> Refused:
    """The file, or a folder above it, was moved or removed while the log was open."""
    return Refused(
        "log-gone",
        f"the log {path} was moved or removed while it was open; nothing was stored",
        "put it back or plug its disk in, then try again",
    )


def disk_full(path: Path) -> Refused:
    """No room was left; what was being written was rolled back."""
    return Refused(
        "disk-full",
        f"no room is left on the disk of {path}; nothing was stored",
        "make room, then try again",
    )


def damaged(path: Path | str, why: str = "") -> Refused:
    """The file is a log, but its pages or rows make no sense."""
    detail = f" ({why})" if why else ""
    return Refused(
        "damaged-log",
        f"the log {path} is damaged{detail}",
        "keep a copy of it, then restore your latest backup",
    )


def unreachable(path: Path) -> Refused:
    """The file cannot be opened or its disk fails, a disk too full for the index of a -wal file
    included.
    """
    with suppress(OSError):
        if shutil.disk_usage(path.parent).free < INDEX_BYTES:
            return disk_full(path)
    return Refused("log-unreachable", f"the log {path} cannot be opened, read or written", _COPY)


def against_rules(path: Path | str) -> Refused:
    """A CHECK, a key or a trigger refused the row."""
    return Refused(
        "not-stored",
        f"the rules of the log {path} refuse that value; nothing was stored",
        "check what was given",
    )


_COPY = "check its disk and its folder's permissions"
_BY_CODE = {
    sqlite3.SQLITE_PERM: read_only,
    sqlite3.SQLITE_BUSY: busy,
    sqlite3.SQLITE_LOCKED: busy,
    sqlite3.SQLITE_READONLY: read_only,
    sqlite3.SQLITE_IOERR: unreachable,
    sqlite3.SQLITE_CORRUPT: damaged,
    sqlite3.SQLITE_FULL: disk_full,
    sqlite3.SQLITE_CANTOPEN: unreachable,
    sqlite3.SQLITE_CONSTRAINT: against_rules,
    sqlite3.SQLITE_NOTADB: not_a_log,
}
