"""Trial cuts from lines of a table: which of them are in the log already, and many put in at once.

Each line's entry has a key made of its set-up, what it says, and which of several such lines it is,
so that a table that comes again, or whose import's answer was lost, is not doubled.
"""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Sequence
from typing import NamedTuple

from sqlalchemy import Connection, select

from ...domain import TrialCut
from ..entries import LIVE, NOT_UNDONE, advice_in_force, require_open
from ..log import Log
from ..rows import Stamp, cut_values, moment_text, reading_values, verdict_values
from ..schema import ENTRY, SETUP, TRIAL_CUT
from . import bulk, digesting
from .digesting import Values
from .identity import taken_keys

MARK = "line:"


class There(NamedTuple):
    """A line that is in the log: the number of its piece, and whether its entry stands."""

    piece: int
    stands: bool


def key_of(*parts: object) -> str:
    """Return the key of what `parts` say together."""
    text = "\n".join(map(str, parts))
    return MARK + hashlib.sha256(text.encode()).hexdigest()


def known_lines(log: Log, setup: int) -> dict[str, There]:
    """Return the lines that a set-up has from tables, by their keys."""
    wanted = (
        select(ENTRY.c.key, TRIAL_CUT.c.piece, LIVE.label("stands"))
        .join(TRIAL_CUT, TRIAL_CUT.c.entry == ENTRY.c.id)
        .where(ENTRY.c.setup == setup, ENTRY.c.kind == "cut", ENTRY.c.key.startswith(MARK))
    )
    with log._store.reading() as connection:
        rows = connection.execute(wanted).all()
    return {row.key: There(row.piece, bool(row.stands)) for row in rows}


def started_for(log: Log, key: str) -> tuple[int | None, str]:
    """Return the set-up that was started with a key, None without one that stands, and the key for
    the next.
    """
    number, tried = 1, key
    with log._store.reading() as connection:
        while True:
            wanted = select(SETUP.c.id, NOT_UNDONE.label("stands")).join(
                ENTRY, ENTRY.c.id == SETUP.c.entry
            )
            row = connection.execute(wanted.where(ENTRY.c.key == tried)).first()
            if row is None or row.stands:
                return (None if row is None else int(row.id)), tried
            number += 1
            tried = f"{key}.{number}"


def append(
    log: Log, setup: int, cuts: Sequence[tuple[TrialCut, Stamp]], seen: int | None = None
) -> None:
    """Append trial cuts to a set-up, each of a piece that it has or of the one after the last; to a
    finished one only joints of its real boards.

    seen: its newest entry as the caller read it. Raises Refused as `entries.require_open`.
    """
    rows: dict[str, list[Values]] = defaultdict(list)
    in_force = advice_in_force(SETUP.c.id).label("advice")
    with log._store.writing() as connection:
        digest = digesting.heads(connection)
        joints = all(cut.after is not None for cut, _ in cuts)
        row = require_open(connection, setup, seen=seen, also=(in_force,), finished=joints)
        advice = row.advice
        for number, (cut, stamp) in enumerate(cuts, bulk.highest(connection, ENTRY) + 1):
            plain = {"by": stamp.by, "machine": stamp.machine, "key": stamp.key}
            about = {"kind": "cut", "setup": setup, "at": moment_text(stamp.at), **plain}
            rows["entry"].append({"id": number, **about})
            rows["trial_cut"].append({"entry": number, "advice": advice, **cut_values(cut)})
            rows["verdict"] += ({"cut": number, **o} for o in verdict_values(cut.verdict))
            rows["reading"] += ({"cut": number, **o} for o in reading_values(cut.readings))
            if len(rows["entry"]) >= bulk.BATCH:
                _put(connection, rows, digest)
        _put(connection, rows, digest)


def _put(connection: Connection, rows: dict[str, list[Values]], digest: dict[str, str]) -> None:
    """Store rows and forget them; a key that a set-up of another log has brought in goes to no
    second entry. digest: as `digesting.heads`.
    """
    taken = taken_keys(
        lambda query: list(connection.execute(query).scalars()),
        [row["key"] for row in rows["entry"] if row["key"]],
    )
    for row in rows["entry"]:
        row["key"] = None if row["key"] in taken else row["key"]
    digesting.give(digest, rows)
    bulk.insert(connection, rows)
    rows.clear()
