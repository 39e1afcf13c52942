"""What is written down about a set-up, at any time or with its start or its end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sqlalchemy import Connection

from ..domain import Note
from . import entries
from .engine import Store
from .once import once
from .rows import Stamp
from .schema import NOTE


class Noting:
    """What a log does to keep notes."""

    _store: Store

    def note(self, setup: int, notes: Sequence[Note], stamp: Stamp) -> int:
        """Log what is written down about a set-up, whether it is open or not, each an entry of its
        own; return the first. The entry, time and author in `notes` are ignored. They hold whatever
        else was logged meanwhile. Raises Refused: unknown-setup.
        """

        def write(connection: Connection) -> int:
            entries.require(connection, setup, entries.NOT_UNDONE)
            return add_notes(connection, setup, notes, stamp)

        return once(self._store, stamp, ("note",), write, lambda _, there: int(there.id))


def add_notes(connection: Connection, setup: int, notes: Sequence[Note], stamp: Stamp) -> int:
    """Append what is written down, the first under the key of the stamp; return its entry, 0 for
    none.
    """
    first = 0
    for note in notes:
        row = {"about": note.about, "text": note.text}
        entry = entries.add(connection, "note", setup, stamp, row)
        connection.execute(NOTE.insert().values(entry=entry, **row))
        first, stamp = first or entry, replace(stamp, key=None)
    return first
