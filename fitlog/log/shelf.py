"""One shelf of the catalogue: how bits, stocks and machines alike are listed, found, added and
changed.
"""

from __future__ import annotations

import shlex
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Generic, NamedTuple, TypeVar

from sqlalchemy import Connection, Row, Select, Table, func, or_, select

from ..domain import Bit, Machine, Stock
from ..errors import Refused, nearest
from ..texts import tell
from . import digests, entries
from .door import sound
from .named import made
from .parts import to_machine
from .rows import catalogue_values, to_bit, to_stock
from .schema import BIT, MACHINE, SETUP, SHARPENING, STOCK
from .side_by_side import side_by_side

T = TypeVar("T", Bit, Stock, Machine)

_TIMES = (
    select(func.count()).where(SHARPENING.c.bit == BIT.c.id).scalar_subquery().label("sharpenings")
)


@dataclass(frozen=True, slots=True)
class Shelf(Generic[T]):
    """`uses`: the columns of a set-up that refer to the kind.  add: the options of its `add`
    command.
    """

    what: str
    table: Table
    rows: Select[Any]
    build: Callable[[Row[Any]], T]
    uses: tuple[str, ...]
    add: str

    def all(self, connection: Connection) -> dict[int, T]:
        """Return everything on the shelf by its number, in alphabetical order."""
        return self.stand(connection.execute(self.rows))

    def stand(self, rows: Iterable[Row[Any]]) -> dict[int, T]:
        """Return what `rows` are by its number, in alphabetical order."""
        return {
            row.id: made(tell("{what} {number}", what=self.what, number=row.id), self.build, row)
            for row in sorted(
                sound(list(rows), self.what, self.table), key=lambda row: same(row.name)
            )
        }

    def find(self, connection: Connection, name: str) -> tuple[int, T]:
        """Return number and value of what is called `name`; refuse ("unknown-name") what is not
        there.
        """
        return self.named(self.all(connection), name)

    def named(self, everything: Mapping[int, T], name: str) -> tuple[int, T]:
        """Return number and value of what is called `name` among all there is, as `find` does."""
        for number, item in everything.items():
            if same(item.name) == same(name):
                return number, item
        live = [item.name for item in everything.values() if not item.retired]
        near = nearest(name, live)
        raise Refused(
            "unknown-name",
            "no {what} is called {name!r}",
            "{near}" if near else "add one: {command}",
            what=self.what,
            name=name[:60],
            near=near,
            command=f"fitlog {self.what} add NAME {self.add}",
        )

    def as_read(self, everything: Mapping[int, T], seen: T) -> int:
        """Return the number of what its reader has `seen`; refuse ("log-moved-on") what was edited
        since, and what is not there as `find` does.
        """
        number, now = self.named(everything, seen.name)
        self.require_seen(now, seen)
        return number

    def require_seen(self, now: T, seen: T) -> None:
        """Refuse ("log-moved-on") what is `now` other than its reader has `seen`."""
        if now != seen:
            look = f"{self.what} show {shlex.quote(now.name)}"
            what = tell("the {what} {name!r}", what=self.what, name=now.name)
            raise entries.moved_on(what, tell("it was edited"), look)

    def put(self, connection: Connection, item: T) -> int:
        """Add `item` and return its number; refuse a name that is taken."""
        self.require_free(connection, item.name)
        values = digests.own(catalogue_values(item))
        made = connection.execute(self.table.insert().values(values)).inserted_primary_key
        assert made is not None
        return int(made[0])

    def change(self, connection: Connection, number: int, item: T) -> T:
        """Store `item` as row `number`; refuse a name that another row has. Return it as stored."""
        self.require_free(connection, item.name, number)
        values = digests.own(catalogue_values(item))
        connection.execute(self.table.update().where(self.table.c.id == number).values(values))
        return replace(item, name=values["name"])

    def require_free(self, connection: Connection, name: str, but: int = 0) -> None:
        """Refuse ("name-taken") a name that a row other than `but` has, whatever the case of its
        letters.
        """
        for number, item in self.all(connection).items():
            if same(item.name) == same(name) and number != but:
                raise Refused(
                    "name-taken",
                    "there is already a {what} called {name!r}, which is retired"
                    if item.retired
                    else "there is already a {what} called {name!r}",
                    "choose another name, or edit that one",
                    what=self.what,
                    name=item.name,
                )

    def drop(self, connection: Connection, number: int, item: T) -> None:
        """Remove row `number`, an `item` that no set-up refers to; refuse the rest ("in-use")."""
        self.require_unused(connection, number, item)
        connection.execute(self.table.delete().where(self.table.c.id == number))

    def require_unused(
        self, connection: Connection, number: int, item: T, *, edited: bool = False
    ) -> None:
        """Refuse ("in-use") what a set-up refers to. edited: it is to become another, not to go."""
        refers = or_(*(SETUP.c[column] == number for column in self.uses))
        setup = connection.execute(select(func.max(SETUP.c.id)).where(refers)).scalar_one_or_none()
        if setup is None and not (isinstance(item, Bit) and item.sharpenings):
            return
        name = shlex.quote(item.name)
        raise Refused(
            "in-use",
            "the record of its sharpening refers to the {what} {name!r}"
            if setup is None
            else "set-up {setup} refers to the {what} {name!r}",
            "add another, and retire {quoted}" if edited else "retire it instead: {command}",
            setup=setup,
            what=self.what,
            name=item.name,
            quoted=name,
            command=f"fitlog {self.what} retire {name}",
        )


def same(name: str) -> str:
    """Return what two spellings of one name have in common."""
    return " ".join(name.split()).casefold()


BITS: Shelf[Bit] = Shelf(
    "bit",
    BIT,
    select(BIT, _TIMES),
    lambda row: to_bit(row, row.sharpenings),
    ("bit_id",),
    "--diameter L --angle DEG --cutting-length L",
)
STOCKS: Shelf[Stock] = Shelf(
    "stock",
    STOCK,
    select(STOCK),
    to_stock,
    ("stock_id", "pin_stock_id"),
    "--species TEXT --thickness L --width L",
)
MACHINES: Shelf[Machine] = Shelf(
    "machine", MACHINE, select(MACHINE), to_machine, ("machine_id",), "--height-step L"
)


class Shelves(NamedTuple):
    """Everything in the catalogue at one moment: by its number, in alphabetical order."""

    bits: dict[int, Bit]
    stocks: dict[int, Stock]
    machines: dict[int, Machine]

    def bit(self, name: str) -> tuple[int, Bit]:
        """Return number and value of the bit called `name`. Raises Refused: unknown-name."""
        return BITS.named(self.bits, name)

    def stock(self, name: str) -> tuple[int, Stock]:
        """Return number and value of the stock called `name`. Raises Refused: unknown-name."""
        return STOCKS.named(self.stocks, name)

    def machine(self, name: str | None) -> int | None:
        """Return the number of the machine called `name`, None where none is named. Raises Refused:
        unknown-name.
        """
        return None if name is None else MACHINES.named(self.machines, name)[0]


_EVERYTHING = side_by_side(bit=BITS.rows, stock=STOCKS.rows, machine=MACHINES.rows)


def shelves(connection: Connection) -> Shelves:
    """Return the whole catalogue, by one query."""
    rows: dict[str, list[Row[Any]]] = {shelf.what: [] for shelf in (BITS, STOCKS, MACHINES)}
    for row in connection.execute(_EVERYTHING):
        rows[row.of].append(row)
    return Shelves(
        BITS.stand(rows["bit"]), STOCKS.stand(rows["stock"]), MACHINES.stand(rows["machine"])
    )
