"""Trial cuts out to a table."""

from __future__ import annotations

from collections.abc import Iterator

from ..errors import Refused
from ..exchange.columns import Columns
from ..exchange.cuts_out import csv_line, csv_row, headers
from ..families.names import first_joint
from ..families.typed import speech_of
from ..log import Log
from ..log.care.vouching import vouched
from ..log.transfer.together import setup_numbers


def csv_lines(log: Log, setup: int | None, bit: str | None, stock: str | None) -> Iterator[str]:
    """Yield the trial cuts of one set-up, or of all with a bit or a stock, as lines of CSV, those
    taken back included.

    Slots in waste are left out: no row of the table is anything but a piece.

    Raises Refused before the first line: unknown-setup, unknown-name, other-joint, and
    damaged-log where any row of the log is not as it was written.
    """
    with vouched(log.store) as rows:
        for _ in rows:
            pass
    numbers = [setup] if setup is not None else setup_numbers(log, bit=bit, stock=stock)
    joint = log.setup(numbers[0]).plan.joint if numbers else first_joint()
    if setup is None:
        alike = setup_numbers(log, bit=bit, stock=stock, joint=joint)
        for number in sorted({*numbers}.difference(alike)):
            raise Refused(
                "other-joint",
                "set-up {number} is of another joint, and one table has one joint's columns",
                "name one set-up with --setup N",
                number=number,
            )
    table = Columns(speech_of(joint))
    yield csv_line(headers(table))
    for number in numbers:
        found = log.setup(number)
        for logged in (one for one in log.cut_entries(number) if not one.cut.slot):
            yield csv_line(csv_row(logged.cut, found, logged.retracted, table))
