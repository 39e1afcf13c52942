"""The whole log out and in: everything to a document, and another log's document merged into this
one.
"""

from __future__ import annotations

import pickle
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from tempfile import SpooledTemporaryFile
from typing import IO

from ..errors import FitlogError
from ..exchange.document import Row, lines
from ..language.units import preference
from ..log import Log, Stamp
from ..log.care.vouching import vouched
from ..log.transfer.arriving import Arrivals
from ..log.transfer.identity import Merged
from ..log.transfer.merging import Merge
from ..log.transfer.together import Undo, together

_IN_MEMORY = 2**25  # bytes of rows put aside that need no file


@dataclass(frozen=True)
class Imported:
    """What an import did, or would do.  still_open: set-ups it added that are neither ended nor
    undone.

    kept: the set-up that was the current one, and stays so; None without one.
    """

    merged: Merged
    identical: bool
    still_open: tuple[int, ...]
    kept: int | None


def write_log(log: Log, write: Callable[[str], object]) -> dict[str, int]:
    """Hand the document of the whole log to `write`, line by line; return how many rows of each
    kind it has. Raises Refused "damaged-log" as `vouched` does, when part of it was handed on.
    """
    counts: dict[str, int] = {}

    def counted(rows: Iterable[Row]) -> Iterator[Row]:
        for kind, row in rows:
            counts[kind] = counts.get(kind, 0) + 1
            yield kind, row

    with vouched(log.store) as rows:
        for line in lines(counted(rows)):
            write(line)
    return counts


def read_log(log: Log, rows: Iterable[Row], by: str, *, dry_run: bool = False) -> Imported:
    """Merge the rows of a document into the log in one transaction; with `dry_run` only tell what
    that would do. All rows are read and checked before it is the turn to write.

    Raises Refused "bad-row" for the first row that the domain would refuse, and what reading the
    document raises; then nothing is stored.
    """
    result: Imported | None = None
    arrivals = Arrivals()

    def refused(why: str) -> FitlogError:
        return arrivals.refused("row", why)

    with SpooledTemporaryFile(_IN_MEMORY) as spool:
        _checked(rows, arrivals, spool)
        with together(log) as (held, connection):
            result = _merged(held, Merge(connection, refused), arrivals, spool, by)
            if dry_run:
                raise Undo
    assert result is not None
    return result


def _checked(rows: Iterable[Row], arrivals: Arrivals, spool: IO[bytes]) -> None:
    """Put the rows of a document aside, each as it may be stored: nobody waits meanwhile."""
    for kind, given in rows:
        row = arrivals.checked(kind, given)
        if kind == "preference" and row["key"] == "units":
            preference(row["value"])
        pickle.dump((kind, row), spool, pickle.HIGHEST_PROTOCOL)
    spool.seek(0)


def _merged(log: Log, merge: Merge, arrivals: Arrivals, spool: IO[bytes], by: str) -> Imported:
    """Merge the rows that were put aside."""
    before, count = _current(log), arrivals.number
    for arrivals.number in range(1, count + 1):  # a refusal names the row
        merge.add(*pickle.load(spool))
    merged = merge.end()
    kept = _keep_current(log, before, by)
    return Imported(merged, merge.fresh, _still_open(log, merged), kept)


def _current(log: Log) -> dict[str | None, int | None]:
    """Return the number of the current set-up at each machine, and of all under None."""
    places: list[str | None] = [machine.name for machine in log.machines(retired=True)]
    found = {place: log.current(place) for place in [*places, None]}
    return {place: setup.number if setup else None for place, setup in found.items()}


def _keep_current(log: Log, before: dict[str | None, int | None], by: str) -> int | None:
    """Choose the set-ups again that were the current ones: an import must not change what the next
    cut is logged to.
    """
    for place, number in before.items():  # that of all comes last, since choosing one changes it
        now = _current(log).get(place)
        if number is not None and now != number:
            log.choose(number, Stamp(by, datetime.now(UTC), place))
    return before[None]


def _still_open(log: Log, merged: Merged) -> tuple[int, ...]:
    wanted = set(merged.setups)
    if not wanted:
        return ()
    bits = {bit.name for bit in log.bits(retired=True)}
    return tuple(
        sorted(
            setup.number for bit in bits for setup in log.open_setups(bit) if setup.number in wanted
        )
    )
