"""What the digests say of a log: every row is the one that was written, in the order in which it
was.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator
from contextlib import closing, contextmanager

from sqlalchemy import Connection, Table, func, select

from ...errors import Refused
from ...texts import tell
from .. import digests, layout, trouble
from ..engine import Store
from ..schema import ENTRY
from ..transfer import bulk
from ..transfer.digesting import Chains, Values


def faults(connection: Connection) -> Iterator[str]:
    """Yield a sentence for every row that is not as it was written, and where a chain of rows is
    not the one that was written: a row was taken away or put in there.
    """
    chains, strays = Chains(), list[Refused]()
    with closing(bulk.everything(connection, strays.append)) as rows:
        for kind, row in rows:
            if wrong := _wrong(chains, kind, row):
                yield wrong
            yield from (stray.message for stray in strays)
            strays.clear()
    yield from (stray.message for stray in strays)
    if connection.dialect.name == "sqlite":  # a file has no roles, so no digest has one inside
        for number in connection.execute(select(ENTRY.c.id).where(ENTRY.c.role.is_not(None))):
            yield tell("entry {number} names a role, which a file has not", number=number.id)
    if not older(connection):
        for table in layout.APPEND_ONLY:
            if "id" in table.c:
                yield from _gaps(connection, table)


@contextmanager
def vouched(store: Store) -> Iterator[Iterator[bulk.Item]]:
    """Give every row of a log as it is at this moment, read as they are asked for. Raises Refused
    "damaged-log" for the first that is not as it was written, or has no place.
    """
    with (
        store.patient(),
        store.reading() as connection,
        closing(_vouched(connection, store.where)) as rows,
    ):
        yield rows


def _vouched(connection: Connection, where: str) -> Generator[bulk.Item, None, None]:
    chains, strays = Chains(), list[Refused]()
    # Closed however this ends, so that no query is left open in a traceback.
    with closing(bulk.everything(connection, strays.append)) as rows:
        for kind, row in rows:
            if strays:
                raise strays[0]
            if wrong := _wrong(chains, kind, row):
                raise trouble.damaged(where, wrong)
            yield kind, row
    if strays:
        raise strays[0]


def _wrong(chains: Chains, kind: str, row: Values) -> str:
    """Say what the digest of a row tells against it, "" for nothing."""
    holds = chains.hold(kind, row)
    about = {"kind": kind, "number": row["id"], "at": row.get("at") or "-"}
    if holds is None:
        return tell("{kind} {number} ({at}) has no digest: fitlog did not write it", **about)
    wrong = "{kind} {number} ({at}) is not as it was written, or one before it is gone"
    return "" if holds else tell(wrong, **about)


def older(connection: Connection) -> int:
    """Return the number of the newest entry that was digested only when its log was brought up to
    a layout with digests; 0 without any.
    """
    later = ENTRY.c.digest.like(f"{digests.LATER}%")
    return int(connection.execute(select(func.max(ENTRY.c.id)).where(later)).scalar() or 0)


def _gaps(connection: Connection, table: Table) -> Iterator[str]:
    """Yield the first row whose number is not the one after the last: none is ever left out."""
    counted = select(table.c.id, func.row_number().over(order_by=table.c.id).label("turn"))
    rows = counted.subquery()
    wanted = select(rows).where(rows.c.id != rows.c.turn).order_by(rows.c.id).limit(1)
    for number, turn in connection.execute(wanted):
        yield tell(
            "{table} {number} should be number {turn}", table=table.name, number=number, turn=turn
        )
