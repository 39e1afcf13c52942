"""Looking after a log: where it is and what it holds, whether it is sound, a backup of it, a backup
put back.

A log in a file is copied and put back here; one that a server keeps is left to the server's own
tools, whose exact command is told.
"""

from __future__ import annotations

import os
import re
import shlex
import sqlite3
from collections.abc import Iterator
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
from ..opening import file_of
from ..rows import moment
from ..schema import ENTRY
from ..sqlite import ddl
from ..sqlite.files import resolved
from . import copies, rebuilding, restoring, vouching

MOST_FAULTS = 100  # told at once; a log with more is not read line by line
# What PostgreSQL itself knows to be not enforced: constraints never checked, indexes and triggers
# out of use.
UNENFORCED = """
SELECT 'rule', conname::text, conrelid::regclass::text
  FROM pg_constraint
 WHERE NOT convalidated AND connamespace = current_schema()::regnamespace
UNION ALL
SELECT 'index', indexrelid::regclass::text, ''
  FROM pg_index JOIN pg_class ON pg_class.oid = indrelid
 WHERE NOT indisvalid AND relnamespace = current_schema()::regnamespace
UNION ALL
SELECT 'guard', tgname::text, tgrelid::regclass::text FROM pg_trigger
  JOIN pg_class ON pg_class.oid = tgrelid
 WHERE tgenabled = 'D' AND NOT tgisinternal AND relnamespace = current_schema()::regnamespace
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
    of rows by table.
    """

    faults: tuple[str, ...]
    rows: dict[str, int]


def where(log: Log) -> Whereabouts:
    """Return where a log is and what it holds."""
    with log.store.reading() as connection:
        last = connection.execute(
            select(ENTRY.c.by, ENTRY.c.at).order_by(ENTRY.c.id.desc()).limit(1)
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
        moment(last.at) if last else None,
        log.store.read_only,
    )


def health(log: Log) -> Health:
    """Let the database check itself, and make every row a value of the domain again; nothing is
    changed.
    """
    with log.store.reading() as connection:
        found = tuple(islice(_faults(connection), MOST_FAULTS))
        return Health(found, _rows(connection))


def backup(
    location: str, to: str | None, day: date, *, replace: bool = False
) -> tuple[Path, copies.Content]:
    """Copy a log to the file `to`, into the folder `to`, or beside itself under a name with the
    day; return where.

    Raises Refused: no-log, server-log for a log that a server keeps, and what `copies.backup`
    raises.
    """
    log = _file(location, "backup", day)
    if _is_blank(log):
        raise trouble.missing(log)
    if to is None:
        return copies.backup_named(log, "", day)
    path = os.path.expanduser(to)  # noqa: PTH111 - an unknown ~user stays as it is
    with trouble.explained(Path(path)):
        if path.endswith(("/", os.sep)) or os.path.isdir(path):  # noqa: PTH112 - an empty name is no folder
            return copies.backup_named(log, "", day, resolved(Path(path)))
        target = file_named(path)
    return target, copies.backup(log, target, replace=replace)


def restore(
    copy: str | os.PathLike[str], location: str, day: date, *, replace: bool = False
) -> tuple[Path, restoring.Restored]:
    """Put a backup in the place of a log; return where that is.

    Raises Refused: server-log for a log that a server keeps, and what `restoring.restore` raises.
    """
    log = _file(location, "restore", day)
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
    from .upgrading import bring_up_server

    if not agreed:
        raise Refused(
            "not-agreed",
            "the log of a whole shop is changed for everybody at once, and no backup is made by "
            "itself",
            "run {tool}, then fitlog log migrate --yes",
            tool=_tool(location, "backup", day),
        )
    return bring_up_server(location)


def _faults(connection: Connection) -> Iterator[str]:
    if connection.dialect.name == "sqlite":
        plain = connection.connection.driver_connection
        assert isinstance(plain, sqlite3.Connection)
        yield from copies.sound(plain)
        yield from _unguarded(plain)
    else:
        for what, name, table in connection.exec_driver_sql(UNENFORCED).all():
            yield tell(_UNENFORCED[what], name=name, table=table)
    yield from rebuilding.faults(connection)
    try:
        yield from vouching.faults(connection)
    except Refused as error:  # an entry without what belongs to it, told above
        if error.code != "damaged-log":
            raise


def _unguarded(plain: sqlite3.Connection) -> Iterator[str]:
    """Triggers and indexes that a log of this layout has and this one has lost."""
    there = {name for (name,) in plain.execute("SELECT name FROM sqlite_master")}
    for statement in ddl.statements():
        made = re.match(r"CREATE (?:UNIQUE )?(TRIGGER|INDEX) (\w+)", statement)
        if made and made[2] not in there:
            yield tell(_LOST[made[1]], name=made[2])


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


def _file(location: str, what: str, day: date) -> Path:
    """Return the file of a log; refuse a log that a server keeps, with the command that does it
    there.
    """
    file = file_of(location)
    if file is not None:
        with trouble.explained(Path(location)):
            return resolved(file)
    tool = _tool(location, what, day)
    raise Refused(
        "server-log",
        "the log {location} is kept by a server, which has its own {what}",
        "its keeper runs {tool}",
        location=location,
        what=what,
        tool=tool,
    )


def _tool(location: str, what: str, day: date) -> str:
    """Return the command of the server's own backup or restore, as a shell takes it; refuse a URL
    with a password.
    """
    from ..postgres import server

    bare, schema = server.read(location)
    url, name = (
        shlex.quote(bare.set(drivername="postgresql").render_as_string()),
        f"fitlog-{day.isoformat()}.dump",
    )
    if what == "restore":
        return f"pg_restore --clean --if-exists --single-transaction --dbname={url} {name}"
    return (
        f"pg_dump --format=custom{f' --schema={shlex.quote(schema)}' if schema else ''} "
        f"--file={name} {url}"
    )
