"""How set-ups are read back from the log, any number of them in the same few queries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sqlalchemy import Connection, Row, Select, func, select

from ..domain import Bit, SetUp, TrialCut
from .entries import AS_IT_IS, LIVE, NOT_UNDONE, OUTCOMES
from .rows import moment, to_cut, to_plan, to_settings, to_verdict
from .schema import ADVICE, ENTRY, READING, SETUP, SHARPENING, TRIAL_CUT, VERDICT
from .shelf import BITS, MACHINES, STOCKS

Grouped = dict[int, list[Row[Any]]]
# set-ups read at a time: a few thousand rows, far fewer than a statement may have parameters
BATCH = 100


@dataclass(frozen=True, slots=True)
class LoggedCut:
    """A trial cut as logged, retracted or not, with the JSON document that was shown before it."""

    cut: TrialCut
    retracted: bool
    document: str | None


def load(
    connection: Connection, wanted: Select[Any] | Sequence[int], pieces: int | None = None
) -> list[SetUp]:
    """Return set-ups, newest first: those whose numbers are given, or selected.

    pieces: read only so many of the newest pieces of each; None: all. Eight queries a hundred
    set-ups, each by an index. A reference to a row that is not there raises KeyError.
    """
    numbers = (
        list(connection.execute(wanted).scalars()) if isinstance(wanted, Select) else list(wanted)
    )
    numbers = sorted(set(numbers), reverse=True)
    made: list[SetUp] = []
    for start in range(0, len(numbers), BATCH):
        made += _load(connection, numbers[start : start + BATCH], pieces)
    return made


def _load(connection: Connection, numbers: Sequence[int], pieces: int | None) -> list[SetUp]:
    undone = NOT_UNDONE.is_(False).label("undone")
    rows = connection.execute(
        select(SETUP, ENTRY.c.at, ENTRY.c.by, undone)
        .join(ENTRY, ENTRY.c.id == SETUP.c.entry)
        .where(SETUP.c.id.in_(numbers))
        .order_by(SETUP.c.id.desc())
    ).all()
    bits, stocks, machines = BITS.all(connection), STOCKS.all(connection), MACHINES.all(connection)
    worn = _worn(connection, {row.bit_id for row in rows})
    ends, shown, cuts = (
        _ends(connection, numbers),
        _shown(connection, numbers),
        _live_cuts(connection, numbers, pieces),
    )
    made = []
    for row in rows:
        bit = _bit_then(bits[row.bit_id], worn.get(row.bit_id, []), row.sharpenings)
        machine = None if row.machine_id is None else machines[row.machine_id]
        end = ends.get(row.id)
        made.append(
            SetUp(
                number=row.id,
                plan=to_plan(row, bit, stocks[row.stock_id], stocks[row.pin_stock_id], machine),
                first=to_settings(row),
                shown=to_settings(shown[row.id]),
                started=moment(row.at),
                by=row.by,
                cuts=tuple(cuts.get(row.id, ())),
                outcome=OUTCOMES[end.kind] if end else None,
                ended=moment(end.at) if end else None,
                sharpenings=row.sharpenings,
                undone=bool(row.undone),
                as_it_is=end is not None and end.kind == AS_IT_IS,
            )
        )
    return made


def logged_cuts(connection: Connection, setup: int) -> list[LoggedCut]:
    """Return every trial cut of a set-up in the order of the log, those taken back included."""
    rows = connection.execute(
        _cuts([setup])
        .add_columns(ADVICE.c.document, LIVE.is_(False).label("taken_back"))
        .join(ADVICE, ADVICE.c.id == TRIAL_CUT.c.advice)
    ).all()
    cuts = _with_parts(connection, rows)
    return [
        LoggedCut(cut, bool(row.taken_back), row.document)
        for row, cut in zip(rows, cuts, strict=True)
    ]


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


def _worn(connection: Connection, bits: Iterable[int]) -> Grouped:
    rows = connection.execute(select(SHARPENING).where(SHARPENING.c.bit.in_(list(bits)))).all()
    return _grouped(sorted(rows, key=_number), "bit")


def _ends(connection: Connection, numbers: Sequence[int]) -> dict[int, Row[Any]]:
    rows = connection.execute(
        select(ENTRY).where(ENTRY.c.setup.in_(numbers), ENTRY.c.kind.in_(OUTCOMES), LIVE)
    ).all()
    return {row.setup: row for row in sorted(rows, key=_number)}


def _shown(connection: Connection, numbers: Sequence[int]) -> dict[int, Row[Any]]:
    newest = (
        select(func.max(ADVICE.c.id)).where(ADVICE.c.setup.in_(numbers)).group_by(ADVICE.c.setup)
    )
    settings = select(ADVICE).with_only_columns(*(c for c in ADVICE.c if c.name != "document"))
    found = list(connection.execute(newest).scalars())
    return {row.setup: row for row in connection.execute(settings.where(ADVICE.c.id.in_(found)))}


def _cuts(numbers: Sequence[int]) -> Select[Any]:
    return (
        select(TRIAL_CUT, ENTRY.c.setup, ENTRY.c.at, ENTRY.c.by, ENTRY.c.machine)
        .join(ENTRY, ENTRY.c.id == TRIAL_CUT.c.entry)
        .where(ENTRY.c.setup.in_(numbers), ENTRY.c.kind == "cut")
        .order_by(TRIAL_CUT.c.entry)
    )


def _live_cuts(
    connection: Connection, numbers: Sequence[int], pieces: int | None
) -> dict[int, list[TrialCut]]:
    rows = connection.execute(_cuts(numbers).where(LIVE)).all()
    if pieces is not None:
        last: dict[int, int] = {}
        for row in rows:
            last[row.setup] = max(0 if row.slot else row.piece, last.get(row.setup, 0))
        rows = [row for row in rows if row.piece > last[row.setup] - pieces]
    cuts: dict[int, list[TrialCut]] = defaultdict(list)
    for row, cut in zip(rows, _with_parts(connection, rows), strict=True):
        cuts[row.setup].append(cut)
    return cuts


def _with_parts(connection: Connection, rows: Sequence[Row[Any]]) -> list[TrialCut]:
    """Return the cuts of `rows` with what was said and measured of them."""
    entries = [row.entry for row in rows]
    said, measured = (
        _grouped(
            sorted(
                connection.execute(select(table).where(table.c.cut.in_(entries))).all(), key=_number
            ),
            "cut",
        )
        for table in (VERDICT, READING)
    )
    return [
        to_cut(row, to_verdict(said.get(row.entry, ())), measured.get(row.entry, ()))
        for row in rows
    ]


def _number(row: Row[Any]) -> int:
    return int(row.id)


def _grouped(rows: Iterable[Row[Any]], key: str) -> Grouped:
    groups: Grouped = defaultdict(list)
    for row in rows:
        groups[getattr(row, key)].append(row)
    return groups
