"""Who may write and who may read a log in a PostgreSQL database, as the statements that its owner
runs.
"""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Table

from ...errors import Refused
from .. import layout
from ..opening import file_of
from ..postgres import ddl as server_ddl
from ..postgres import server

READER, WRITER = "fitlog_reader", "fitlog_writer"


def statements_for(location: str) -> Iterator[str]:
    """Yield them for the log at a URL. Raises Refused: no-roles for a file, which the system's own
    permissions guard.
    """
    file = file_of(location)
    if file is not None:
        raise Refused(
            "no-roles",
            "the log {file} is a file, which has permissions and no roles",
            "its keeper shares it with chmod and chgrp; roles are for a database: --db "
            "postgresql+psycopg://HOST/DATABASE",
            file=file,
        )
    yield from statements(server.read(location)[1] or "public")


def statements(schema: str = "public") -> Iterator[str]:
    """Yield the statements that make a role that reads and one that writes, on a log in `schema`.

    Nobody but the owner may change what is logged: a writer appends, and edits or removes in the
    catalogue alone, where the triggers keep what the log refers to. There is no sequence to grant.
    """
    at = '"' + schema.replace('"', '""') + '"'
    log, catalogue = (_names(at, tables) for tables in (layout.APPEND_ONLY, layout.CATALOGUE))
    for role in (READER, WRITER):
        yield f"CREATE ROLE {role} NOLOGIN"
    yield f"GRANT {READER} TO {WRITER}"
    yield f"GRANT USAGE ON SCHEMA {at} TO {READER}"
    yield f"GRANT SELECT ON {at}.{server_ddl.TABLE}, {catalogue}, {log} TO {READER}"
    yield f"GRANT INSERT ON {catalogue}, {log} TO {WRITER}"
    yield f"GRANT UPDATE, DELETE ON {catalogue} TO {WRITER}"


def _names(at: str, tables: tuple[Table, ...]) -> str:
    return ", ".join(f"{at}.{table.name}" for table in tables)
