"""Entries taken back, and brought back again: both are entries themselves, so that nothing is ever
lost.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile
from typing import Any

from sqlalchemy import Connection, Row, Select, func, select

from ..errors import Refused
from . import entries, recent
from .door import sound
from .engine import Store
from .once import once
from .rows import Stamp
from .schema import ENTRY, REDO, RETRACTION
from .shelf import MACHINES


class TakenBack:
    """What a log does to take entries back and to bring them back; any number of times, the newest
    first.
    """

    _store: Store

    def retract(self, entry: int, stamp: Stamp, *older: int, seen: int | None = None) -> None:
        """Log that an entry is taken back, and `older` ones of its set-up with it: all or none.

        seen: the newest entry of the set-up as the caller read it. Raises Refused: unknown-entry;
        log-moved-on; not-retractable for what is no start, cut or end; already-retracted;
        still-tuning when that would give a bit a second open set-up.
        """

        def write(connection: Connection) -> None:
            said = stamp
            found = [(one, *_retractable(connection, one, seen)) for one in (entry, *older)]
            for one, setup, kind in found:
                if kind in entries.OUTCOMES:
                    entries.require_none_open(
                        connection, entries.require(connection, setup).bit_id, but=setup
                    )
                row = {"retracted": one}
                own = entries.add(connection, "retract", setup, said, row)
                connection.execute(RETRACTION.insert().values(entry=own, **row))
                said = replace(said, key=None)

        once(self._store, stamp, ("retract",), write, lambda *_: None)

    def redo(self, setup: int, stamp: Stamp, *, seen: int | None = None) -> list[tuple[int, str]]:
        """Bring back what was last taken back of a set-up; return number and kind of each entry, in
        their order.

        What one undo took back comes back as one. seen: the set-up's newest entry as the caller
        read it. Raises Refused: unknown-setup; log-moved-on; nothing-to-redo when nothing was, or
        something new was logged of it since; still-tuning when the bit would have a second open
        set-up.
        """

        def write(connection: Connection) -> list[tuple[int, str]]:
            said = stamp
            also = (entries.ENDED.label("ended"),)
            found = entries.require(connection, setup, seen=seen, also=also)
            back = _last_undo(connection, setup)
            if not back:
                raise Refused(
                    "nothing-to-redo",
                    "nothing was taken back of set-up {setup} since its newest entry",
                    "see what it holds with fitlog show {setup}",
                    "see what was said so far",
                    setup=setup,
                )
            _require_room(connection, setup, found, back)
            for row in back:
                again = {"redone": row.id}
                own = entries.add(connection, "redo", setup, said, again)
                connection.execute(REDO.insert().values(entry=own, **again))
                said = replace(said, key=None)
            return _told(back)

        return once(self._store, stamp, ("redo",), write, _brought_back)

    def would_redo(self, setup: int) -> list[tuple[int, str]]:
        """Return number and kind of each entry that a redo of a set-up would bring back now, in
        their order; none where it would be refused.
        """
        with self._store.reading() as connection:
            found = entries.require(connection, setup, also=(entries.ENDED.label("ended"),))
            back = _last_undo(connection, setup)
            try:
                _require_room(connection, setup, found, back)
            except Refused:
                return []
            return _told(back)

    def redoable(self, machine: str | None = None) -> int | None:
        """Return the number of the set-up, of those at a machine if one is named, that `redo` is
        about when none is named.

        It is the current one, or the last one whose start was taken back, where that was the later
        deed; None without any. Raises Refused: unknown-name.
        """
        with self._store.reading() as connection:
            at = None if machine is None else MACHINES.find(connection, machine)[0]
            found = recent.any_of(recent.touched(at), recent.touched(at, undone=True))
            newest = (
                select(func.max(ENTRY.c.id), ENTRY.c.setup)
                .where(ENTRY.c.setup.in_(found))
                .group_by(ENTRY.c.setup)
            )
            return max(
                ((entry, setup) for entry, setup in connection.execute(newest)), default=(0, None)
            )[1]


def _require_room(
    connection: Connection, setup: int, found: Row[Any], back: Sequence[Row[Any]]
) -> None:
    """Refuse to bring back what has no place any more: another set-up is open, or this one ended.
    found: the set-up's row, with the entry that `ended` it.
    """
    if any(row.kind == "start" for row in back):
        entries.require_none_open(connection, found.bit_id, but=setup)
    elif any(row.retracted < (found.ended or 0) for row in back):
        entries.require_open(connection, setup)


def _told(back: Sequence[Row[Any]]) -> list[tuple[int, str]]:
    return sorted((int(row.retracted), str(row.kind)) for row in back)


def _brought_back(connection: Connection, first: Row[Any]) -> list[tuple[int, str]]:
    """Return number and kind of each entry that one redo brought back, of which `first` is the
    first row.

    Its rows have numbers one after another, since nobody writes between, and only the first has the
    key. It ends with the row that brings back the first one of an undo, which has that undo's key.
    """
    what, undone = ENTRY.alias("what"), ENTRY.alias("undone")
    wanted = (
        select(ENTRY.c.id, ENTRY.c.at, ENTRY.c.by, ENTRY.c.key, undone.c.key.label("ends"))
        .add_columns(what.c.id.label("back"), what.c.kind)
        .join(REDO, REDO.c.entry == ENTRY.c.id)
        .join(undone, undone.c.id == REDO.c.redone)
        .join(RETRACTION, RETRACTION.c.entry == undone.c.id)
        .join(what, what.c.id == RETRACTION.c.retracted)
        .where(ENTRY.c.setup == first.setup, ENTRY.c.id >= first.id)
        .order_by(ENTRY.c.id)
    )
    found = []
    for place, row in enumerate(connection.execute(wanted), first.id):
        if row.id != place or (row.at, row.by) != (first.at, first.by):
            break
        if place > first.id and row.key is not None:
            break
        found.append((int(row.back), str(row.kind)))
        if row.ends is not None:
            break
    return sorted(found)


def _last_undo(connection: Connection, setup: int) -> Sequence[Row[Any]]:
    """Return what one undo took back last and no redo brought back, newest first; nothing once a
    newer entry stands.
    """
    own = (ENTRY.c.setup == setup, ENTRY.c.kind.in_(entries.UNDOABLE))
    newest = connection.execute(select(func.max(ENTRY.c.id)).where(*own)).scalar_one()
    what = ENTRY.alias("what")
    wanted: Select[Any] = (
        select(ENTRY.c.id, ENTRY.c.at, ENTRY.c.by, ENTRY.c.key, RETRACTION.c.retracted, what.c.kind)
        .join(RETRACTION, RETRACTION.c.entry == ENTRY.c.id)
        .join(what, what.c.id == RETRACTION.c.retracted)
        .where(ENTRY.c.setup == setup, ENTRY.c.kind == "retract", ENTRY.c.id > newest)
        .where(~select(REDO.c.entry).where(REDO.c.redone == ENTRY.c.id).exists())
        .order_by(ENTRY.c.id.desc())
    )
    rows = sound(connection.execute(wanted).all(), "entry", ENTRY)
    same = list(takewhile(lambda row: (row.at, row.by) == (rows[0].at, rows[0].by), rows))
    # A key is on the first row of its undo alone; a clock that stands still gives two undos one
    # moment.
    keyed = next((n for n, row in enumerate(same, 1) if row.key is not None), len(same))
    return same[:keyed]


def _retractable(connection: Connection, entry: int, seen: int | None) -> tuple[int, str]:
    """Return the set-up and the kind of an entry that can be taken back; refuse any other."""
    wanted = select(
        ENTRY, entries.LIVE.label("live"), entries.newest_of(ENTRY.c.setup).label("newest")
    ).where(ENTRY.c.id == entry)
    row = connection.execute(wanted).first() if 0 < entry <= entries.HIGHEST else None
    if row is None:
        raise Refused(
            "unknown-entry",
            "the log has no entry {entry}",
            "see the set-up's entries with fitlog show",
            "load the page again",
            entry=entry,
        )
    sound([row], "entry", ENTRY)
    entries.require_seen(connection, row.setup, row.newest, seen)
    if row.kind not in entries.UNDOABLE:
        raise Refused(
            "not-retractable",
            "entry {entry} is a {kind}, which stays",
            "take back a cut or an end",
            entry=entry,
            kind=row.kind,
        )
    if not row.live:
        raise Refused(
            "already-retracted",
            "entry {entry} was already taken back",
            "bring it back with fitlog redo",
            "bring it back under Take back",
            entry=entry,
        )
    return int(row.setup), str(row.kind)
