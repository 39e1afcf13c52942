"""Copies of a log's file: made while others write, read back before they count, and put in a log's
place.

A copy is one file without companions, so that it can be carried on a stick and read from a closed
folder.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from sqlalchemy import create_engine
from sqlalchemy.pool import NullPool

from ...errors import Refused
from ...newfile import Part, part_of, place_of
from ...texts import tell
from .. import layout, trouble
from ..sqlite import header
from . import rebuilding, vouching


@dataclass(frozen=True, slots=True)
class Content:
    """What a file held at one moment.  rows: number of rows by table.  newest: number of its newest
    entry, 0 without.
    """

    layout: int
    newest: int
    rows: tuple[tuple[str, int], ...]

    @property
    def cuts(self) -> int:
        """How many trial cuts there are, those taken back included."""
        return dict(self.rows).get("trial_cut", 0)

    @property
    def setups(self) -> int:
        """How many set-ups there are, those taken back included."""
        return dict(self.rows).get("setup", 0)


def backup(log: Path, target: Path, *, replace: bool = False) -> Content:
    """Copy the log in the file `log` to `target` while others may write to it; return what the copy
    holds.

    The copy is read back whole, and compared with the log at that moment, before it gets its name.
    Raises Refused: file-exists, is-a-log for another log or backup whatever `replace` says,
    bad-path, same-file, no-folder, damaged-log, disk-full, read-only-log and what `trouble` knows.
    """
    _require_free(target, log)
    with beside(target, over=replace) as part:
        content = pages(log, part.path, named=target)
        if verified(part.path, named=log) != content:
            raise trouble.damaged(log, "its copy does not hold what it held")
        part.keep()
    return content


def backup_named(
    log: Path, said: str, day: date, folder: Path | None = None
) -> tuple[Path, Content]:
    """Copy the log as `backup` does, under a name that `free_name` gives and that stays its own
    though others make a backup at the same moment; return that and what the copy holds.
    """
    while True:
        target = free_name(log, said, day, folder)
        try:
            return target, backup(log, target)
        except Refused as error:
            if error.code != "file-exists":
                raise


def pages(source: Path, target: Path, *, named: Path | None = None) -> Content:
    """Copy all pages of one moment of `source` into the file `target`, called `named`; return what
    they hold.
    """
    with trouble.explained(source), closing(_reader(source)) as plain:
        plain.execute("BEGIN")
        content = content_of(plain, source)
        with (
            trouble.explained(named or target),
            closing(sqlite3.connect(target, isolation_level=None)) as copy,
        ):
            plain.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")
    return content


def verified(path: Path, *, named: Path | None = None) -> Content:
    """Read the copy at `path` whole and return what it holds; `named` is how errors call it.

    SQLite checks its pages, constraints and references; a log of today's layout is rebuilt row by
    row, and each looked at by its digest. Raises Refused: not-a-log, newer-log, unknown-version,
    damaged-log.
    """
    called = named or path
    with trouble.explained(called):
        with closing(_reader(path)) as plain:
            content = content_of(plain, called)
            wrong = next(sound(plain), None)
        if wrong is None and content.layout == layout.VERSION:
            wrong = next(_rebuilt(path), None)
    if wrong is not None:
        raise trouble.damaged(called, wrong)
    return content


def sound(plain: sqlite3.Connection) -> Iterator[str]:
    """Yield what SQLite itself finds wrong with a file: its pages, its CHECKs, its references."""
    yield from (said for (said,) in plain.execute("PRAGMA integrity_check") if said != "ok")
    for table, row, target, _ in plain.execute("PRAGMA foreign_key_check"):
        yield tell(
            "row {number} of {table} refers to a row of {target} that is not there",
            number=row,
            table=table,
            target=target,
        )


def content_of(plain: sqlite3.Connection, named: Path) -> Content:
    """Return what an open file, called `named`, holds; refuse what is no log, or one of a layout
    that is not known.
    """
    found = header.known(plain.execute(header.HEADER).fetchone(), named)
    if not found:
        raise trouble.not_a_log(named)
    names = [
        n
        for (n,) in plain.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name"
        )
    ]
    rows = tuple(
        (n, int(plain.execute(f'SELECT count(*) FROM "{n}"').fetchone()[0])) for n in names
    )
    (newest,) = plain.execute("SELECT coalesce(max(id), 0) FROM entry").fetchone()
    return Content(found, newest, rows)


def free_name(log: Path, said: str, day: date, folder: Path | None = None) -> Path:
    """Return a name beside the log, or in another `folder`, that tells what it is and that no file
    has.

    log.db becomes log.db.2031-03-04.backup, or log.db.layout-1-2031-03-04.backup where `said` is
    "layout-1-".
    """
    stem = f"{log.name}.{said}{day.isoformat()}"
    taken = 1
    found = (folder or log.parent) / f"{stem}.backup"
    while os.path.lexists(found):
        taken += 1
        found = found.with_name(f"{stem}-{taken}.backup")
    return found


def _rebuilt(path: Path) -> Iterator[str]:
    reader = create_engine("sqlite://", creator=lambda: _reader(path), poolclass=NullPool)
    with reader.connect() as connection:
        yield from rebuilding.faults(connection)
        yield from vouching.faults(connection)


def _reader(path: Path) -> sqlite3.Connection:
    """Open a file to read it, in a closed folder too."""
    return header.connect(path, header.mode(path))


def _require_free(target: Path, log: Path) -> None:
    with trouble.explained(target):
        if target.exists() and log.exists() and target.samefile(log):
            raise Refused(
                "same-file", "{target} is the log itself", "name another file", target=target
            )
        if not target.parent.is_dir():
            raise Refused(
                "no-folder",
                "there is no folder {folder}",
                "make it, or plug it in, and try again",
                folder=target.parent,
            )


@contextmanager
def beside(target: Path, *, over: bool = False) -> Iterator[Part]:
    """Give an empty file beside `target` that takes its name when it is kept, and is gone
    otherwise; it is for its owner alone, whatever was there.

    Raises Refused: file-exists, is-a-log, bad-path, and what `trouble` knows of a disk.
    """
    with trouble.explained(target), part_of(place_of(target, over=over, private=True)) as part:
        yield part
