"""What makes a row of another log the same as one that is here, and what a merge has to say of
itself.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left, bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from sqlalchemy import Connection, Table, select

from ...texts import tell
from ..named import made
from ..rows import moment
from ..schema import ENTRY
from . import bulk
from .digesting import PARTS, Values
from .standing import Ask

_BEGAN, _ONE = datetime(1970, 1, 1, tzinfo=UTC), timedelta(microseconds=1)

# Columns that say where a row lies, not what it says: numbers that a merge gives anew.
PLACES = frozenset(
    (
        "id",
        "entry",
        "cut",
        "advice",
        "piece",
        "setup",
        "bit_id",
        "stock_id",
        "pin_stock_id",
        "machine_id",
        "digest",
        "role",
    )
)


@dataclass
class Merged:
    """What a merge did: rows added and rows found by kind, what catalogue names became, what was
    left out and why.
    """

    added: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    found: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    renamed: list[tuple[str, str, str]] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    setups: list[int] = field(default_factory=list)


class Numbers:
    """What the numbers of rows became: two columns of eight bytes, looked up by halving; 0 for what
    was left out.
    """

    def __init__(self, what: str) -> None:
        self.what, self._old, self._new = what, array("q"), array("q")

    def add(self, old: int, new: int) -> None:
        """Keep a pair; raises ValueError unless the old numbers come in rising order."""
        if self._old and old <= self._old[-1]:
            why, last = "{what} {number} comes after {what} {last}", self._old[-1]
            raise ValueError(tell(why, what=self.what, number=old, last=last))
        self._old.append(old)
        self._new.append(new)

    def get(self, old: int) -> int:
        """Return what a number became; raises ValueError for one that did not come."""
        at = bisect_left(self._old, old)
        if at == len(self._old) or self._old[at] != old:
            raise unmet(self.what, old)
        return self._new[at]


def unmet(kind: str, number: int) -> ValueError:
    """Return the error of a row that refers to one that did not come."""
    said = "it refers to {kind} {number}, which is not in the file before it"
    return ValueError(tell(said, kind=kind, number=number))


class Moments:
    """Finds the rows that a table has of a moment: two columns of eight bytes, looked up by
    halving.
    """

    def __init__(self, connection: Connection, table: Table) -> None:
        wanted = select(table.c.at, table.c.id).order_by(table.c.at, table.c.id)
        self._at, self._row = array("q"), array("q")
        for at, row in connection.execute(wanted, execution_options={"yield_per": bulk.BATCH}):
            what = tell("{what} {number}", what=table.name, number=row)
            self._at.append(made(what, _microseconds, at))
            self._row.append(row)

    def of(self, at: str) -> Iterable[int]:
        """Return the numbers of the rows of a moment, in their order."""
        wanted = _microseconds(at)
        return self._row[bisect_left(self._at, wanted) : bisect_right(self._at, wanted)]


def _microseconds(at: str) -> int:
    return (moment(at) - _BEGAN) // _ONE


def taken_keys(ask: Ask, keys: Sequence[str]) -> set[str]:
    """Return those of a batch of keys that an entry here has, and those that come twice in it."""
    twice = {key for key, times in Counter(keys).items() if times > 1}
    there = select(ENTRY.c.key).where(ENTRY.c.key.in_(keys))
    return twice.union(ask(there) if keys else ())


def content(row: Values, back: int | None) -> tuple[object, ...]:
    """Return what an entry says, without the numbers that say where it lies. back: the entry that
    it takes or brings back.
    """
    key = PARTS[row["kind"]][0] if row["kind"] in PARTS else None
    within = row[key] if key else {}
    lists = tuple(
        tuple(sorted(_said(one) for one in within.get(name, ())))
        for name in ("verdicts", "readings")
    )
    return row["kind"], row["at"], " ".join(row["by"].split()), _said(within), lists, back


def _said(row: Values) -> tuple[tuple[str, str], ...]:
    """Return the columns of a row that say something, in a form that can be ordered and
    compared.
    """
    kept = (
        (k, v)
        for k, v in row.items()
        if k not in PLACES and k not in ("verdicts", "readings", "retracted", "redone")
    )
    return tuple(sorted((k, _plain(v)) for k, v in kept))


def _plain(value: object) -> str:
    """Return a value in the words that all its spellings have: names of an object in any order, a
    number with or without its .0, text with any space.
    """
    if isinstance(value, dict):
        return repr(sorted((name, _plain(one)) for name, one in value.items()))
    if isinstance(value, int) and not isinstance(value, bool):
        return repr(float(value))
    return repr(" ".join(value.split()) if isinstance(value, str) else value)
