"""`fitlog log roles`: the statements with which the owner of a shared log says who may write it and
who may read it.
"""

from __future__ import annotations

from .exchange import log_app
from .options import Db, Json

__all__ = ["log_app"]


@log_app.command("roles")
def roles(db: Db = None, json: Json = False) -> None:
    """Print the SQL that makes a role for who writes a shared log and one for who reads it.

    The owner of the database runs it once, after the log was made; then each person is put in one
    of the roles: GRANT fitlog_writer TO mira. A writer appends and edits the catalogue; nobody but
    the owner can change what is logged.

    \b
    Example:
      fitlog log roles --db postgresql+psycopg://owner@server/shop | psql -h server -U owner shop
    """
    from ...log.care.roles import statements_for
    from .session import default_log, put_json

    statements = list(statements_for(db or default_log()))
    if json:
        put_json({"statements": statements})
        return
    for statement in statements:
        print(f"{statement};")
