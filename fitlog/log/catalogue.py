"""The catalogue of a log: the bits, stocks and machines that set-ups are made of."""

from __future__ import annotations

import shlex
from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeVar

from sqlalchemy import Connection, select

from ..domain import Bit, Machine, Stock, edited
from . import digests, entries
from .engine import Store
from .once import Done, digest_of, seen_done
from .rows import Stamp, moment_text
from .schema import SHARPENING
from .shelf import BITS, MACHINES, STOCKS, Shelf, T

Answer = TypeVar("Answer")


class Catalogue:
    """Names are matched whatever the case of their letters.

    Every method may raise Refused: unknown-name, name-taken, in-use, or what is wrong with the
    file. What changes or takes away a thing says what its writer has `seen` of it, and is refused
    (log-moved-on) of anything else; None: it holds whatever the thing is now. What is added was not
    there to be seen: its name is refused where somebody else was faster.
    """

    def __init__(self, store: Store) -> None:
        self._store = store

    def bits(self, retired: bool = False) -> list[Bit]:
        """Return the bits in alphabetical order, with the retired ones when asked for."""
        return self._list(BITS, retired)

    def stocks(self, retired: bool = False) -> list[Stock]:
        """Return the stocks in alphabetical order, with the retired ones when asked for."""
        return self._list(STOCKS, retired)

    def machines(self, retired: bool = False) -> list[Machine]:
        """Return the machines in alphabetical order, with the retired ones when asked for."""
        return self._list(MACHINES, retired)

    def bit(self, name: str) -> Bit:
        """Return the bit called `name`, a retired one included."""
        return self._get(BITS, name)

    def stock(self, name: str) -> Stock:
        """Return the stock called `name`, a retired one included."""
        return self._get(STOCKS, name)

    def machine(self, name: str) -> Machine:
        """Return the machine called `name`, a retired one included."""
        return self._get(MACHINES, name)

    def add_bit(self, bit: Bit) -> None:
        """Add a bit, never sharpened."""
        self._add(BITS, bit)

    def add_stock(self, stock: Stock) -> None:
        """Add a stock."""
        self._add(STOCKS, stock)

    def add_machine(self, machine: Machine) -> None:
        """Add a machine."""
        self._add(MACHINES, machine)

    def edit_bit(self, name: str, seen: Bit | None = None, /, **changes: Any) -> Bit:
        """Change fields of a bit (its name too, or retired=False) and return it.

        What a bit was before a sharpening must go with the change, because its old set-ups are read
        with both.
        """
        return self._edit(BITS, name, changes, seen)

    def edit_stock(self, name: str, seen: Stock | None = None, /, **changes: Any) -> Stock:
        """Change fields of a stock (its name too, or retired=False) and return it."""
        return self._edit(STOCKS, name, changes, seen)

    def edit_machine(self, name: str, seen: Machine | None = None, /, **changes: Any) -> Machine:
        """Change fields of a machine (its name too, or retired=False) and return it; parts: what
        changes of each part that is named.
        """
        return self._edit(MACHINES, name, changes, seen)

    def retire_bit(self, name: str, seen: Bit | None = None) -> None:
        """Offer a bit no longer; its set-ups stay."""
        self._edit(BITS, name, {"retired": True}, seen)

    def retire_stock(self, name: str, seen: Stock | None = None) -> None:
        """Offer a stock no longer; its set-ups stay."""
        self._edit(STOCKS, name, {"retired": True}, seen)

    def retire_machine(self, name: str, seen: Machine | None = None) -> None:
        """Offer a machine no longer; its set-ups stay."""
        self._edit(MACHINES, name, {"retired": True}, seen)

    def remove_bit(self, name: str, seen: Bit | None = None) -> None:
        """Remove a bit that nothing refers to."""
        self._remove(BITS, name, seen)

    def remove_stock(self, name: str, seen: Stock | None = None) -> None:
        """Remove a stock that nothing refers to."""
        self._remove(STOCKS, name, seen)

    def remove_machine(self, name: str, seen: Machine | None = None) -> None:
        """Remove a machine that nothing refers to."""
        self._remove(MACHINES, name, seen)

    def sharpen(
        self, name: str, diameter: float | None, stamp: Stamp, seen: Bit | None = None
    ) -> Bit:
        """Log that a bit was sharpened; refused ("still-tuning") while a set-up of it is open.

        diameter: as measured afterwards, mm; None leaves the old figure, no longer a measured one.
        """

        def write(connection: Connection) -> Done[Bit]:
            number, old = BITS.find(connection, name)
            BITS.require_seen(old, seen or old)
            entries.require_none_open(connection, number)
            now = old.diameter if diameter is None else diameter
            new = replace(
                old, diameter=now, measured=diameter is not None, sharpenings=old.sharpenings + 1
            )
            row = {
                "bit": number,
                "at": moment_text(stamp.at),
                "by": stamp.by,
                "diameter_before": old.diameter,
                "measured_before": old.measured,
                "diameter_after": diameter,
            }
            noted = digests.append(connection, SHARPENING, row, digests.said_of(row))
            return Done(BITS.change(connection, number, new), SHARPENING, noted)

        return self._change(BITS, name, write)

    def _change(
        self, shelf: Shelf[T], name: str, write: Callable[[Connection], Done[Answer]]
    ) -> Answer:
        """Write to the catalogue, which is then no longer what was read of it."""
        try:
            look = f"fitlog {shelf.what} show {shlex.quote(name)}"
            return seen_done(self._store, write, look)
        finally:
            self._store.shelves = None

    def _list(self, shelf: Shelf[T], retired: bool) -> list[T]:
        with self._store.glance() as connection:
            return [item for item in shelf.all(connection).values() if retired or not item.retired]

    def _get(self, shelf: Shelf[T], name: str) -> T:
        with self._store.glance() as connection:
            return shelf.find(connection, name)[1]

    def _add(self, shelf: Shelf[T], item: T) -> None:
        def write(connection: Connection) -> Done[None]:
            return Done(None, shelf.table, shelf.put(connection, item))

        self._change(shelf, item.name, write)

    def _edit(
        self, shelf: Shelf[T], name: str, changes: dict[str, Any], seen: T | None = None
    ) -> T:
        def write(connection: Connection) -> Done[T]:
            number, old = shelf.find(connection, name)
            shelf.require_seen(old, seen or old)
            new = edited(old, changes)
            if isinstance(new, Bit):
                _require_history(connection, number, new)
                if isinstance(old, Bit) and (old.angle == 0) != (new.angle == 0):
                    # What was cut by a dovetail bit was not cut by a straight one.
                    shelf.require_unused(connection, number, old, edited=True)
            before = digest_of(connection, shelf.table, number)
            return Done(shelf.change(connection, number, new), shelf.table, number, before)

        return self._change(shelf, name, write)

    def _remove(self, shelf: Shelf[T], name: str, seen: T | None) -> None:
        def write(connection: Connection) -> Done[None]:
            number, item = shelf.find(connection, name)
            shelf.require_seen(item, seen or item)
            before = digest_of(connection, shelf.table, number)
            shelf.drop(connection, number, item)
            return Done(None, shelf.table, number, before)

        self._change(shelf, name, write)


def _require_history(connection: Connection, number: int, bit: Bit) -> None:
    before = select(SHARPENING.c.diameter_before).where(SHARPENING.c.bit == number)
    for diameter in connection.execute(before).scalars():
        replace(bit, diameter=diameter)
