"""Where the catalogue of another log lands: what is the same here, what is new, and what has a name
that is taken.

A bit, a stock or a machine is the same as the one here that a set-up found here uses, if it has the
same figures; else as one of the same name with the same figures. A name that is taken by other
figures gets " (2)" behind it, so that the two are kept apart: one that was edited in one of two
logs, too, so that the two end alike whichever comes into the other.

Each table of the catalogue is read once.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from itertools import count
from typing import Any

from sqlalchemy import Connection, Table, select

from ...domain import NAME_LIMIT
from ...texts import tell
from .. import digests
from ..schema import BIT, MACHINE, SHARPENING, STOCK
from ..shelf import same
from .digesting import Values
from .identity import Merged, unmet
from .planned import Planned

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


class _Chain:
    """The names that one name can get here, NAME, NAME (2) and so on, as far as they are taken.

    free: the first that is not; like: what has the others, by their figures.
    """

    def __init__(self, name: str) -> None:
        self._names = iter(_names(name))
        self.free = next(self._names)
        self.like: dict[Any, list[Values]] = defaultdict(list)

    def reach(self, kind: str, named: dict[str, Values]) -> None:
        """Go on to the first name that is not taken."""
        while (one := named.get(same(self.free))) is not None:
            self.like[_figures(kind, one)].append(one)
            self.free = next(self._names)


class Landing:
    """Takes the catalogue of another log; says what its numbers are here as set-ups
    refer to them.
    """

    def __init__(
        self,
        connection: Connection,
        rows: dict[str, list[Values]],
        done: Merged,
        planned: Planned,
        fresh: bool,
    ) -> None:
        self._rows, self._done, self._planned, self._fresh = rows, done, planned, fresh
        self._came: dict[str, dict[int, Values]] = {kind: {} for kind in TABLES}
        self._worn: dict[int, list[Values]] = defaultdict(list)
        self._at: dict[str, dict[int, int]] = {kind: {} for kind in TABLES}
        self._names: dict[str, str] = {}
        self._chains: dict[tuple[str, str], _Chain] = {}
        here = {kind: _read(connection, table) for kind, table in TABLES.items()}
        self._here = {kind: {row["id"]: row for row in rows} for kind, rows in here.items()}
        self._named = {
            kind: {same(row["name"]): row for row in rows} for kind, rows in here.items()
        }
        self._last = {kind: max(rows, default=0) for kind, rows in self._here.items()}
        self._sharpenings: dict[int, list[Values]] = defaultdict(list)
        self._number_of_sharpening = planned.last["sharpening"]
        for row in _read(connection, SHARPENING):
            self._sharpenings[row["bit"]].append(row)

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
            old, new = there[column], here[column]
            if old is None or new is None or old in self._at[kind]:
                continue
            if old not in self._came[kind]:
                raise unmet(kind, old)
            if self._is_still(kind, self._came[kind][old], self._here[kind][new]):
                self._settle(kind, old, new)

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
        key = kind, same(row["name"])
        chain = self._chains[key] = self._chains.get(key) or _Chain(row["name"])
        chain.reach(kind, self._named[kind])
        for one in chain.like[_figures(kind, row)]:
            if self._alike(kind, row, one):
                self._settle(kind, old, one["id"])
                return
        self._add(kind, old, {**row, "name": chain.free})

    def _add(self, kind: str, old: int, row: Values) -> None:
        new = self._last[kind] = self._last[kind] + 1
        row = {**digests.own(row), "id": new}
        self._rows[kind].append(row)
        self._here[kind][new] = self._named[kind][same(row["name"])] = row
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
        row, one = self._came[kind][old], self._here[kind][new]
        self._done.found[kind] += 1
        self._note(kind, old, new, row["name"], one["name"])
        if kind == "bit":
            here, there = self._sharpenings[new], self._worn[old]
            self._done.found["sharpening"] += min(len(here), len(there))
            if len(there) > len(here):
                self._sharpen(new, there[len(here) :])
                one.update({name: row[name] for name in ("diameter", "measured")})
                one.update(digests.own(one))
                self._planned.edited.append(dict(one))
                self._chains.clear()  # they know it by the figures that it had

    def _note(self, kind: str, old: int, new: int, was: str, name: str) -> None:
        self._at[kind][old] = new
        if kind == "machine":
            self._names[same(was)] = name

    def _sharpen(self, bit: int, rows: Iterable[Values]) -> None:
        for row in rows:
            self._number_of_sharpening += 1
            new = {**row, "bit": bit, "id": self._number_of_sharpening}
            self._rows["sharpening"].append(new)
            self._sharpenings[bit].append(new)
            self._done.added["sharpening"] += 1

    def _is_still(self, kind: str, row: Values, one: Values) -> bool:
        """Tell whether what came is what a set-up in both logs has here, and nobody edited either;
        a bit may be sharpened further in one of them.
        """
        if kind != "bit":
            return self._alike(kind, row, one)
        here, there = self._sharpenings[one["id"]], self._worn[row["id"]]
        less, more = (here, there) if len(here) <= len(there) else (there, here)
        if not _prefix(less, more):
            return False
        figures = [_figures(kind, row), _figures(kind, one)]
        if len(less) < len(more):  # the one sharpened less often is as the other one was then
            newer, older = (row, one) if more is there else (one, row)
            then = more[len(less)]
            was = {"diameter": then["diameter_before"], "measured": then["measured_before"]}
            figures = [_figures(kind, {**newer, **was}), _figures(kind, older)]
        return figures[0] == figures[1]

    def _alike(self, kind: str, row: Values, one: Values) -> bool:
        """Tell whether what came and what is here have the same figures; bits the same sharpenings,
        too.
        """
        if kind == "bit":
            here, there = self._sharpenings[one["id"]], self._worn[row["id"]]
            if len(here) != len(there) or not _prefix(here, there):
                # two shops' bits with one name on the box; the same bit is known by a set-up that
                # is in both
                return False
        if kind == "machine" and not _same_parts(row["parts"], one["parts"]):
            return False
        return _figures(kind, row) == _figures(kind, one)


def _read(connection: Connection, table: Table) -> list[Values]:
    return [dict(row._mapping) for row in connection.execute(select(table).order_by(table.c.id))]


def _figures(kind: str, row: Values) -> tuple[Any, ...]:
    """Return what tells a thing from another one of its name, a machine's parts excepted."""
    return tuple(_figure(row[name]) for name in FIGURES[kind])


def _names(name: str) -> Iterable[str]:
    yield name
    for n in count(2):
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
