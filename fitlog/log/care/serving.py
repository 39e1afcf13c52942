"""A backup of a log that a server keeps: by the server's own tools where they are installed, of one
moment, and read back; else the exact command is told.

No password is on a command line: the tools find it where libpq does.
"""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
from collections import Counter
from pathlib import Path

from sqlalchemy import Connection

from ...errors import Refused
from .. import trouble
from ..postgres import server
from . import copies

LOCKED_MS = 5_000  # how long pg_dump waits for a table that somebody keeps locked
# https://www.postgresql.org/docs/current/app-pgrestore.html: what it writes of a table's rows
_COPY = re.compile(rb'COPY (?:"(?:[^"]|"")+"|[^ ."]+)\."?(\w+)"? .*FROM stdin;\n')


def command(location: str, what: str, name: str) -> str:
    """Return the command of the server's own backup or restore, as a shell takes it; refuse a URL
    with a password.
    """
    url, schema = _place(location)
    if what == "restore":
        to = shlex.quote(f"--dbname={url}")
        return f"pg_restore --clean --if-exists --single-transaction {to} {shlex.quote(name)}"
    return shlex.join(["pg_dump", *_asked(schema), f"--file={name}", f"--dbname={url}"])


def by_hand(location: str, what: str, name: str) -> Refused:
    """Return the refusal of what the server's keeper does, with its command."""
    return Refused(
        "server-log",
        "the log {where} is kept by a server, which has its own {what}",
        "its keeper runs {command}",
        where=location,
        what=what,
        command=command(location, what, name),
    )


def backup(location: str, target: Path, *, replace: bool) -> copies.Content:
    """Dump the log at a URL into the file `target`; return what it holds, as counted in the dump.

    Raises Refused: server-log with the command where pg_dump or pg_restore is not installed;
    dump-failed when they refuse; damaged-log when the dump holds something else than the log; and
    what opening a log and writing a file raise.
    """
    url, _ = _place(location)
    tools = {name: shutil.which(name) for name in ("pg_dump", "pg_restore")}
    dump, listing = tools["pg_dump"], tools["pg_restore"]
    if dump is None or listing is None:
        raise by_hand(location, "backup", str(target))
    store = server.ServerStore(*server.read(location))
    try:
        with (
            copies.beside(target, over=replace) as part,
            store.patient(),
            store.reading() as connection,
        ):
            held, schema, moment = _content(connection, store.where)
            asked = [*_asked(schema), f"--snapshot={moment}", f"--file={part.path}"]
            _run(store.where, [dump, *asked, f"--dbname={url}"])
            if _rows(store.where, listing, part.path) != {n: c for n, c in held.rows if c}:
                raise trouble.damaged(store.where, "its dump does not hold what it held")
            part.keep()
    finally:
        store.shut()
    return held


def _place(location: str) -> tuple[str, str | None]:
    url, schema = server.read(location)
    return url.set(drivername="postgresql").render_as_string(), schema


def _asked(schema: str | None) -> list[str]:
    """Return the options of a dump; a pattern that is not quoted is taken in lower case."""
    only = [] if schema is None else ['--schema="' + schema.replace('"', '""') + '"']
    return ["--format=custom", f"--lock-wait-timeout={LOCKED_MS}", *only]


def _content(connection: Connection, where: str) -> tuple[copies.Content, str, str]:
    """Return what the log holds at this moment, whatever its layout, its schema, and the name by
    which another session sees the same moment.
    """
    here = connection.exec_driver_sql("SELECT current_schema(), to_regclass('fitlog_layout')").one()
    if here[1] is None:
        raise trouble.missing(where)
    tables = connection.exec_driver_sql(
        "SELECT tablename FROM pg_tables WHERE schemaname = current_schema() ORDER BY 1"
    ).scalars()
    rows = tuple(
        (name, int(connection.exec_driver_sql(f'SELECT count(*) FROM "{name}"').scalar_one()))
        for name in tables.all()
    )
    newest = connection.exec_driver_sql("SELECT coalesce(max(id), 0) FROM entry").scalar_one()
    found = copies.Content(server.layout_of(connection), int(newest), rows)
    moment = connection.exec_driver_sql("SELECT pg_export_snapshot()").scalar_one()
    return found, str(here[0]), str(moment)


def _rows(where: str, tool: str, dump: Path) -> dict[str, int]:
    """Read a dump from its first byte to its last; return how many rows each table has in it."""
    found: Counter[str] = Counter()
    command = [tool, "--data-only", "--file=-", str(dump)]
    table: str | None = None
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as reading:
        assert reading.stdout is not None and reading.stderr is not None
        for line in reading.stdout:
            if line == b"\\.\n":
                table = None
            elif table is not None:
                found[table] += 1
            elif begins := _COPY.fullmatch(line):
                table = begins[1].decode()
        wrong = reading.stderr.read().decode(errors="replace")
    if reading.returncode:
        raise _failed(where, tool, wrong)
    return dict(found)


def _run(where: str, command: list[str]) -> None:
    around = {"PGCONNECT_TIMEOUT": str(server.CONNECT_SECONDS), **os.environ}
    try:
        done = subprocess.run(
            command,
            env=around,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            errors="replace",
            timeout=server.PATIENT / 1000,
        )
    except subprocess.TimeoutExpired:
        raise _failed(where, command[0], "it did not end") from None
    if done.returncode:
        raise _failed(where, command[0], done.stderr)


def _failed(where: str, tool: str, said: str) -> Refused:
    lines = said.strip().splitlines() or ["it says nothing"]
    return Refused(
        "dump-failed",
        "{tool} could not copy the log {where}: {said}",
        "have its keeper look at that; nothing was written",
        tool=Path(tool).name,
        where=where,
        said=lines[0].removeprefix(f"{Path(tool).name}: ").removeprefix("error: "),
    )
