"""How set-ups are read back from the log, any number of them in the same few queries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from sqlalchemy import Connection, Row, Select, select

from ..domain import Bit, Family, Note, Other, SetUp, TrialCut
from ..texts import tell
from . import queries
from .door import sound
from .entries import AS_IT_IS, OUTCOMES
from .named import made as made_of
from .named import settings_of
from .rows import moment, to_cut, to_note, to_plan
from .schema import ENTRY, NOTE, SETUP, SHARPENING, TRIAL_CUT
from .shelf import Shelves

Grouped = dict[int, list[Row[Any]]]
# set-ups read at a time: a few thousand rows, far fewer than a statement may have parameters
BATCH = 100


class LoggedCut(NamedTuple):
    """A trial cut as logged, retracted or not."""

    cut: TrialCut
    retracted: bool


def load(
    connection: Connection,
    shelves: Shelves,
    wanted: Select[Any] | Sequence[int],
    pieces: int | None = None,
    by: str | None = None,
) -> list[SetUp]:
    """Return set-ups, newest first: those whose numbers are given, or selected.

    shelves: the catalogue as the connection sees it. pieces: read only so many of the newest pieces
    of each; None: all. by: whom they are read for. Three queries a hundred set-ups, each by an
    index, one more where a bit was sharpened since, and one where something is written down. A
    reference to a row that is not there raises KeyError.
    """
    batches: list[Select[Any] | Sequence[int]] = [wanted]
    if not isinstance(wanted, Select):
        every = sorted(set(wanted), reverse=True)
        batches = [every[first : first + BATCH] for first in range(0, len(every), BATCH)]
    made: list[SetUp] = []
    own = by is not None
    for batch in batches:
        if isinstance(batch, Select):
            of_them = queries.setups(own).where(SETUP.c.id.in_(batch))
            found: Sequence[Row[Any]] = connection.execute(of_them, {"by": by}).all()
        else:
            found = queries.of(connection, queries.numbered(own), batch, by=by)
        rows = sound(found, "set-up", SETUP, ENTRY)
        for first in range(0, len(rows), BATCH):
            made += _made(connection, shelves, rows[first : first + BATCH], pieces)
    return made


def _made(
    connection: Connection, shelves: Shelves, rows: Sequence[Row[Any]], pieces: int | None
) -> list[SetUp]:
    worn = _worn(connection, {r.bit_id for r in rows if _is_older(shelves.bits[r.bit_id], r)})
    cuts = _live_cuts(connection, [row.id for row in rows], pieces)
    notes = _live_notes(connection, [row.id for row in rows if row.noted])
    made = []
    for row in rows:
        bit = _bit_then(shelves.bits[row.bit_id], worn.get(row.bit_id, []), row.sharpenings)
        machine = None if row.machine_id is None else shelves.machines[row.machine_id]
        stocks = shelves.stocks[row.stock_id], shelves.stocks[row.pin_stock_id]
        if row.shown_id is None:
            raise KeyError(row.id)
        boards = (bit, *stocks, machine)
        made.append(
            made_of(
                tell("set-up {number}", number=row.id),
                _setup,
                row,
                boards,
                cuts.get(row.id, ()),
                notes.get(row.id, ()),
            )
        )
    return made


def _setup(
    row: Row[Any], boards: tuple[Any, ...], cuts: Sequence[TrialCut], notes: Sequence[Note]
) -> SetUp:
    plan = to_plan(row, *boards)
    return SetUp(
        number=row.id,
        plan=plan,
        first=settings_of(plan.family, row.settings),
        shown=settings_of(plan.family, row.shown_settings),
        started=moment(row.at),
        by=row.by,
        cuts=tuple(cuts),
        outcome=OUTCOMES[row.end_kind] if row.end_kind else None,
        ended=moment(row.end_at) if row.end_kind else None,
        sharpenings=row.sharpenings,
        undone=bool(row.undone),
        as_it_is=row.end_kind == AS_IT_IS,
        closing=row.end_id if row.end_kind else None,
        newest=row.newest,
        advice=row.shown_id,
        other=_other(plan.family, row),
        notes=tuple(notes),
    )


def _other(family: Family, row: Row[Any]) -> Other | None:
    """Return the advice that somebody else was shown after the one shown last to the person whom
    the row was read for, if it has other settings.
    """
    latest = getattr(row, "latest_id", row.shown_id)
    if latest == row.shown_id or row.latest_settings == row.shown_settings:
        return None
    return Other(settings_of(family, row.latest_settings), row.latest_by or "", row.shown_entry)


def logged_cuts(connection: Connection, setup: int) -> list[LoggedCut]:
    """Return every trial cut of a set-up in the order of the log, those taken back included."""
    found = queries.of(connection, queries.logged_cuts(), [setup])
    rows = sound(found, "entry", TRIAL_CUT, ENTRY)
    cuts = _with_parts(connection, rows)
    return [LoggedCut(cut, bool(row.taken_back)) for row, cut in zip(rows, cuts, strict=True)]


def _bit_then(bit: Bit, sharpened: list[Row[Any]], times: int) -> Bit:
    """Return the bit as it was when it had been sharpened `times` times."""
    if times >= len(sharpened):
        return bit
    first_since = sharpened[times]
    return replace(
        bit,
        diameter=first_since.diameter_before,
        measured=bool(first_since.measured_before),
        sharpenings=times,
    )


def _is_older(bit: Bit, row: Row[Any]) -> bool:
    return bool(row.sharpenings < bit.sharpenings)


def _worn(connection: Connection, bits: Iterable[int]) -> Grouped:
    numbers = list(bits)
    if not numbers:
        return {}
    rows = connection.execute(select(SHARPENING).where(SHARPENING.c.bit.in_(numbers))).all()
    return _grouped(sorted(sound(rows, "sharpening", SHARPENING), key=_number), "bit")


def _live_cuts(
    connection: Connection, numbers: Sequence[int], pieces: int | None
) -> dict[int, list[TrialCut]]:
    found = queries.of(connection, queries.standing_cuts(), numbers)
    rows = sound(found, "entry", TRIAL_CUT, ENTRY)
    if pieces is not None:
        last: dict[int, int] = {}
        run: set[int] = set()
        for row in rows:  # the test pieces before the first joint that was looked at: they teach
            run |= set() if row.after is None else {row.setup}
            if row.setup not in run:
                last[row.setup] = max(0 if row.slot else row.piece, last.get(row.setup, 0))
        rows = [row for row in rows if row.piece > last.get(row.setup, 0) - pieces]
    cuts: dict[int, list[TrialCut]] = defaultdict(list)
    for row, cut in zip(rows, _with_parts(connection, rows), strict=True):
        cuts[row.setup].append(cut)
    return cuts


def _live_notes(connection: Connection, numbers: Sequence[int]) -> dict[int, list[Note]]:
    found = queries.of(connection, queries.standing_notes(), numbers)
    notes: dict[int, list[Note]] = defaultdict(list)
    for row in sound(found, "entry", NOTE, ENTRY):
        made = made_of(tell("entry {number}", number=row.entry), to_note, row)
        notes[row.setup].append(made)
    return notes


def _with_parts(connection: Connection, rows: Sequence[Row[Any]]) -> list[TrialCut]:
    """Return the cuts of `rows` with what was said and measured of them."""
    found = queries.of(connection, queries.parts(), [row.entry for row in rows])
    parts = _grouped(sorted(found, key=_number), "cut")
    cuts = []
    for row in rows:
        own = parts.get(row.entry, ())
        said, read = (
            sound([part for part in own if part.of == of.name], of.name, of) for of in queries.SAID
        )
        cuts.append(made_of(tell("entry {number}", number=row.entry), to_cut, row, said, read))
    return cuts


def _number(row: Row[Any]) -> int:
    return int(row.id)


def _grouped(rows: Iterable[Row[Any]], key: str) -> Grouped:
    groups: Grouped = defaultdict(list)
    for row in rows:
        groups[getattr(row, key)].append(row)
    return groups
