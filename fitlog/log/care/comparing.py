"""Whether a log is another one gone on: a backup of it, an export, or its head as it was noted.

A head is how many sharpenings, preferences, entries and advices there were, and what their chains
ended in: what was changed, cut off or written anew before that is noticed. The catalogue is not in
it, since it may be edited.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from sqlalchemy import Connection, Table, create_engine, func, select
from sqlalchemy.pool import NullPool

from ...errors import Refused
from ...texts import tell
from .. import layout, trouble
from ..sqlite import header
from ..transfer import bulk
from ..transfer.bulk import Item
from ..transfer.digesting import CHAINED, Chains
from . import copies

HEAD = re.compile(r"(\d+)\.(\d+)\.(\d+)\.(\d+)-([0-9a-f]{32})")


@dataclass(frozen=True, slots=True)
class Against:
    """How a log stands to an earlier one.  faults: where it is not that one gone on, none when it
    is.  since: how many entries came after.  changed: what of the catalogue is other than there, or
    gone; that is allowed.
    """

    faults: tuple[str, ...]
    since: int
    changed: tuple[str, ...] = ()


Compare = Callable[[Connection], Against]


def head(connection: Connection) -> str:
    """Return the head of a log, to be noted down."""
    counts = [_count(connection, table) for table in CHAINED]
    return f"{'.'.join(map(str, counts))}-{_ends(connection, counts)}"


def with_head(connection: Connection, noted: str) -> Against:
    """Compare a log with its head as it was `noted`."""
    *counts, ends = HEAD.fullmatch(noted).groups()  # type: ignore[union-attr]
    were = [int(count) for count in counts]
    faults = []
    for table, count in zip(CHAINED, were, strict=True):
        if (now := _count(connection, table)) < count:
            last = connection.execute(select(func.max(table.c.at))).scalar()
            faults.append(
                tell(
                    "of the {count} rows of {table} that there were only {now} are left, the last"
                    " of {at}: the end was cut off",
                    count=count,
                    table=table.name,
                    now=now,
                    at=last or "-",
                )
            )
    if not faults and _ends(connection, were) != ends:
        faults.append(
            tell(
                "up to entry {number} the log is not the one whose head was noted: rows were"
                " changed or written anew",
                number=were[2],
            )
        )
    return Against(tuple(faults), max(0, _count(connection, CHAINED[2]) - were[2]))


def with_rows(connection: Connection, rows: Iterable[Item]) -> Against:
    """Compare a log with all the rows of an earlier one, in their order.

    Raises Refused: no-digests for rows of a fitlog that had none.
    """
    chains, faults, changed = Chains(), dict[str, str](), list[str]()
    ours = {table.name: _rows(connection, table) for table in CHAINED}
    shelf = {
        (table.name, row.id): row.digest
        for table in layout.CATALOGUE
        for row in connection.execute(select(table.c.id, table.c.digest))
    }
    for kind, row in rows:
        holds, about = chains.hold(kind, row), {"kind": kind, "number": row.get("id")}
        if holds is None:
            raise Refused(
                "no-digests",
                "{kind} {number} there has no digest, so nothing can be compared with it",
                "name a backup or an export of this fitlog's own",
                **about,
            )
        if not holds:
            faults.setdefault("", tell("{kind} {number} there is itself not as it was", **about))
        if kind not in ours:
            if shelf.get((kind, row["id"])) != row["digest"]:
                changed.append(f"{kind} {row['name']}")
            continue
        here = next(ours[kind], None)
        if kind in faults or (here is not None and here[1] == row["digest"]):
            continue
        if here is None:
            what = "{kind} {number} of {at} and what came after are not here: the end was cut off"
            faults[kind] = tell(what, at=row["at"], **about)
        else:
            what = "{kind} {here} ({now}) is not the one that was there, {number} of {at}"
            faults[kind] = tell(what, here=here[0], now=here[2], at=row["at"], **about)
    return Against(tuple(faults.values()), sum(1 for _ in ours["entry"]), tuple(changed))


@contextmanager
def of_backup(path: Path) -> Iterator[Iterator[Item]]:
    """Give every row of a backup in its order. Raises Refused: not-a-log, older-log, damaged-log
    and what `trouble` knows.
    """
    mode = header.mode(path)
    with trouble.explained(path):
        with closing(header.connect(path, mode)) as plain:
            found = copies.content_of(plain, path).layout
        if found < layout.VERSION:
            raise Refused(
                "no-digests",
                "{path} has the older layout {layout}, without digests to compare by",
                "name a backup or an export of this fitlog's own",
                path=path,
                layout=found,
            )
        engine = create_engine(
            "sqlite://", creator=lambda: header.connect(path, mode), poolclass=NullPool
        )
        with engine.connect() as connection:
            yield bulk.everything(connection)


def _rows(connection: Connection, table: Table) -> Iterator[tuple[int, str, str]]:
    wanted = select(table.c.id, table.c.digest, table.c.at).order_by(table.c.id)
    for row in connection.execute(wanted, execution_options={"yield_per": bulk.BATCH}):
        yield row.id, row.digest, row.at


def _count(connection: Connection, table: Table) -> int:
    return int(connection.execute(select(func.count()).select_from(table)).scalar_one())


def _ends(connection: Connection, counts: Iterable[int]) -> str:
    """Return what the first so many rows of each chain end in, as 32 letters."""
    ends = []
    for table, count in zip(CHAINED, counts, strict=True):
        nth = select(table.c.digest).order_by(table.c.id).offset(max(0, count - 1)).limit(1)
        ends.append(str(connection.execute(nth).scalar() if count else ""))
    return sha256("\n".join(ends).encode()).hexdigest()[:32]
