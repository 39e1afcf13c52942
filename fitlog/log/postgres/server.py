"""A log in a PostgreSQL database: how it is reached, laid out when new, read, written
and let go.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from typing import Any

from sqlalchemy import URL, Connection, create_engine, make_url
from sqlalchemy.exc import ArgumentError, NoSuchModuleError
from sqlalchemy.pool import NullPool

from ...texts import tell
from .. import engine, layout, trouble
from . import ddl as server_ddl
from . import trouble as told

DRIVERS = ("postgresql", "postgresql+psycopg")
CONNECT_SECONDS = 5  # a server in the same building answers at once; common practice, no source
# Nothing here may wait for ever for a server that was unplugged.
ALIVE = {
    "keepalives_idle": 10,
    "keepalives_interval": 5,
    "keepalives_count": 2,
    "tcp_user_timeout": 15_000,
}
SNAPSHOT = "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY"
_SCHEMA = "quote_ident(current_schema())::regnamespace::oid"
TURN = f"SELECT pg_advisory_xact_lock({server_ddl.TURN.format(schema=_SCHEMA)})"
# What was answered is on disk, whatever the server was told to do by itself.
DURABLE = (
    "SELECT set_config('synchronous_commit', 'on', false) WHERE "
    "current_setting('synchronous_commit') IN ('off', 'local')"
)
PLAIN = {"no_parameters": True}  # statements with a % in them
OURS = (*layout.CATALOGUE, *layout.APPEND_ONLY)


class ServerStore(engine.Store):
    """A connection to a database, with one schema of it."""

    _snapshot = SNAPSHOT

    def __init__(self, url: URL, schema: str | None) -> None:
        self.where, self.read_only = shown(url, schema), False
        self._seen = ""
        made = create_engine(
            url.set(drivername="postgresql+psycopg"),
            poolclass=NullPool,
            isolation_level="AUTOCOMMIT",
            connect_args={
                "connect_timeout": CONNECT_SECONDS,
                "application_name": "fitlog",
                **ALIVE,
                **_path(schema),
            },
        )
        self._way = made
        with self.explained():
            self._connection = made.connect()

    def reach_again(self) -> None:
        """Connect anew after the connection was lost."""
        with suppress(Exception):
            self._connection.close()
        with self.explained():
            self._connection = self._way.connect()
            self._connection.exec_driver_sql(DURABLE)
            self._connection.rollback()

    def explained(self) -> AbstractContextManager[None]:
        """Run a block; whatever the server says is raised as Refused."""
        return told.explained(self.where)

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Give a connection that nobody else writes beside; all is stored at the end, or
        nothing.
        """
        if self.read_only:
            raise told.not_allowed(self.where)
        with self.in_turn() as connection:
            said = self._others(connection)
            if said != self.known_of_others:
                self.known_of_others, self.shelves = said, None
            yield connection
            connection.exec_driver_sql("SET CONSTRAINTS ALL IMMEDIATE")
            self._seen = _state(connection)

    def _others(self, connection: Connection) -> int:
        state = _state(connection)
        changed, self._seen = state != self._seen, state
        return self.known_of_others + changed

    def settle(self, create: bool) -> None:
        """Check whose tables are there, lay them out when there are none and `create` is True."""
        with self.reading() as connection:
            blank = self._is_blank(connection)
        if blank and not create:
            raise trouble.missing(self.where)
        if blank:
            self._lay_out()
        with self.reading() as connection:
            self.read_only = not connection.exec_driver_sql(
                "SELECT has_table_privilege('entry', 'INSERT') AND NOT pg_is_in_recovery()"
            ).scalar_one()
            self._seen = _state(connection)
            connection.exec_driver_sql(DURABLE)

    def _lay_out(self) -> None:
        with self.in_turn() as connection:
            if not self._is_blank(connection):  # another process was quicker
                return
            if not connection.exec_driver_sql(
                "SELECT has_schema_privilege(current_schema(), 'CREATE')"
            ).scalar_one():
                raise told.no_room_to_lay_out(self.where)
            for statement in server_ddl.statements():
                connection.exec_driver_sql(statement, execution_options=PLAIN)

    @contextmanager
    def in_turn(self) -> Iterator[Connection]:
        """Begin a transaction once nobody else writes. What is read in it is what the turn before
        left: each statement of READ COMMITTED sees what is stored by then, and whoever writes waits
        for this turn to end.
        """
        wait = f"SET LOCAL lock_timeout = '{engine.BUSY_SECONDS * 1000:.0f}ms'"
        with self._transaction("BEGIN ISOLATION LEVEL READ COMMITTED", wait, TURN) as connection:
            yield connection

    def _is_blank(self, connection: Connection) -> bool:
        """Tell whether none of the tables is there; refuse what this version cannot read."""
        schema, seen, mark, *others = connection.exec_driver_sql(
            "SELECT current_schema(), has_schema_privilege(current_schema(), 'USAGE'), "
            "to_regclass('fitlog_layout'), "
            + ", ".join(f"to_regclass('{table.name}')" for table in OURS)
        ).one()
        if schema is None or not seen:
            raise told.no_schema(self.where)
        if mark is None and any(others):
            raise told.not_ours(self.where)
        if mark is None:
            return True
        if not connection.exec_driver_sql(
            "SELECT has_table_privilege('fitlog_layout', 'SELECT') AND "
            "has_table_privilege('entry', 'SELECT')"
        ).scalar_one():
            raise told.not_readable(self.where)
        found = layout_of(connection)
        if 1 <= found < layout.VERSION:
            raise told.older(self.where, found)
        if found != layout.VERSION:
            raise trouble.other_version(self.where, found, layout.VERSION)
        return False


def layout_of(connection: Connection) -> int:
    """Return the number of the layout that a log has."""
    return int(
        connection.exec_driver_sql(
            "SELECT coalesce(max(version), 0) FROM fitlog_layout"
        ).scalar_one()
    )


def open_server(location: str, *, create: bool) -> ServerStore:
    """Open the log in a database, laying it out first when it is new and `create` is True.

    location: postgresql+psycopg://USER@HOST:PORT/DATABASE, with ?schema=NAME where it is not the
    database's own. Raises Refused: bad-url, password-in-url, no-driver, no-log, no-database,
    no-schema, no-permission, no-password, wrong-password, not-a-log, newer-log, unknown-version,
    read-only-log, log-busy, disk-full, damaged-log, log-unreachable.
    """
    url, schema = read(location)
    try:
        import psycopg  # noqa: F401
    except ImportError:
        raise told.no_driver() from None
    store = ServerStore(url, schema)
    try:
        store.settle(create)
    except BaseException:
        with suppress(Exception):
            store.shut()
        raise
    return store


def read(location: str) -> tuple[URL, str | None]:
    """Return the URL of a database and the schema it names. Raises Refused: bad-url,
    password-in-url.
    """
    try:
        url = make_url(location)
    except (ArgumentError, NoSuchModuleError, ValueError):
        raise told.bad_url("it has no parts that make sense") from None
    if url.drivername not in DRIVERS:
        raise told.bad_url(tell("nothing is known of {scheme}", scheme=location.split(":", 1)[0]))
    schema = url.query.get("schema")
    if isinstance(schema, tuple):
        raise told.bad_url("it names two schemas")
    bare = url.difference_update_query(["schema"])
    if url.password is not None or any("password" in key.lower() for key in url.query):
        raise told.has_password(shown(url, schema))
    return bare, schema


def shown(url: URL, schema: str | None) -> str:
    """Return a URL as it may be shown: where the log is, and as whom; nothing else."""
    bare = URL.create(
        "postgresql", username=url.username, host=url.host, port=url.port, database=url.database
    )
    return bare.render_as_string() + (f"?schema={schema}" if schema else "")


def _path(schema: str | None) -> dict[str, Any]:
    if schema is None:
        return {}
    quoted = '"' + schema.replace('"', '""') + '"'
    return {"options": "-csearch_path=" + quoted.replace("\\", "\\\\").replace(" ", "\\ ")}


def _state(connection: Connection) -> str:
    """Return what tells the content of the log from any other: nothing is taken away, and the
    catalogue is short.
    """
    last = (
        f"(SELECT coalesce(max({next(iter(t.primary_key)).name}), 0)::text FROM {t.name})"
        for t in layout.APPEND_ONLY
    )
    edited = (
        f"(SELECT coalesce(string_agg(xmin::text, ',' ORDER BY id), '') FROM {t.name})"
        for t in layout.CATALOGUE
    )
    return str(
        connection.exec_driver_sql(
            f"SELECT concat_ws(';', {', '.join((*last, *edited))})"
        ).scalar_one()
    )
