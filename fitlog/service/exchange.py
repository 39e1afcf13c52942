"""The whole log out and in: everything to a document, and another log's document merged into this
one.
"""

from __future__ import annotations

import pickle
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from tempfile import SpooledTemporaryFile
from typing import IO

from ..errors import Refused
from ..exchange.document import Row, lines
from ..language.units import preference
from ..log import Log, Stamp
from ..log.care.vouching import vouched
from ..log.transfer.arriving import Arrivals
from ..log.transfer.identity import Merged
from ..log.transfer.merging import Merge
from ..log.transfer.planned import MovedOn
from ..log.transfer.together import current_numbers, together

_IN_MEMORY = 2**25  # bytes of rows put aside that need no file
_TRIES = 5  # times that a file is matched with a log that others write to


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
    that would do. All rows are read, checked and matched before it is the turn to write.

    Raises Refused "bad-row" for the first row that the domain would refuse, "log-moved-on" where
    others go on writing about the same, and what reading the document raises; then nothing is
    stored.
    """
    arrivals = Arrivals()
    with SpooledTemporaryFile(_IN_MEMORY) as spool:
        _checked(rows, arrivals, spool)
        for _ in range(_TRIES):
            with suppress(MovedOn), SpooledTemporaryFile(_IN_MEMORY) as aside, log.store.patient():
                spool.seek(0)
                merge = _matched(log, arrivals, spool, aside)
                kept = None if dry_run or not merge.done.added else _stored(log, merge, by)
                if kept is not None:
                    log.store.survey()
                else:
                    with log.store.reading() as connection:
                        kept = current_numbers(connection)
                return Imported(
                    merge.done, merge.fresh, merge.standing.still_open(), kept.get(None)
                )
    raise Refused(
        "log-moved-on",
        "{tries} times somebody wrote to the log what the file had to be matched with again; "
        "nothing was stored",
        "say it again once the others pause",
        tries=_TRIES,
    )


def _checked(rows: Iterable[Row], arrivals: Arrivals, spool: IO[bytes]) -> None:
    """Put the rows of a document aside, each as it may be stored: nobody waits meanwhile."""
    for kind, given in rows:
        row = arrivals.checked(kind, given)
        if kind == "preference" and row["key"] == "units":
            preference(row["value"])
        pickle.dump((kind, row), spool, pickle.HIGHEST_PROTOCOL)


def _matched(log: Log, arrivals: Arrivals, spool: IO[bytes], aside: IO[bytes]) -> Merge:
    """Match the rows that were put aside with the log as it is now: nobody waits meanwhile."""
    merge, count = (
        Merge(log.store, aside, lambda why: arrivals.refused("row", why)),
        arrivals.number,
    )
    for arrivals.number in range(1, count + 1):  # a refusal names the row
        merge.add(*pickle.load(spool))
    merge.end()
    return merge


def _stored(log: Log, merge: Merge, by: str) -> dict[str | None, int]:
    """Store what was matched, and return the set-ups that were the current ones: they are chosen
    again, since an import must not change what the next cut is logged to. Raises MovedOn.
    """
    with together(log) as (held, connection):
        before = current_numbers(connection)
        merge.planned.store(connection)
        now = current_numbers(connection)
        for place, number in before.items():
            if place is None:  # the last, which choosing another has changed
                now = current_numbers(connection)
            if now[place] != number:
                held.choose(number, Stamp(by, datetime.now(UTC), place))
    return before
