"""Looking after a log: where it is and what it holds, whether it is sound, a backup of it, a backup
put back.

A log in a file is copied and put back here; one that a server keeps is left to the server's own
tools, whose exact command is told.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from itertools import islice
from pathlib import Path

from sqlalchemy import Connection, func, select

from ...errors import Refused
from ...newfile import file_named
from ...texts import tell
from .. import layout, trouble
from ..engine import Upgraded
from ..log import Log, open_log
from ..named import made
from ..opening import file_of
from ..rows import moment
from ..schema import ENTRY
from ..sqlite.files import resolved
from . import comparing, copies, granted, layouts, rebuilding, restoring, vouching

MOST_FAULTS = 100  # told at once; a log with more is not read line by line
# What PostgreSQL itself knows to be not enforced: constraints never checked, indexes and triggers
# out of use, those of references too; "R" is for a copy of the database alone.
UNENFORCED = """
SELECT 'rule', conname::text, conrelid::regclass::text
  FROM pg_constraint
 WHERE NOT convalidated AND connamespace = quote_ident(current_schema())::regnamespace
UNION ALL
SELECT 'index', indexrelid::regclass::text, ''
  FROM pg_index JOIN pg_class ON pg_class.oid = indrelid
 WHERE NOT indisvalid AND relnamespace = quote_ident(current_schema())::regnamespace
UNION ALL
SELECT 'guard', tgname::text, tgrelid::regclass::text FROM pg_trigger
  JOIN pg_class ON pg_class.oid = tgrelid
 WHERE tgenabled IN ('D', 'R') AND relnamespace = quote_ident(current_schema())::regnamespace
"""
_UNENFORCED = {
    "rule": "the rule {name} of {table} was never checked",
    "index": "the index {name} is not valid",
    "guard": "the guard {name} of {table} is switched off",
}
_LOST = {"TRIGGER": "the guard {name} is not there", "INDEX": "the index {name} is not there"}


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """A log at a glance.  where: no password in it.  size: bytes.  by, at: who wrote the newest
    entry, when; or None.
    """

    where: str
    kind: str
    size: int
    layout: int
    rows: dict[str, int]
    by: str | None
    at: datetime | None
    read_only: bool


@dataclass(frozen=True, slots=True)
class Health:
    """What was found wrong, at most MOST_FAULTS sentences; none: every row is sound.  rows: number
    of rows by table.  head: to be noted down (`comparing`).  older: the newest entry that was
    digested only when the log was brought up, with its moment if that makes sense; None without.
    compared: its rules were compared with the layout's, which on a server not everybody may do.
    granted: what others than its roles may write on a server (`granted`).
    """

    faults: tuple[str, ...]
    rows: dict[str, int]
    head: str
    older: tuple[int, datetime | None] | None = None
    against: comparing.Against | None = None
    compared: bool = True
    granted: tuple[str, ...] = ()


def where(log: Log) -> Whereabouts:
    """Return where a log is and what it holds."""
    with log.store.reading() as connection:
        last = connection.execute(
            select(ENTRY.c.id, ENTRY.c.by, ENTRY.c.at).order_by(ENTRY.c.id.desc()).limit(1)
        ).first()
        rows = _rows(connection)
        file = connection.dialect.name == "sqlite"
        size = (
            0
            if file
            else connection.exec_driver_sql(
                "SELECT pg_database_size(current_database())"
            ).scalar_one()
        )
    if log.path is not None:
        ahead = log.path.with_name(log.path.name + "-wal")
        size = log.path.stat().st_size + (ahead.stat().st_size if ahead.exists() else 0)
    return Whereabouts(
        log.where,
        "file" if file else "server",
        int(size),
        layout.VERSION,
        rows,
        last.by if last else None,
        made(tell("entry {number}", number=last.id), moment, last.at) if last else None,
        log.store.read_only,
    )


def health(log: Log, compare: comparing.Compare | None = None) -> Health:
    """Let the database check itself, look at every digest, and make every row a value of the domain
    again; nothing is changed. compare: with an earlier one of this log.
    """
    wanted = _laid_out(log)
    with log.store.patient(), log.store.reading() as connection, _any_text(connection):
        found = tuple(islice(_faults(connection, wanted), MOST_FAULTS))
        against = compare(connection) if compare is not None else None
        return Health(
            found + (against.faults if against is not None else ()),
            _rows(connection),
            comparing.head(connection),
            _older(connection),
            against,
            wanted is not None,
            tuple(granted.beyond(connection)) if log.path is None else (),
        )


def _older(connection: Connection) -> tuple[int, datetime | None] | None:
    number = vouching.older(connection)
    at = connection.execute(select(ENTRY.c.at).where(ENTRY.c.id == number)).scalar()
    try:
        return (number, moment(at)) if at is not None else None
    except Refused:  # which is told as a fault of its row
        return number, None


def _laid_out(log: Log) -> layouts.Made | None:
    """Return what a new log would have; None where this user may not make one on the server."""
    try:
        return layouts.anew(log.store)
    except Refused as error:
        if error.code not in ("no-permission", "read-only-log"):
            raise
        return None


@contextmanager
def _any_text(connection: Connection) -> Iterator[None]:
    """Have text that is none read with its odd bytes shown, so that its row can be told."""
    plain = connection.connection.driver_connection
    if not isinstance(plain, sqlite3.Connection):
        yield
        return
    plain.text_factory = lambda text: text.decode(errors="backslashreplace")
    try:
        yield
    finally:
        plain.text_factory = str


def backup(
    location: str, to: str | None, day: date, *, replace: bool = False
) -> tuple[Path, copies.Content]:
    """Copy a log to the file `to`, into the folder `to`, or beside itself under a name with the
    day; return where.

    One that a server keeps goes into the folder that the command is run in. Raises Refused: no-log,
    and what `copies.backup` and `serving.backup` raise.
    """
    folder, target = _asked_for(to)
    if file_of(location) is None:
        from . import serving

        dump = Path.cwd() / "fitlog.dump"
        target = target or copies.free_name(dump, "", day, folder)
        return target, serving.backup(location, target, replace=replace)
    log = _file(location)
    if _is_blank(log):
        raise trouble.missing(log)
    if target is None:
        return copies.backup_named(log, "", day, folder)
    return target, copies.backup(log, target, replace=replace)


def _asked_for(to: str | None) -> tuple[Path | None, Path | None]:
    """Return the folder that a copy goes into, None for the log's own, and its file if one is
    named.
    """
    if to is None:
        return None, None
    path = os.path.expanduser(to)  # noqa: PTH111 - an unknown ~user stays as it is
    with trouble.explained(Path(path)):
        if path.endswith(("/", os.sep)) or os.path.isdir(path):  # noqa: PTH112 - an empty name is no folder
            return resolved(Path(path)), None
        return None, file_named(path)


def restore(
    copy: str | os.PathLike[str], location: str, day: date, *, replace: bool = False
) -> tuple[Path, restoring.Restored]:
    """Put a backup in the place of a log; return where that is.

    Raises Refused: server-log for a log that a server keeps, and what `restoring.restore` raises.
    """
    if file_of(location) is None:
        from .serving import by_hand

        raise by_hand(location, "restore", os.fspath(copy))
    log = _file(location)
    with trouble.explained(log):
        backup = file_named(os.path.expanduser(copy))  # noqa: PTH111 - an unknown ~user stays as it is
    return log, restoring.restore(backup, log, day, replace=replace)


def migrate(location: str, day: date, *, agreed: bool) -> Upgraded | None:
    """Bring a log up to today's layout; None when it is there already. One that a server keeps
    wants `agreed`.

    Raises Refused: not-agreed, and what opening the log or `upgrading` raises.
    """
    if file_of(location) is not None:
        with open_log(location, create=False) as log:
            return log.upgraded
    from .serving import command
    from .upgrading import bring_up_server

    if not agreed:
        raise Refused(
            "not-agreed",
            "the log of a whole shop is changed for everybody at once, and no backup is made by "
            "itself",
            "run {tool}, then fitlog log migrate --yes",
            tool=command(location, "backup", "fitlog.dump"),
        )
    return bring_up_server(location)


def _faults(connection: Connection, wanted: layouts.Made | None) -> Iterator[str]:
    if connection.dialect.name == "sqlite":
        plain = connection.connection.driver_connection
        assert isinstance(plain, sqlite3.Connection)
        yield from copies.sound(plain)
    else:
        for what, name, table in connection.exec_driver_sql(UNENFORCED).all():
            yield tell(_UNENFORCED[what], name=name, table=table)
    if wanted is not None:
        yield from layouts.faults(connection, wanted)
    yield from rebuilding.faults(connection)
    yield from vouching.faults(connection)


def _rows(connection: Connection) -> dict[str, int]:
    tables = (*layout.CATALOGUE, *layout.APPEND_ONLY)
    return {
        t.name: connection.execute(select(func.count()).select_from(t)).scalar_one() for t in tables
    }


def _is_blank(log: Path) -> bool:
    with trouble.explained(log):
        if log.is_dir():
            raise trouble.is_folder(log)
        return not log.exists() or log.stat().st_size == 0


def _file(location: str) -> Path:
    """Return the file of a log that is kept in one."""
    file = file_of(location)
    assert file is not None
    with trouble.explained(Path(location)):
        return resolved(file)
