"""Many deeds of a log in one transaction, all of them stored or none; and the set-ups that deeds
from elsewhere are about.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import datetime

from sqlalchemy import Connection, or_, select

from .. import recent
from ..engine import Store
from ..entries import NOT_UNDONE
from ..log import Log
from ..rows import moment_text
from ..schema import ENTRY, MACHINE, SETUP
from ..shelf import BITS, STOCKS


class _Joined(Store):
    """A store within the transaction of another: all that is done through it is stored together, or
    not at all.
    """

    def __init__(self, around: Store, connection: Connection) -> None:
        self.where, self.path, self.read_only = around.where, around.path, around.read_only
        self._around, self._connection = around, connection

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give the connection of the transaction, in which much may have been written since."""
        self.shelves = None
        yield self._connection

    writing = glance = reading

    def _others(self, connection: Connection) -> int:
        return 0  # nobody else writes meanwhile

    def explained(self) -> AbstractContextManager[None]:
        """Explain as the store around does."""
        return self._around.explained()

    def shut(self) -> None:
        """Leave it to the store around."""


@contextmanager
def together(log: Log) -> Iterator[tuple[Log, Connection]]:
    """Give the log within one transaction, and its connection."""
    try:
        with log._store.patient(), log._store.writing() as connection:
            yield Log(_Joined(log._store, connection)), connection
    finally:
        log._store.shelves = None


def setup_numbers(
    log: Log,
    *,
    bit: str | None = None,
    stock: str | None = None,
    joint: str | None = None,
    at: datetime | None = None,
) -> list[int]:
    """Return the numbers of the set-ups whose start stands, oldest first; `stock` is that of either
    board.

    at: only those that started at that moment. Raises Refused: unknown-name.
    """
    wanted = select(SETUP.c.id).where(NOT_UNDONE)
    with log._store.reading() as connection:
        if bit is not None:
            wanted = wanted.where(SETUP.c.bit_id == BITS.find(connection, bit)[0])
        if stock is not None:
            number = STOCKS.find(connection, stock)[0]
            wanted = wanted.where(or_(SETUP.c.stock_id == number, SETUP.c.pin_stock_id == number))
        if joint is not None:
            wanted = wanted.where(SETUP.c.joint == joint)
        if at is not None:
            then = select(ENTRY.c.id).where(ENTRY.c.kind == "start", ENTRY.c.at == moment_text(at))
            wanted = wanted.where(SETUP.c.entry.in_(then))
        return [int(number) for number in connection.execute(wanted.order_by(SETUP.c.id)).scalars()]


def current_numbers(connection: Connection) -> dict[str | None, int]:
    """Return the number of the current set-up at each machine that has one, by its name, and of all
    under None, as the last.
    """
    machines = connection.execute(select(MACHINE.c.name, MACHINE.c.id)).all()
    found = {}
    for name, machine in [*((row.name, row.id) for row in machines), (None, None)]:
        number = connection.execute(recent.touched(machine)).scalar()
        if number is not None:
            found[name] = int(number)
    return found
