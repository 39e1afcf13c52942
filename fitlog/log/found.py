"""What was found at a machine when somebody came back to a set-up, and what happened there in
between.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from functools import cache
from typing import Any, NamedTuple

from sqlalchemy import Connection, Row, Select, bindparam, exists, select

from ..domain import Settings
from ..families.names import family_of
from ..texts import tell
from . import entries
from .door import sound
from .engine import Store
from .named import family_named, made, settings_of, some_of
from .once import once
from .rows import Stamp, moment
from .schema import ADVICE, ENTRY, FOUND, SETUP

DEEDS = ("start", "cut", "found")  # what is done with the settings of a set-up at the machine


class Deed(NamedTuple):
    """Something done at a machine: on which set-up, by whom, when."""

    setup: int
    by: str
    at: datetime


class Absence(NamedTuple):
    """What stands between a set-up's last deed and now. other: the newest deed at its machine on
    another set-up since.
    """

    last: Deed
    other: Deed | None


class LoggedFound(NamedTuple):
    """What was found, true mm by setting, taken back or not. remembered: the settings in force, not
    those found.
    """

    entry: int
    settings: Mapping[str, float]
    remembered: Settings
    by: str
    at: datetime
    machine: str | None
    retracted: bool


class FoundBook:
    """The entries of kind "found" of a log."""

    _store: Store

    def log_found(
        self,
        setup: int,
        settings: Mapping[str, float],
        stamp: Stamp,
        *,
        seen: int | None = None,
        advice: int | None = None,
    ) -> int:
        """Log what was found, true mm by setting; return the entry. It moves nothing and teaches
        nothing.

        seen: the set-up's newest entry as the caller read it; advice: the number of the one that is
        remembered, None for the one last shown. Raises Refused: unknown-setup,
        log-moved-on, already-ended, bad-setting for what is no setting or none at all, bad-size.
        """

        def write(connection: Connection) -> int:
            of = entries.require_open(
                connection, setup, seen=seen, also=(entries.GONE_BY,), read=advice
            )
            row = {"advice": of.advice, "settings": some_of(family_of(of.joint), settings)}
            entry = entries.add(connection, "found", setup, stamp, row)
            connection.execute(FOUND.insert().values(entry=entry, **row))
            return entry

        return once(self._store, stamp, ("found",), write, lambda _, there: int(there.id))

    def found_entries(self, setup: int) -> list[LoggedFound]:
        """Return what was found of a set-up, in the order of the log. Raises Refused:
        unknown-setup.
        """
        wanted = (
            select(
                FOUND,
                ENTRY.c.by,
                ENTRY.c.at,
                ENTRY.c.machine,
                entries.LIVE.is_(False).label("taken_back"),
            )
            .join(ENTRY, ENTRY.c.id == FOUND.c.entry)
            .where(ENTRY.c.setup == setup, ENTRY.c.kind == "found")
            .order_by(FOUND.c.entry)
        )
        with self._store.reading() as connection:
            of = entries.require(connection, setup)
            rows = sound(connection.execute(wanted).all(), "entry", FOUND, ENTRY)
            shown = select(ADVICE).where(ADVICE.c.id.in_([row.advice for row in rows]))
            advised = sound(connection.execute(shown).all(), "advice", ADVICE)
        family = family_named(of.joint, of.settings)
        remembered = {
            row.id: made(tell("advice {number}", number=row.id), settings_of, family, row.settings)
            for row in advised
        }
        return [
            LoggedFound(
                row.entry,
                made(tell("entry {number}", number=row.entry), some_of, family, row.settings),
                made(tell("entry {number}", number=row.entry), remembered.__getitem__, row.advice),
                row.by,
                made(tell("entry {number}", number=row.entry), moment, row.at),
                row.machine,
                bool(row.taken_back),
            )
            for row in rows
        ]

    def absence(self, setup: int, now: datetime, at_most: timedelta) -> Absence:
        """Return a set-up's last deed that stands and, unless that is older than `at_most`, what
        else was done since there.

        Raises Refused: unknown-setup.
        """
        with self._store.reading() as connection:
            last = connection.execute(_last_deed(), {"setup": setup}).first()
            if last is None:  # there is no such set-up, or its start was taken back
                raise entries.unknown(connection, setup)
            sound([last], "entry", ENTRY)
            deed, machine = _deed(last), last.machine_id
            recent = machine is not None and now - deed.at <= at_most
            return Absence(deed, _other(connection, setup, machine, last.id) if recent else None)


def _other(connection: Connection, setup: int, machine: int, since: int) -> Deed | None:
    """The newest deed of another set-up at a machine after an entry; one taken back was done all
    the same.
    """
    asked = {"setup": setup, "machine": machine, "since": since}
    for row in sound(connection.execute(_others_deed(), asked).all(), "entry", ENTRY):
        return _deed(row)
    return None


@cache
def _last_deed() -> Select[Any]:
    wanted = select(ENTRY, SETUP.c.machine_id).join(SETUP, SETUP.c.id == ENTRY.c.setup)
    own = ENTRY.c.setup == bindparam("setup"), ENTRY.c.kind.in_(DEEDS), entries.LIVE
    return wanted.where(*own).order_by(ENTRY.c.id.desc()).limit(1)


@cache
def _others_deed() -> Select[Any]:
    there = exists().where(SETUP.c.id == ENTRY.c.setup, SETUP.c.machine_id == bindparam("machine"))
    other = ENTRY.c.id > bindparam("since"), ENTRY.c.setup != bindparam("setup")
    wanted = select(ENTRY).where(*other, ENTRY.c.kind.in_(DEEDS), there)
    return wanted.order_by(ENTRY.c.id.desc()).limit(1)


def _deed(row: Row[Any]) -> Deed:
    at = made(tell("entry {number}", number=row.id), moment, row.at)
    return Deed(int(row.setup), row.by, at)
