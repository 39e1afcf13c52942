"""What the digests say of a log: every row is the one that was written, in the order in which it
was.
"""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Connection, Table, func, select

from ...errors import Refused
from ...texts import tell
from .. import digests, layout
from ..schema import ENTRY
from ..transfer import bulk
from ..transfer.digesting import Chains


def faults(connection: Connection) -> Iterator[str]:
    """Yield a sentence for every row that is not as it was written, and where a chain of rows is
    not the one that was written: a row was taken away or put in there.
    """
    chains, strays = Chains(), list[Refused]()
    for kind, row in bulk.everything(connection, strays.append):
        holds = chains.hold(kind, row)
        about = {"kind": kind, "number": row["id"], "at": row.get("at") or "-"}
        if holds is None:
            yield tell("{kind} {number} ({at}) has no digest: fitlog did not write it", **about)
        elif not holds:
            yield tell(
                "{kind} {number} ({at}) is not as it was written, or one before it is gone", **about
            )
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
