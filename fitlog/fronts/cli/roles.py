"""`fitlog log roles`: the statements with which the owner of a shared log says who may write it and
who may read it.
"""

from __future__ import annotations

from typing import Annotated

import typer

from .exchange import log_app
from .options import Db, Json

__all__ = ["log_app"]


@log_app.command("roles")
def roles(
    remove: Annotated[bool, typer.Option("--remove", help="Remove the two roles again.")] = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Print the SQL that makes a role for who writes a shared log and one for who reads it.

    The owner of the database runs it once, after the log was made or upgraded; it says what the two
    roles of this log are called, and each person is put in one of them. A writer appends and edits
    the catalogue; nobody but the owner can change what is logged; a reader reads, and can back up.
    Nothing is done in part. Passwords stay in ~/.pgpass, PGPASSWORD or a service file: a URL with
    one is refused.

    \b
    Example:
      fitlog log roles --db postgresql+psycopg://owner@server/shop | psql -h server -U owner shop
    """
    from ...log.care.roles import STOP, statements_for
    from .session import default_log, put_json

    named, statements = statements_for(db or default_log(), remove=remove)
    if json:
        put_json({"reader": named.reader, "writer": named.writer, "statements": statements})
        return
    if not remove:
        print(f"-- afterwards: GRANT {named.writer} TO mira; GRANT {named.reader} TO jo;")
    print(STOP)
    for statement in statements:
        print(f"{statement};")
