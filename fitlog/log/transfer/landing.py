"""Where the catalogue of another log lands: what is the same here, what is new, and what has a name
that is taken.

A bit, a stock or a machine is the same as the one here that a set-up found here uses; else as one
of the same name with the same figures. A name that is taken by other figures gets " (2)" behind it,
so that the two are kept apart.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Table, select, update

from ...domain import NAME_LIMIT
from ...texts import tell
from .. import digests
from ..door import sound
from ..schema import BIT, MACHINE, SHARPENING, STOCK
from ..shelf import same
from . import bulk
from .digesting import Values
from .identity import Merged, unmet

TABLES: dict[str, Table] = {"bit": BIT, "stock": STOCK, "machine": MACHINE}
# The figures that tell one from another. What a stock's moisture or a scale's zero is today does
# not, nor whether it is set between its marks.
FIGURES = {
    "bit": ("diameter", "angle", "cutting_length", "neck", "measured"),
    "stock": ("species", "thickness", "width"),
    "machine": (),
}
OF_A_PART = ("step", "turn", "backlash", "pack")
# Only of these do all exports have figures: of any other part they tell one from another only where
# both sides say them.
FIRST_PARTS = ("height", "fence")
USES = (
    ("bit", "bit_id"),
    ("stock", "stock_id"),
    ("stock", "pin_stock_id"),
    ("machine", "machine_id"),
)


class Landing:
    """Takes the catalogue of another log; says what its numbers are here as set-ups
    refer to them.
    """

    def __init__(
        self,
        connection: Connection,
        shelf: dict[str, dict[int, Any]],
        rows: dict[str, list[Values]],
        done: Merged,
        fresh: bool,
    ) -> None:
        self._connection, self._rows, self._done, self._fresh = connection, rows, done, fresh
        self._came: dict[str, dict[int, Values]] = {kind: {} for kind in TABLES}
        self._worn: dict[int, list[Values]] = defaultdict(list)
        self._at: dict[str, dict[int, int]] = {kind: {} for kind in TABLES}
        self._names: dict[str, str] = {}

    def take(self, kind: str, row: Values) -> None:
        """Take a bit, a stock, a machine or a sharpening; raises ValueError for a number that came
        before.
        """
        if self._fresh:
            self._rows[kind].append(row)
            self._done.added[kind] += 1
            if kind in TABLES:
                self._at[kind][row["id"]] = row["id"]
        elif kind == "sharpening":
            self._worn[row["bit"]].append(row)
        elif row["id"] in self._came[kind]:
            raise ValueError(tell("{kind} {number} comes twice", kind=kind, number=row["id"]))
        else:
            self._came[kind][row["id"]] = row

    def known(self, there: Values, here: Values) -> None:
        """Learn from a set-up that is in both logs what its bit, its boards and its machine are
        here.
        """
        for kind, column in USES:
            if (
                there[column] is not None
                and here[column] is not None
                and there[column] not in self._at[kind]
            ):
                self._settle(kind, there[column], here[column])

    def references(self, started: Values) -> Values:
        """Return the numbers here of what a new set-up is made of; raises ValueError for what did
        not come.
        """
        return {column: self._number(kind, started[column]) for kind, column in USES}

    def machine_name(self, name: str | None) -> str | None:
        """Return what a machine is called here."""
        return name if name is None else self._names.get(same(name), name)

    def rest(self) -> None:
        """Land what no set-up has asked for."""
        for kind, came in self._came.items():
            for number in came:
                self._number(kind, number)

    def _number(self, kind: str, old: int | None) -> int | None:
        if old is None:
            return None
        if old not in self._at[kind]:
            if old not in self._came[kind]:
                raise unmet(kind, old)
            self._find(kind, old)
        return self._at[kind][old]

    def _find(self, kind: str, old: int) -> None:
        """Find what came among what is here by its name and figures, or add it."""
        row = self._came[kind][old]
        here = {same(one["name"]): one for one in self._here(kind)}
        for name in _names(row["name"]):
            one = here.get(same(name))
            if one is None:
                self._add(kind, old, {**row, "name": name})
                return
            if self._alike(kind, row, one):
                self._settle(kind, old, one["id"])
                return

    def _add(self, kind: str, old: int, row: Values) -> None:
        new = bulk.highest(self._connection, TABLES[kind]) + 1
        self._connection.execute(TABLES[kind].insert().values({**digests.own(row), "id": new}))
        self._done.added[kind] += 1
        was = self._came[kind][old]["name"]
        if row["name"] != was:
            self._done.renamed.append((kind, was, row["name"]))
        self._note(kind, old, new, was, row["name"])
        if kind == "bit":
            self._sharpen(new, self._worn[old])

    def _settle(self, kind: str, old: int, new: int) -> None:
        """Take what came for one that is here; a bit that was sharpened since then is so
        here, too.
        """
        if old not in self._came[kind]:
            raise unmet(kind, old)
        row, one = self._came[kind][old], next(one for one in self._here(kind) if one["id"] == new)
        self._done.found[kind] += 1
        self._note(kind, old, new, row["name"], one["name"])
        if kind == "bit":
            here, there = self._sharpenings(new), self._worn[old]
            self._done.found["sharpening"] += min(len(here), len(there))
            if _prefix(here, there) and len(there) > len(here):
                self._sharpen(new, there[len(here) :])
                values = {name: row[name] for name in ("diameter", "measured")}
                whole = digests.own({**one, **values})
                self._connection.execute(update(BIT).where(BIT.c.id == new).values(whole))
            elif not _prefix(there, here) and there:
                said = "sharpenings of {name!r} that this log knows otherwise"
                self._done.left_out.append(tell(said, name=one["name"]))

    def _note(self, kind: str, old: int, new: int, was: str, name: str) -> None:
        self._at[kind][old] = new
        if kind == "machine":
            self._names[same(was)] = name

    def _sharpen(self, bit: int, rows: Iterable[Values]) -> None:
        for row in rows:
            new = {**row, "bit": bit, "id": bulk.highest(self._connection, SHARPENING) + 1}
            new["digest"] = digests.after_last(SHARPENING, digests.said_of(new))
            self._connection.execute(SHARPENING.insert().values(new))
            self._done.added["sharpening"] += 1

    def _alike(self, kind: str, row: Values, one: Values) -> bool:
        """Tell whether what came and what is here have the same figures; bits the same sharpenings,
        too.
        """
        if kind == "bit":
            here, there = self._sharpenings(one["id"]), self._worn[row["id"]]
            if len(here) != len(there) or not _prefix(here, there):
                # two shops' bits with one name on the box; the same bit is known by a set-up that
                # is in both
                return False
        if kind == "machine" and not _same_parts(row["parts"], one["parts"]):
            return False
        return all(_figure(row[name]) == _figure(one[name]) for name in FIGURES[kind])

    def _here(self, kind: str) -> list[Values]:
        rows = self._connection.execute(select(TABLES[kind])).all()
        return [dict(row._mapping) for row in sound(rows, kind, TABLES[kind])]

    def _sharpenings(self, bit: int) -> list[Values]:
        wanted = select(SHARPENING).where(SHARPENING.c.bit == bit).order_by(SHARPENING.c.id)
        return [dict(row._mapping) for row in self._connection.execute(wanted)]


def _names(name: str) -> Iterable[str]:
    yield name
    for n in range(2, 10_000):
        behind = f" ({n})"
        yield name[: NAME_LIMIT - len(behind)].rstrip() + behind


def _prefix(short: list[Values], long: list[Values]) -> bool:
    """Tell whether one history of sharpenings begins with another."""
    plain = [
        [{k: v for k, v in row.items() if k not in ("id", "bit", "digest")} for row in rows]
        for rows in (short, long)
    ]
    return plain[1][: len(short)] == plain[0]


def _same_parts(row: Values, one: Values) -> bool:
    """Tell whether two machines' parts have the same figures."""
    for part in row.keys() | one.keys():
        both = [parts.get(part, {}) for parts in (row, one)]
        for what in OF_A_PART:
            there, here = (known.get(what) for known in both)
            if there != here and (part in FIRST_PARTS or None not in (there, here)):
                return False
    return True


def _figure(value: Any) -> Any:
    return same(value) if isinstance(value, str) else value
