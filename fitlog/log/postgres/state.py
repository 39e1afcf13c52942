"""What a server knows of the log's tables as a whole: whether what they hold is another, and how
many rows that is.
"""

from __future__ import annotations

from sqlalchemy import Connection

from .. import layout

_LAST = (
    f"(SELECT coalesce(max({next(iter(t.primary_key)).name}), 0)::text FROM {t.name})"
    for t in layout.APPEND_ONLY
)
_EDITED = (
    f"(SELECT coalesce(string_agg(xmin::text, ',' ORDER BY id), '') FROM {t.name})"
    for t in layout.CATALOGUE
)
_STATE = f"SELECT concat_ws(';', {', '.join((*_LAST, *_EDITED))})"
# Of a table that was empty when it last counted, a server reads all where it should go by an index.
# It counts by itself, but later, and not every server is set to.
_COUNT = f"ANALYZE {', '.join(t.name for t in (*layout.CATALOGUE, *layout.APPEND_ONLY))}"


def state(connection: Connection) -> str:
    """Return what tells the content of the log from any other: nothing is taken away, and the
    catalogue is short.
    """
    return str(connection.exec_driver_sql(_STATE).scalar_one())


def count_anew(connection: Connection) -> None:
    """Have the rows of each table counted; of one that is somebody else's the server does not."""
    connection.exec_driver_sql(_COUNT)
