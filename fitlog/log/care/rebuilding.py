"""Every row of a log made a value of the domain again, which refuses what makes no sense; nothing
is changed.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from sqlalchemy import Connection, Row, Select, Text, exists, func, select

from ...domain import clean_text
from ...errors import FitlogError
from ...texts import tell
from .. import layout, preferences, reading
from ..named import WRONG, family_named, reason, settings_of, some_of
from ..rows import moment, to_note
from ..schema import (
    ADVICE,
    ENTRY,
    FOUND,
    NOTE,
    PREFERENCE,
    REDO,
    RETRACTION,
    SETUP,
    SHARPENING,
    TRIAL_CUT,
)
from ..shelf import BITS, MACHINES, STOCKS, shelves

BATCH = 500  # set-ups at a time: keeps memory bounded whatever the size of the log
HALVES = {
    "start": (SETUP, "entry", "set-up"),
    "cut": (TRIAL_CUT, "entry", "trial cut"),
    "found": (FOUND, "entry", "readings"),
    "note": (NOTE, "entry", "words"),
    "retract": (RETRACTION, "entry", "retraction"),
    "redo": (REDO, "entry", "redo"),
}


def faults(connection: Connection) -> Iterator[str]:
    """Yield a sentence for everything in the log that cannot be rebuilt; nothing when the log is
    sound.
    """
    found = list(_catalogue(connection))
    yield from found
    yield from _half_written(connection)
    if not found:  # every set-up is read with the whole catalogue
        yield from _setups(connection)
        yield from _taken_back(connection)
    yield from _texts(connection)
    yield from _each(connection, _ADVICES, "advice", _advice)
    yield from _each(connection, _FOUND, "entry", _found)
    yield from _each(connection, _NOTES, "entry", to_note)
    # One that was said anew since keeps nobody from anything any more.
    standing = select(func.max(PREFERENCE.c.id)).group_by(PREFERENCE.c.login, PREFERENCE.c.key)
    said = select(PREFERENCE).where(PREFERENCE.c.id.in_(standing)).order_by(PREFERENCE.c.id)
    yield from _each(connection, said, "preference", preferences.value)
    for table, what in ((ENTRY, "entry"), (SHARPENING, "sharpening"), (PREFERENCE, "preference")):
        rows = select(table).order_by(table.c.id)
        yield from _each(connection, rows, what, lambda row: moment(row.at))


def _catalogue(connection: Connection) -> Iterator[str]:
    for shelf in (BITS, STOCKS, MACHINES):
        for row in connection.execute(shelf.rows).all():
            yield from _tried(_row(shelf.what, row.id), shelf.stand, [row])


def _half_written(connection: Connection) -> Iterator[str]:
    """Entries whose other half is not there; no foreign key points that way."""
    for kind, (table, column, what) in HALVES.items():
        whole = exists().where(table.c[column] == ENTRY.c.id)
        for number in connection.execute(
            select(ENTRY.c.id).where(ENTRY.c.kind == kind, ~whole)
        ).scalars():
            yield tell(
                "entry {number} is a {kind} without its {what}",
                number=number,
                kind=kind,
                what=what,
            )


def _setups(connection: Connection) -> Iterator[str]:
    numbers = list(connection.execute(select(SETUP.c.id).order_by(SETUP.c.id)).scalars())
    there = shelves(connection)
    for first in range(0, len(numbers), BATCH):
        batch = numbers[first : first + BATCH]
        span = select(SETUP.c.id).where(SETUP.c.id.between(batch[0], batch[-1]))
        if next(
            _tried(
                "",
                lambda wanted, n: _count(reading.load(connection, there, wanted), n),
                span,
                len(batch),
            ),
            None,
        ):
            for number in batch:  # which one is it
                one = select(SETUP.c.id).where(SETUP.c.id == number)
                yield from _tried(
                    _row("set-up", number),
                    lambda wanted: _count(reading.load(connection, there, wanted), 1),
                    one,
                )


def _count(found: list[Any], wanted: int) -> None:
    if len(found) != wanted:
        raise ValueError(tell("its start is not in the log"))


def _taken_back(connection: Connection) -> Iterator[str]:
    """Trial cuts that were taken back, with the others of their set-ups and the documents shown
    before them.
    """
    back = (
        select(ENTRY.c.setup)
        .join(RETRACTION, RETRACTION.c.retracted == ENTRY.c.id)
        .where(ENTRY.c.kind == "cut")
    )
    for number in connection.execute(back.distinct()).scalars().all():
        what = tell("a cut of set-up {number}", number=number)
        yield from _tried(what, lambda n: reading.logged_cuts(connection, n), number)


def _texts(connection: Connection) -> Iterator[str]:
    """Names and notes that could not have been typed: control characters."""
    for table in (*layout.CATALOGUE, *layout.APPEND_ONLY):
        free = [
            c
            for c in table.columns
            if isinstance(c.type, Text) and c.name not in ("at", "document")
        ]
        key = next(iter(table.primary_key))
        for number, *texts in (
            connection.execute(select(key, *free), execution_options={"yield_per": 2000})
            if free
            else ()
        ):
            for column, text in zip(free, texts, strict=True):
                if isinstance(text, str) and not text.isprintable():
                    what = tell("its {name}", name=column.name)
                    yield from _tried(_row(table.name, number), clean_text, what, text)


def _each(
    connection: Connection, wanted: Select[Any], what: str, build: Callable[[Row[Any]], object]
) -> Iterator[str]:
    rows: Iterable[Row[Any]] = connection.execute(wanted, execution_options={"yield_per": 2000})
    for row in rows:
        yield from _tried(_row(what, row.id), build, row)


# Each with the names of its joint, which are those of its first settings.
_ADVICES = (
    select(ADVICE, SETUP.c.joint, SETUP.c.settings.label("first"))
    .join(SETUP, SETUP.c.id == ADVICE.c.setup)
    .order_by(ADVICE.c.id)
)
_FOUND = (
    select(
        FOUND.c.entry.label("id"), FOUND.c.settings, SETUP.c.joint, SETUP.c.settings.label("first")
    )
    .join(ENTRY, ENTRY.c.id == FOUND.c.entry)
    .join(SETUP, SETUP.c.id == ENTRY.c.setup)
    .order_by(FOUND.c.entry)
)


_NOTES = (
    select(NOTE, NOTE.c.entry.label("id"), ENTRY.c.by, ENTRY.c.at)
    .join(ENTRY, ENTRY.c.id == NOTE.c.entry)
    .order_by(NOTE.c.entry)
)


def _advice(row: Row[Any]) -> None:
    settings_of(family_named(row.joint, row.first), row.settings)
    moment(row.at)
    json.loads(row.document)


def _found(row: Row[Any]) -> None:
    some_of(family_named(row.joint, row.first), row.settings)


def _row(what: str, number: int) -> str:
    return tell("{what} {number}", what=what, number=number)


def _tried(what: str, build: Callable[..., object], *args: Any) -> Iterator[str]:
    try:
        build(*args)
    except WRONG as error:
        told = isinstance(error, FitlogError) and error.code == "damaged-log"
        why = reason(error)
        yield why if told else tell("{what}: {why}", what=what, why=why)
