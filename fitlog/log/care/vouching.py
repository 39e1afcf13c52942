"""What the digests say of a log: every row is the one that was written, in the order in which it
was.
"""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Connection

from ..transfer import bulk
from ..transfer.digesting import Chains


def faults(connection: Connection) -> Iterator[str]:
    """Yield a sentence for every row that is not as it was written, and where a chain of rows is
    not the one that was written: a row was taken away or put in there. Raises Refused
    "damaged-log" for an entry without what belongs to it.
    """
    chains = Chains()
    for kind, row in bulk.everything(connection):
        holds = chains.hold(kind, row)
        if holds is None:
            yield f"{kind} {row['id']} was put in behind the log's back: it has no digest"
        elif not holds:
            yield f"{kind} {row['id']} is not as it was written, or one before it is gone"
