"""Who may write and who may read a log in a PostgreSQL database, as the script that its owner runs.

Roles belong to the whole cluster: each log has two of its own, named for its database and schema.
"""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256
from typing import NamedTuple

from sqlalchemy import Table

from ...errors import Refused
from .. import layout
from ..opening import file_of
from ..postgres import ddl as server_ddl
from ..postgres import server
from ..postgres.connecting import bad_url

LONGEST = 63  # bytes of a name in PostgreSQL: https://www.postgresql.org/docs/current/limits.html
OF_BEFORE = "fitlog_reader, fitlog_writer"  # of the whole cluster, in layouts up to 4
STOP = r"\set ON_ERROR_STOP on"  # for psql, which goes on after an error otherwise


class Roles(NamedTuple):
    """The names of a log's two roles, as a grant takes them."""

    reader: str
    writer: str


def statements_for(location: str, *, remove: bool = False) -> tuple[Roles, list[str]]:
    """Return the roles of the log at a URL, and the statements that make or remove them: one
    transaction. Raises Refused: no-roles for a file, which the system's own permissions guard;
    bad-url.
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
    url, schema = server.read(location)
    if not url.database:
        raise bad_url("it names no database, for which the roles are named")
    roles, of = named(url.database, schema or "public"), (url.database, schema or "public")
    making = _removed(roles, *of) if remove else _made(roles, *of)
    return roles, ["BEGIN", *making, "COMMIT"]


def named(database: str, schema: str) -> Roles:
    """Return the names of the roles of one log: two logs never have the same ones."""
    whole = f"{database}_{schema}"
    tail = "_" + sha256(f"{database}\0{schema}".encode()).hexdigest()[:10]
    room = LONGEST - len("fitlog_reader_")
    # Two names joined by "_" could be two others, a long one would be cut by the server.
    if "_" in database or len(whole.encode()) > room:
        whole = whole.encode()[: room - len(tail)].decode(errors="ignore") + tail
    return Roles(*(quoted(f"fitlog_{what}_{whole}") for what in ("reader", "writer")))


def _made(roles: Roles, database: str, schema: str) -> Iterator[str]:
    """Nobody but the owner may change what is logged: a writer appends, and edits or removes in the
    catalogue alone, where the triggers keep what the log refers to. There is no sequence to grant.
    """
    at, base = quoted(schema), quoted(database)
    log, catalogue = (_names(at, tables) for tables in (layout.APPEND_ONLY, layout.CATALOGUE))
    turn = f"{at}.fitlog_turn"
    everything = f"{at}.{server_ddl.TABLE}, {turn}, {catalogue}, {log}"
    yield _checked(database, schema)
    yield _do(
        f"IF (SELECT count(*) FROM pg_roles WHERE rolname IN {_texts(OF_BEFORE)}) = 2 THEN\n"
        f"        REVOKE ALL ON {everything} FROM {OF_BEFORE};\n"
        f"        REVOKE ALL ON SCHEMA {at} FROM {OF_BEFORE};\n"
        f"        RAISE NOTICE '{OF_BEFORE} of an older fitlog no longer reach this log: put their "
        f"members in % or %', {_text(roles.reader)}, {_text(roles.writer)};\n"
        "    END IF;"
    )
    for role in roles:
        yield _do(
            f"IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = {_bare(role)}) THEN\n"
            f"        CREATE ROLE {role} NOLOGIN;\n    END IF;"
        )
    # What everybody has of a new database, and before version 15 of its schema public.
    yield f"REVOKE ALL ON {everything} FROM PUBLIC"
    yield f"REVOKE CREATE ON SCHEMA {at} FROM PUBLIC"
    yield f"REVOKE TEMPORARY ON DATABASE {base} FROM PUBLIC"
    yield f"GRANT CONNECT ON DATABASE {base} TO {roles.reader}"
    yield f"GRANT {roles.reader} TO {roles.writer}"
    yield f"GRANT USAGE ON SCHEMA {at} TO {roles.reader}"
    yield f"GRANT SELECT ON {everything} TO {roles.reader}"
    yield f"GRANT INSERT ON {catalogue}, {log} TO {roles.writer}"
    yield f"GRANT UPDATE, DELETE ON {catalogue} TO {roles.writer}"
    yield f"GRANT DELETE ON {turn} TO {roles.writer}"  # to lock it: it has no rows
    # A revoke by somebody without the right to it is a mere warning.
    yield _do(
        f"IF has_schema_privilege({_bare(roles.writer)}, {_text(schema)}, 'CREATE')\n"
        f"        OR has_database_privilege({_bare(roles.writer)}, {_text(database)}, "
        "'TEMPORARY') THEN\n"
        "        RAISE EXCEPTION 'everybody may still make tables here: run this as the owner of "
        "the database and of the schema, or as a superuser';\n    END IF;"
    )


def _removed(roles: Roles, database: str, schema: str) -> Iterator[str]:
    """What everybody had of the database before is not given back."""
    at, both = quoted(schema), f"{roles.writer}, {roles.reader}"
    yield _checked(database, schema)
    yield f"REVOKE ALL ON ALL TABLES IN SCHEMA {at} FROM {both}"
    yield f"REVOKE ALL ON SCHEMA {at} FROM {both}"
    yield f"REVOKE ALL ON DATABASE {quoted(database)} FROM {both}"
    yield _free(roles, schema)
    yield f"DROP ROLE {both}"


def _free(roles: Roles, schema: str) -> str:
    """Return a statement that says where else the roles have rights: a copy of the log that was put
    back into another database of the cluster brings them along.
    """
    names = ", ".join(_bare(role) for role in roles)
    both, at = f"{roles.writer}, {roles.reader}", quoted(schema)
    hint = (
        f"Drop that database, or run there, as its owner: REVOKE ALL ON ALL TABLES IN SCHEMA {at} "
        f"FROM {both}; REVOKE ALL ON SCHEMA {at} FROM {both}; then run this again."
    )
    return (
        "DO $fitlog$\nDECLARE\n    others text;\nBEGIN\n"
        "    SELECT string_agg(DISTINCT quote_ident(datname), ', ') INTO others\n"
        "        FROM pg_shdepend JOIN pg_roles AS r ON r.oid = refobjid\n"
        "        JOIN pg_database AS d ON d.oid = dbid\n"
        "            OR dbid = 0 AND classid = 'pg_database'::regclass AND d.oid = objid\n"
        f"        WHERE refclassid = 'pg_authid'::regclass AND rolname IN ({names})\n"
        "        AND datname <> current_database();\n"
        "    IF others IS NOT NULL THEN\n"
        "        RAISE EXCEPTION 'the roles stay: a copy of this log, in the database %, gives "
        f"them rights', others\n            USING HINT = {_text(hint)};\n"
        "    END IF;\nEND $fitlog$"
    )


def _checked(database: str, schema: str) -> str:
    """Return a statement that stops where this is not the place, or the server is too old."""
    least = server_ddl.LEAST
    return _do(
        f"IF current_setting('server_version_num')::int < {least * 10000} THEN\n"
        f"        RAISE EXCEPTION 'a log needs PostgreSQL {least} or newer';\n"
        f"    ELSIF current_database() <> {_text(database)} THEN\n"
        f"        RAISE EXCEPTION 'this is for the database %, not for %', {_text(database)}, "
        "current_database();\n"
        f"    ELSIF to_regclass({_text(quoted(schema) + '.fitlog_turn')}) IS NULL THEN\n"
        f"        RAISE EXCEPTION 'there is no log of layout {layout.VERSION} in the schema %', "
        f"{_text(schema)};\n    END IF;"
    )


def _do(body: str) -> str:
    return f"DO $fitlog$\nBEGIN\n    {body}\nEND $fitlog$"


def _names(at: str, tables: tuple[Table, ...]) -> str:
    return ", ".join(f"{at}.{table.name}" for table in tables)


def _texts(names: str) -> str:
    return "(" + ", ".join(_text(name) for name in names.split(", ")) + ")"


def _text(words: str) -> str:
    return "'" + words.replace("'", "''") + "'"


def quoted(name: str) -> str:
    """Return a name in quotes, as a statement takes it."""
    return '"' + name.replace('"', '""') + '"'


def bare(role: str) -> str:
    """Return the name of a role without its quotes."""
    return role[1:-1].replace('""', '"')


def _bare(role: str) -> str:
    return _text(bare(role))
