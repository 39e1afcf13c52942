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
            "not-stored",
            "a value cannot be stored: {error}",
            "check what was given",
            error=str(error),
        ) from error
    except OSError as error:
        raise told_by_system(path, error) from error


def told_by_sqlite(path: Path, error: BaseException | None) -> Refused:
    """Return the refusal for an error of SQLite; https://www.sqlite.org/rescode.html names its
    codes.
    """
    if isinstance(error, sqlite3.ProgrammingError):
        return Refused(
            "not-stored",
            "a value cannot be stored: {error}",
            "check what was given",
            error=str(error),
        )
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        return damaged(path, str(error))
    make = _BY_CODE.get(code & 0xFF)
    if make:
        return make(path)
    return Refused(
        "log-unreachable",
        "the log {path} gave an error: {error}",
        _COPY,
        path=path,
        error=str(error),
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
        "log-unreachable",
        "the log {path} cannot be reached: {why}",
        "name another file with --db",
        path=path,
        why=why,
    )


def missing(path: Path | str) -> Refused:
    """There is no log yet."""
    return Refused(
        "no-log",
        "there is no log at {path} yet",
        "start one: fitlog bit add NAME --diameter L --angle DEG --cutting-length L",
        path=path,
    )


def is_folder(path: Path) -> Refused:
    """The path names a folder."""
    return Refused(
        "log-is-folder",
        "{path} is a folder, not a log",
        "name a file in it: --db {file}",
        path=path,
        file=path / "fitlog.db",
    )


def parent_is_file(path: Path) -> Refused:
    """A part of the path that should be a folder is a file."""
    return Refused(
        "parent-is-file",
        "{path} lies below a file, not a folder",
        "name another file with --db",
        path=path,
    )


def not_a_log(path: Path | str) -> Refused:
    """The file is something else; it is left as it is."""
    return Refused(
        "not-a-log",
        "{path} is not a log of fitlog; it was left as it is",
        "name another file with --db",
        path=path,
    )


def other_version(path: Path | str, found: int, ours: int) -> Refused:
    """The layout is not the one this version knows."""
    if found > ours:
        return Refused(
            "newer-log",
            "the log {path} was written by a newer fitlog (layout {found}, this one knows {ours})",
            "upgrade fitlog",
            path=path,
            found=found,
            ours=ours,
        )
    return Refused(
        "unknown-version",
        "the log {path} has layout {found}, which this fitlog does not know (it knows {ours})",
        "open it with the fitlog that wrote it",
        path=path,
        found=found,
        ours=ours,
    )


def no_such_store(location: str) -> Refused:
    """The location is a URL of some server, whose password is not repeated."""
    scheme = location.split(":", 1)[0]
    return Refused(
        "no-such-store",
        "a log at {scheme}: cannot be used",
        "name a file, or a database of PostgreSQL: --db postgresql+psycopg://HOST/DATABASE",
        scheme=scheme,
    )


def unreadable(path: Path) -> Refused:
    """The file may not be read."""
    return Refused(
        "no-permission",
        "you have no permission to read the log {path}",
        "ask its owner, or name another with --db",
        path=path,
    )


def read_only(path: Path) -> Refused:
    """The file or its folder may not be written."""
    return Refused(
        "read-only-log",
        "the log {path} can only be read: the file or its folder may not be written",
        "change the permissions of the file and its folder, or name another log with --db",
        path=path,
    )


def busy(path: Path | str) -> Refused:
    """Another process kept the file longer than we wait."""
    return Refused(
        "log-busy",
        "another program keeps the log {path} locked",
        "close it or wait (an import may take some seconds), then try again",
        path=path,
    )


def gone(path: Path) -> Refused:
    """The file, or a folder above it, was moved or removed while the log was open."""
    return Refused(
        "log-gone",
        "the log {path} was moved or removed while it was open; nothing was stored",
        "put it back or plug its disk in, then try again",
        path=path,
    )


def disk_full(path: Path) -> Refused:
    """No room was left; what was being written was rolled back."""
    return Refused(
        "disk-full",
        "no room is left on the disk of {path}; nothing was stored",
        "make room, then try again",
        path=path,
    )


def damaged(path: Path | str, why: str = "") -> Refused:
    """The file is a log, but its pages or rows make no sense; why: a text of its own."""
    return Refused(
        "damaged-log",
        "the log {path} is damaged ({why})" if why else "the log {path} is damaged",
        "keep a copy of it, then restore your latest backup",
        path=path,
        why=why,
    )


def unreachable(path: Path) -> Refused:
    """The file cannot be opened or its disk fails, a disk too full for the index of a -wal file
    included.
    """
    with suppress(OSError):
        if shutil.disk_usage(path.parent).free < INDEX_BYTES:
            return disk_full(path)
    return Refused(
        "log-unreachable", "the log {path} cannot be opened, read or written", _COPY, path=path
    )


def against_rules(path: Path | str) -> Refused:
    """A CHECK, a key or a trigger refused the row."""
    return Refused(
        "not-stored",
        "the rules of the log {path} refuse that value; nothing was stored",
        "check what was given",
        path=path,
    )


def failing(path: Path) -> Refused:
    """Its disk gave an error. Of a COMMIT that was not brought to disk nobody knows whether it is
    there: SQLite may find it when it opens the file next (https://www.sqlite.org/wal.html).
    """
    found = unreachable(path)
    if found.code == "disk-full":
        return found
    return Refused(
        "log-unreachable",
        "the disk of the log {path} gave an error; what was not answered may not be stored",
        "check the disk, then look with {look} before you say it again",
        path=path,
        look="fitlog next",
    )


_COPY = "check its disk and its folder's permissions"
_BY_CODE = {
    sqlite3.SQLITE_PERM: read_only,
    sqlite3.SQLITE_BUSY: busy,
    sqlite3.SQLITE_LOCKED: busy,
    sqlite3.SQLITE_READONLY: read_only,
    sqlite3.SQLITE_IOERR: failing,
    sqlite3.SQLITE_CORRUPT: damaged,
    sqlite3.SQLITE_FULL: disk_full,
    sqlite3.SQLITE_CANTOPEN: unreachable,
    sqlite3.SQLITE_CONSTRAINT: against_rules,
    sqlite3.SQLITE_NOTADB: not_a_log,
}
