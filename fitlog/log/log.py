"""The log: what is appended to it, and what is read back."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from types import TracebackType
from typing import Any, Literal

from sqlalchemy import Connection, Row, func, select

from ..domain import Note, Plan, Settings, SetUp, TrialCut
from . import entries, reading, recent
from .catalogue import Catalogue
from .engine import Store, Upgraded
from .found import FoundBook
from .lookback import LookBack
from .noting import Noting, add_notes
from .once import known_key, of_key, once
from .opening import open_store
from .preferences import PreferenceBook
from .reading import LoggedCut
from .rows import (
    Stamp,
    cut_values,
    plan_values,
    reading_values,
    require_joint,
    verdict_values,
)
from .schema import ENTRY, READING, SETUP, TRIAL_CUT, VERDICT
from .shelf import BITS, MACHINES, STOCKS, shelves
from .showing import Shown, add_advice
from .undoing import TakenBack


def open_log(location: str | os.PathLike[str], *, create: bool) -> Log:
    """Open the log at `location`, a file or a database's URL; with `create` lay it out when it is
    new.

    Raises Refused: no-log, log-is-folder, parent-is-file, not-a-log, newer-log, unknown-version,
    no-such-store, no-permission, read-only-log, log-busy, disk-full, damaged-log, log-unreachable,
    bad-path.
    """
    return Log(open_store(location, create=create))


class Log(Catalogue, PreferenceBook, FoundBook, Noting, LookBack, TakenBack, Shown):
    """An open log, for one thread; use it in a `with` block. Every method is one transaction. A
    deed whose stamp has the key of one that is there writes nothing and returns what that did.

    Besides what each method says, all of them may raise Refused for what is wrong with the file.
    """

    @property
    def path(self) -> Path | None:
        """The file; None for a log that a server keeps."""
        return self._store.path

    @property
    def where(self) -> str:
        """Where the log is, as it may be shown: a path, or a URL without a password."""
        return self._store.where

    @property
    def store(self) -> Store:
        """What keeps the log, for what looks after it."""
        return self._store

    @property
    def upgraded(self) -> Upgraded | None:
        """What was brought up to today's layout when the log was opened; None when it was of
        today's.
        """
        return self._store.upgraded

    def __enter__(self) -> Log:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._store.shut()

    def start(
        self,
        plan: Plan,
        first: Settings,
        document: str | Callable[[int], str],
        stamp: Stamp,
        shown: Settings | None = None,
        *,
        finishes: SetUp | None = None,
        notes: Sequence[Note] = (),
    ) -> int:
        """Log the start of a set-up with the advice shown for its first piece; return its number.

        document: that advice, or what makes it once the set-up has its number. shown: its settings,
        if not the `first`. finishes: a set-up, as it was read, that is finished before. notes:
        written down about it in the same transaction. Raises Refused: unknown-name for what is not
        in the catalogue, log-moved-on for what is there but not as the plan has it, still-tuning
        while the bit has an open one.
        """
        values = plan_values(plan, first)

        def write(connection: Connection) -> int:
            there = shelves(connection)
            bit_id = BITS.as_read(there.bits, plan.bit)
            if finishes is not None:
                before = replace(stamp, key=None)
                _close(connection, finishes.number, "finish", before, finishes.newest)
            entries.require_none_open(connection, bit_id)
            number = connection.execute(
                select(func.coalesce(func.max(SETUP.c.id), 0) + 1)
            ).scalar_one()
            references = {
                "bit_id": bit_id,
                "stock_id": STOCKS.as_read(there.stocks, plan.stock),
                "pin_stock_id": STOCKS.as_read(there.stocks, plan.pin_stock),
                "machine_id": plan.machine and MACHINES.as_read(there.machines, plan.machine),
            }
            row = {"sharpenings": plan.bit.sharpenings, **references, **values}
            entry = entries.add(connection, "start", number, stamp, row)
            connection.execute(SETUP.insert().values(id=number, entry=entry, **row))
            text = document if isinstance(document, str) else document(int(number))
            add_advice(connection, number, entry, shown or first, text, stamp)
            add_notes(connection, number, notes, replace(stamp, key=None))
            return int(number)

        return once(self._store, stamp, ("start",), write, lambda _, there: int(there.setup))

    def record(
        self,
        setup: int,
        cut: TrialCut,
        stamp: Stamp,
        *,
        new_piece: bool | None = None,
        seen: int | None = None,
        advice: int | None = None,
    ) -> int:
        """Log a trial cut; return its entry. The entry, time and author in `cut` are ignored.

        `cut.piece` is a live piece of the set-up, or the one after the last live piece. new_piece:
        True when the caller means a new piece, False when one already logged; None takes either. Of
        a slot it is the number that the next piece will have. seen: the set-up's newest entry as
        the caller read it; advice: the number of the one it was cut by, None for the one last
        shown. Raises Refused: log-moved-on when `seen` is another now or the number no longer
        right, already-ended (of a finished one only for a test piece), unknown-setup,
        bad-setting for another joint's, bad-slot for a slot that is judged or not measured.
        """
        values = cut_values(cut)

        def write(connection: Connection) -> int:
            new = True if cut.slot else new_piece
            row = entries.require_piece(
                connection, setup, cut.piece, new, seen, advice, finished=cut.after is not None
            )
            require_joint(row.joint, cut.settings)
            values["advice"] = row.advice
            said, read = verdict_values(cut.verdict), reading_values(cut.readings)
            entry = entries.add(connection, "cut", setup, stamp, values, said, read)
            connection.execute(TRIAL_CUT.insert(), {"entry": entry, **values})
            for table, rows in ((VERDICT, said), (READING, read)):
                if rows:
                    connection.execute(table.insert(), [{"cut": entry, **one} for one in rows])
            return entry

        return once(self._store, stamp, ("cut",), write, _entry)

    def close(
        self,
        setup: int,
        outcome: Literal["finished", "abandoned"],
        stamp: Stamp,
        as_it_is: bool = False,
        *,
        seen: int | None = None,
        notes: Sequence[Note] = (),
    ) -> int:
        """Log the end of a set-up; return the entry. as_it_is: it is finished short of ready, by
        the user's word.

        seen: its newest entry as the caller read it. notes: written down about it right before, in
        the same transaction, so that the end is what an undo takes back first. Raises Refused:
        already-ended, unknown-setup, log-moved-on.
        """
        kind = "abandon" if outcome == "abandoned" else entries.AS_IT_IS if as_it_is else "finish"
        return once(
            self._store,
            stamp,
            tuple(entries.OUTCOMES),
            lambda connection: _close(connection, setup, kind, stamp, seen, notes),
            _entry,
        )

    def choose(self, setup: int, stamp: Stamp) -> None:
        """Log that a set-up is the one to work on. It holds whatever was logged of it meanwhile,
        and said twice it says nothing else. Raises Refused: unknown-setup.
        """
        with self._store.writing() as connection:
            entries.require(connection, setup, entries.NOT_UNDONE)
            entries.add(connection, "choose", setup, stamp)

    def setup(self, number: int, by: str | None = None) -> SetUp:
        """Return a set-up, one whose start was taken back included; by: whom it is read for, with
        what was shown to them. Raises Refused: unknown-setup.
        """
        with self._store.reading() as connection:
            found = self._load(connection, [number], by=by) if 0 < number <= entries.HIGHEST else []
            if not found:
                raise entries.unknown(connection, number)
            return found[0]

    def current(self, machine: str | None = None, by: str | None = None) -> SetUp | None:
        """Return the set-up last started or chosen whose start stands, of those at a machine if one
        is named; or None. by: as `setup`.

        Raises Refused: unknown-name for a machine that is not in the catalogue.
        """
        with self._store.reading() as connection:
            at = self._shelves(connection).machine(machine)
            found = self._load(connection, recent.touched(at), by=by)
            return found[0] if found else None

    def written_by_others(self) -> int:
        """Return a number that changes when anyone but this open log has written to it."""
        return self._store.written_by_others()

    @property
    def known_of_others(self) -> int:
        """What `written_by_others` returned last; before, what it would have at the opening."""
        return self._store.known_of_others

    def done(self, key: str, *kinds: str) -> int | None:
        """Return the set-up of the deed of one of these kinds that has a key, None without one.
        Raises Refused: known-key for another deed's.
        """
        with self._store.glance() as connection:
            found = of_key(connection, key)
            if found is not None and found.kind not in kinds:
                raise known_key(key, found)
            return None if found is None else int(found.setup)

    def entry_of(self, setup: int, begins: str) -> int | None:
        """Return the newest entry of a set-up whose key begins so, None without one."""
        own = select(func.max(ENTRY.c.id)).where(ENTRY.c.setup == setup)
        with self._store.glance() as connection:
            wanted = own.where(ENTRY.c.key.startswith(begins, autoescape=True))
            return connection.execute(wanted).scalar_one_or_none()

    def newest(self, setups: Sequence[int]) -> dict[int, int]:
        """Return the number of the newest entry of each set-up that there is, as `SetUp.newest`."""
        with self._store.glance() as connection:
            return entries.newest_each(connection, setups)

    def newest_live(self, setup: int) -> tuple[int, str] | None:
        """Return number and kind (start, cut, found, note, finish, finish-as-is, abandon) of the
        newest entry not taken back.
        """
        return next(iter(self.live(setup, 1)), None)

    def live(self, setup: int, most: int) -> list[tuple[int, str]]:
        """Return number and kind of the newest entries not taken back, so many at `most`, the
        newest first.
        """
        with self._store.reading() as connection:
            return entries.newest_live(connection, setup, most)

    def cut_entries(self, setup: int) -> list[LoggedCut]:
        """Return every trial cut of a set-up, in the order of the log. Raises Refused:
        unknown-setup.
        """
        with self._store.reading() as connection:
            entries.require(connection, setup)
            return reading.logged_cuts(connection, setup)


def _entry(_: Connection, there: Row[Any]) -> int:
    return int(there.id)


def _close(
    connection: Connection,
    setup: int,
    kind: str,
    stamp: Stamp,
    seen: int | None,
    notes: Sequence[Note] = (),
) -> int:
    entries.require_open(connection, setup, seen=seen)
    add_notes(connection, setup, notes, replace(stamp, key=None))
    return entries.add(connection, kind, setup, stamp)
