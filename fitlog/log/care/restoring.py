"""A backup put in the place of a log: read back first, never over a log unasked, and what was there
is kept.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from ...errors import Refused
from ...newfile import COMPANIONS, Part, Place, part_of
from .. import engine, trouble
from ..sqlite import header
from ..sqlite.files import make_folders
from . import copies

BROKEN = (sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT)


@dataclass(frozen=True, slots=True)
class Restored:
    """content: what the log holds now.  kept: the file that keeps what was there before, None when
    nothing was.
    """

    content: copies.Content
    kept: Path | None


def restore(copy: Path, log: Path, day: date, *, replace: bool = False) -> Restored:
    """Make the log in the file `log` what the backup `copy` holds; with `replace` even where there
    is a log.

    The backup is only read. Raises Refused: no-backup, same-file, not-a-log, newer-log, damaged-log
    for the backup; log-exists, log-busy while anybody has the log open, and what `trouble` knows.
    """
    _require_backup(copy, log)
    there = _is_there(log)
    if there and not replace:
        remedy = "say --replace to put the backup in its place; the log is then kept beside it"
        raise Refused("log-exists", "there is a log at {log} already", remedy, log=log)
    with trouble.explained(log):
        make_folders(log.parent)
    place = Place(str(log), log, over=not there, private=True)
    # An empty file is nobody's; a log that is there gets other pages, and never another file in its
    # place.
    with trouble.explained(log), part_of(place) as part:
        copies.pages(copy, part.path)
        content = copies.verified(part.path, named=copy)
        kept = None
        if there:
            kept = _swap(part, log, copies.free_name(log, "replaced-", day))
        else:
            part.keep()
    _write_ahead(log)
    return Restored(content, kept)


def _require_backup(copy: Path, log: Path) -> None:
    with trouble.explained(copy):
        if copy.is_dir():
            raise trouble.is_folder(copy)
        if not copy.is_file():
            raise Refused(
                "no-backup",
                "there is no file {copy}",
                "name a file that fitlog log backup made",
                copy=copy,
            )
        if log.exists() and copy.samefile(log):
            raise Refused("same-file", "{copy} is the log itself", "name a backup of it", copy=copy)


def _is_there(log: Path) -> bool:
    with trouble.explained(log):
        if log.is_dir():
            raise trouble.is_folder(log)
        if log.exists() and not log.is_file():  # a device or a pipe is no log, and stays
            raise trouble.not_a_log(log)
        return log.exists() and log.stat().st_size > 0


def _swap(part: Part, log: Path, kept: Path) -> Path:
    """Put the pages of `part` into the log in one transaction, and keep those that were there in
    the file `kept`.

    A file that SQLite cannot open any more is set aside as it is.
    """
    with trouble.explained(log):
        try:
            own = _alone(log)
        except sqlite3.DatabaseError as error:
            if getattr(error, "sqlite_errorcode", 0) & 0xFF not in BROKEN:
                raise
            _set_aside(log, kept)
            part.keep()
            return kept
        with closing(own):
            with copies.beside(kept) as before:
                with closing(sqlite3.connect(before.path)) as copy:
                    own.backup(copy)
                before.keep()
            with closing(sqlite3.connect(part.path)) as source:
                source.backup(own)
    return kept


def _alone(log: Path) -> sqlite3.Connection:
    """Open a log so that nobody else can until it is closed; refuse ("log-busy") while anybody has
    it open.
    """
    own = header.connect(log, "mode=rw")
    try:
        if not header.is_ours(own):
            raise trouble.not_a_log(log)
        own.execute("PRAGMA locking_mode = EXCLUSIVE")
        if own.execute("PRAGMA journal_mode = DELETE").fetchone() != ("delete",):
            raise trouble.busy(log)
        own.execute("BEGIN EXCLUSIVE")
        own.execute("COMMIT")  # the lock stays: locking_mode
    except BaseException:
        own.close()
        raise
    return own


def _set_aside(log: Path, kept: Path) -> None:
    log.rename(kept)
    for end in COMPANIONS:
        with suppress(FileNotFoundError):
            log.with_name(log.name + end).rename(kept.with_name(kept.name + end))


def _write_ahead(log: Path) -> None:
    with (
        suppress(sqlite3.Error),
        closing(sqlite3.connect(log, timeout=engine.BUSY_SECONDS)) as plain,
    ):
        plain.execute("PRAGMA journal_mode = WAL")
