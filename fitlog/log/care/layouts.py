"""Whether a log still has the tables, rules, indexes and guards of its layout: what is missing,
another or one too many.

What is there is compared with what the statements that lay out a new log make: those of a file in
memory, those of a server in a schema that is gone again at once.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing

from sqlalchemy import Connection

from ...texts import tell
from ..engine import Store
from ..sqlite import ddl

Made = Mapping[tuple[str, str], object]  # by what it is and its name: what makes it what it is
# By what they are called: the name and the text of everything in the current schema, whose own
# name, whatever it is, is no part of what it holds. A rule's brackets are left out: those that
# group what AND joins are others once a dump was put back.
_ON = "' ON ' || quote_ident(current_schema()) || '.', ' ON '"
_IN_SCHEMA = {
    "table": """SELECT relname, concat(relkind, relpersistence, relrowsecurity, relforcerowsecurity,
        (SELECT string_agg(inhrelid::regclass::text, ' ') FROM pg_inherits WHERE inhparent = c.oid))
        FROM pg_class c WHERE relkind IN ('r', 'p', 'v', 'm', 'f', 'S')
        AND relnamespace = quote_ident(current_schema())::regnamespace""",
    "column": """SELECT table_name || '.' || column_name, data_type || ' ' || is_nullable || ' '
        || coalesce(column_default, '') FROM information_schema.columns
        WHERE table_schema = current_schema()""",
    "rule": """SELECT relname || '.' || conname, translate(pg_get_constraintdef(r.oid), '()', '')
        FROM pg_constraint r JOIN pg_class c ON c.oid = conrelid
        WHERE connamespace = quote_ident(current_schema())::regnamespace
        UNION ALL SELECT tablename || '.' || rulename, definition FROM pg_rules
        WHERE schemaname = current_schema()""",
    "index": f"""SELECT indexname, replace(indexdef, {_ON}) FROM pg_indexes
        WHERE schemaname = current_schema()""",
    "guard": f"""SELECT relname || '.' || tgname, replace(pg_get_triggerdef(t.oid), {_ON})
        FROM pg_trigger t JOIN pg_class c ON c.oid = tgrelid
        WHERE relnamespace = quote_ident(current_schema())::regnamespace AND NOT tgisinternal""",
    "function": """SELECT proname || '(' || pg_get_function_identity_arguments(oid) || ')',
        concat(prosrc, prosecdef, provolatile, replace(array_to_string(proconfig, ' '),
        'search_path=' || quote_ident(current_schema()), 'search_path='))
        FROM pg_proc WHERE pronamespace = quote_ident(current_schema())::regnamespace""",
}
_ANEW = "fitlog_laid_out_anew"


def faults(connection: Connection, wanted: Made) -> Iterator[str]:
    """Yield a sentence for everything that is not as `wanted`."""
    there = _of_file(connection) if connection.dialect.name == "sqlite" else _of_server(connection)
    for key in sorted(wanted.keys() | there.keys()):
        what, name = key
        if key not in there:
            yield tell("the {what} {name} is not there", what=what, name=name)
        elif key not in wanted:
            yield tell("the {what} {name} is none of this layout", what=what, name=name)
        elif wanted[key] != there[key]:
            yield tell("the {what} {name} is another than this layout has", what=what, name=name)


class _Made(Exception):
    """Raised so that nothing of what was made stays."""


def anew(store: Store) -> Made:
    """Return what a new log would have where this one is kept. Raises Refused "no-permission" where
    no schema may be made.
    """
    if store.path is not None:
        with closing(sqlite3.connect(":memory:")) as plain:
            for statement in ddl.statements():
                plain.execute(statement)
            return _in_file(plain)
    from ..postgres import ddl as server_ddl

    made: Made = {}
    try:
        with store._transaction("BEGIN") as connection:
            connection.exec_driver_sql(f"CREATE SCHEMA {_ANEW}")
            connection.exec_driver_sql(f"SET LOCAL search_path = {_ANEW}")
            for statement in server_ddl.requests():
                connection.exec_driver_sql(statement, execution_options={"no_parameters": True})
            made = _of_server(connection)
            raise _Made
    except _Made:
        return made


def _of_file(connection: Connection) -> Made:
    plain = connection.connection.driver_connection
    assert isinstance(plain, sqlite3.Connection)
    return _in_file(plain)


def _in_file(plain: sqlite3.Connection) -> Made:
    asked = "SELECT type, name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite%'"
    names = {"trigger": "guard"}
    found: dict[tuple[str, str], object] = {}
    for kind, name, sql in plain.execute(asked):
        bare = " ".join(re.sub(r"--[^\n]*|/\*.*?\*/|\"", "", sql or "").split())
        # A column that a later layout added stands behind the others.
        made = sorted(_parts(bare)) if kind == "table" and "(" in bare else bare
        found[names.get(kind, kind), name] = made
    return found


def _parts(sql: str) -> Iterator[str]:
    """Yield the parts of a CREATE TABLE between its outer commas, and what stands outside its
    brackets.
    """
    first, last = sql.index("("), sql.rindex(")")
    yield sql[:first] + sql[last + 1 :]
    depth, start, body = 0, 0, sql[first + 1 : last]
    for at, letter in enumerate(body):
        depth += (letter == "(") - (letter == ")")
        if letter == "," and depth == 0:
            yield body[start:at].strip()
            start = at + 1
    yield body[start:].strip()


def _of_server(connection: Connection) -> Made:
    plain = {"no_parameters": True}
    return {
        (what, called): text
        for what, query in _IN_SCHEMA.items()
        for called, text in connection.exec_driver_sql(query, execution_options=plain)
    }
