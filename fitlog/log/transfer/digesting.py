"""Digests of rows as they lie in bulk, an entry with all that belongs to it inside: given to those
that are put in, looked at of those that come from elsewhere or are there.
"""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from sqlalchemy import Connection, select

from .. import digests
from ..layout import CATALOGUE
from ..schema import (
    ADVICE,
    ENTRY,
    FOUND,
    NOTE,
    PREFERENCE,
    READING,
    REDO,
    RETRACTION,
    SETUP,
    SHARPENING,
    TRIAL_CUT,
    VERDICT,
)

Values = dict[str, Any]
CHAINED = (SHARPENING, PREFERENCE, ENTRY, ADVICE)  # each row's digest follows the one before
# What an entry carries inside: its key, the table, the columns that say what stands around it
# anyway.
PARTS = {
    "start": ("started", SETUP, frozenset(("id", "entry"))),
    "cut": ("cut", TRIAL_CUT, frozenset(("entry",))),
    "found": ("found", FOUND, frozenset(("entry",))),
    "note": ("noted", NOTE, frozenset(("entry",))),
    "retract": ("takes_back", RETRACTION, frozenset(("entry",))),
    "redo": ("brings_back", REDO, frozenset(("entry",))),
}
SAID, MEASURED = ("verdicts", VERDICT), ("readings", READING)


class Chains:
    """Follows the digests of a log's rows in the order in which they lie in bulk."""

    def __init__(self) -> None:
        self._before = dict.fromkeys((table.name for table in CHAINED), "")

    def hold(self, kind: str, row: Values) -> bool | None:
        """Tell whether a row is the one that was written, after the one before it; None for one
        without a digest.
        """
        digest, before = row.get("digest"), self._before.get(kind, "")
        if kind in self._before:
            self._before[kind] = str(digest or "")
        if digest is None:
            return None
        return str(digest).removeprefix(digests.LATER) == digests.chained(before, said(kind, row))


def said(kind: str, row: Values) -> str:
    """Return what a row says to its digest; an entry with what belongs to it inside."""
    if kind == "advice":
        return digests.advice_said(row)
    key = PARTS[row["kind"]][0] if kind == "entry" and row["kind"] in PARTS else ""
    part = row.get(key, {})
    plain = {name: value for name, value in row.items() if name != key}
    return digests.said_of(plain, part, *(part.get(name, ()) for name, _ in (SAID, MEASURED)))


def heads(connection: Connection) -> dict[str, str]:
    """Return the digest of the last row of each chained table, "" without any."""
    last = {t.name: select(t.c.digest).order_by(t.c.id.desc()).limit(1) for t in CHAINED}
    return {name: str(connection.execute(one).scalar() or "") for name, one in last.items()}


def give(before: dict[str, str], rows: dict[str, list[Values]]) -> None:
    """Give a digest to every row that is to be put in and has none; rows: by the name of their
    table, an entry's parts by theirs. before: as `heads`, which goes on to the last of them.
    """
    there = defaultdict(list, rows)
    part = {row["entry"]: row for _, table, _ in PARTS.values() for row in there[table.name]}
    lists: dict[str, dict[int, list[Values]]] = {
        table.name: defaultdict(list) for table in (VERDICT, READING)
    }
    for name, found in lists.items():
        for row in there[name]:
            found[row["cut"]].append(row)
    for table in CATALOGUE:
        for row in there[table.name]:
            row["digest"] = _kept(row, digests.own(row)["digest"])
    for table in CHAINED:
        digest = before[table.name]
        for row in there[table.name]:
            if table is ENTRY:
                of_it = (lists[t.name][row["id"]] for t in (VERDICT, READING))
                text = digests.said_of(row, part.get(row["id"]), *of_it)
            else:
                text = said(table.name, row)
            digest = row["digest"] = _kept(row, digests.chained(digest, text))
        before[table.name] = digest


def _kept(row: Values, wanted: str) -> str:
    """Return the digest that a row comes with where it vouches for the row as it is put in, since
    it may tell that it was made later; else the one that is `wanted`.
    """
    came = str(row.get("digest"))
    return came if came.removeprefix(digests.LATER) == wanted else wanted
