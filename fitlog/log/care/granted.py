"""Who may write a log on a server beyond what its two roles say: everybody, or somebody who was
given a right by name.

Nothing is wrong in the log for that, so that it stays sound; but the guards know its owner and its
writers.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from sqlalchemy import Connection

from ...texts import tell
from .. import layout
from .roles import bare, named, quoted

# Every right to write that was given to others than the owner: on a table, or on a column of one.
# Grantee 0 is everybody. https://www.postgresql.org/docs/current/ddl-priv.html
_GRANTS = """
WITH ours AS (SELECT oid, relname, relowner, relacl FROM pg_class
    WHERE relkind IN ('r', 'p') AND relnamespace = quote_ident(current_schema())::regnamespace)
SELECT relname::text, relowner, a.grantee, a.privilege_type FROM ours, aclexplode(relacl) AS a
UNION
SELECT relname::text, relowner, a.grantee, a.privilege_type FROM ours
  JOIN pg_attribute ON attrelid = ours.oid, aclexplode(attacl) AS a
"""
_BEYOND = f"""
SELECT coalesce(pg_get_userbyid(nullif(grantee, 0))::text, ''), privilege_type, relname,
       quote_ident(current_schema()) || '.' || quote_ident(relname)
  FROM ({_GRANTS}) AS given
 WHERE grantee <> relowner
   AND privilege_type IN ('INSERT', 'UPDATE', 'DELETE', 'TRUNCATE', 'TRIGGER')
 ORDER BY 1, 2, 3
"""


def beyond(connection: Connection) -> Iterator[str]:
    """Yield a sentence for everybody who may write what the roles of this log do not say, with the
    statement that takes it back.
    """
    database, schema = connection.exec_driver_sql(
        "SELECT current_database()::text, current_schema()::text"
    ).one()
    writer = bare(named(database, schema).writer)
    given: dict[tuple[str, str], list[str]] = defaultdict(list)
    at: dict[tuple[str, str], list[str]] = defaultdict(list)
    for who, right, table, place in connection.exec_driver_sql(_BEYOND):
        if who != writer or table not in _WRITERS.get(right, ()):
            given[who, right].append(table)
            at[who, right].append(place)
    for (who, right), tables in given.items():
        yield tell(
            "{who} may {right} in {tables}, which the roles of this log do not say; its owner takes"
            " that back: REVOKE {right} ON {places} FROM {role}",
            who=who or tell("everybody"),
            right=right,
            tables=", ".join(tables),
            places=", ".join(at[who, right]),
            role=quoted(who) if who else "PUBLIC",
        )


_CATALOGUE = frozenset(table.name for table in layout.CATALOGUE)
_WRITERS = {
    "INSERT": _CATALOGUE | {table.name for table in layout.APPEND_ONLY},
    "UPDATE": _CATALOGUE,
    "DELETE": _CATALOGUE | {"fitlog_turn"},
}
