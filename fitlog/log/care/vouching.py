"""What the digests say of a log: every row is the one that was written, in the order in which it
was.
"""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Connection

from .. import digests
from ..transfer import bulk


def faults(connection: Connection) -> Iterator[str]:
    """Yield a sentence for every row that is not as it was written, and where a chain of rows is
    not the one that was written: a row was taken away or put in there. Raises Refused
    "damaged-log" for an entry without what belongs to it.
    """
    before = dict.fromkeys((table.name for table in bulk.CHAINED), "")
    for kind, row in bulk.everything(connection):
        digest = row["digest"]
        if digest is None:
            yield f"{kind} {row['id']} was put in behind the log's back: it has no digest"
            before[kind] = ""
            continue
        wanted = digests.chained(before.get(kind, ""), bulk.said(kind, row))
        if digest.removeprefix(digests.LATER) != wanted:
            yield f"{kind} {row['id']} is not as it was written, or one before it is gone"
        if kind in before:
            before[kind] = digest
