"""A log in a PostgreSQL database: how it is reached, laid out when new, read, written
and let go.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from typing import Any

from sqlalchemy import URL, Connection, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError, NoSuchModuleError
from sqlalchemy.pool import NullPool

from ...errors import FitlogError
from ...texts import tell
from .. import engine, layout, trouble
from . import connecting
from . import ddl as server_ddl
from . import trouble as told
from .state import count_anew, state

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
# A session waits so long for one statement, in ms, and one that sleeps in a transaction is ended:
# who waits for a turn learns in time that there is none. `PATIENT` is for what reads or writes the
# whole log; common practice, no source.
STATEMENT, PATIENT, ASLEEP = 7_000, 1_800_000, 60_000
ANSWER = 3.0  # s beyond that, after which a server that is silent is given up
# What was answered is on disk, whatever the server was told to do by itself.
DURABLE = (
    "SELECT set_config('synchronous_commit', 'on', false) WHERE "
    "current_setting('synchronous_commit') IN ('off', 'local')"
)
TAKEN = ("42P07", "23505")  # a table of the name was made meanwhile, or is just being made
PLAIN = {"no_parameters": True}  # statements with a % in them
OURS = (*layout.CATALOGUE, *layout.APPEND_ONLY)


class _Quicker(Exception):
    """Another process lays the log out."""


class ServerStore(engine.Store):
    """A connection to a database, with one schema of it."""

    _snapshot = SNAPSHOT

    def __init__(self, url: URL, schema: str | None) -> None:
        self.where, self.read_only = shown(url, schema), False
        self._seen = ""
        self._made = made = create_engine(
            url.set(drivername="postgresql+psycopg"),
            poolclass=NullPool,
            isolation_level="AUTOCOMMIT",
            connect_args={
                "connect_timeout": CONNECT_SECONDS,
                "application_name": "fitlog",
                **ALIVE,
                "options": _options(schema),
            },
        )
        from .deadline import connect

        event.listen(made, "do_connect", connect)
        with self.explained():
            self._connection = made.connect()
            self._listen(STATEMENT)

    def reach_again(self) -> None:
        """Connect anew after the connection was lost."""
        with suppress(Exception):
            self._connection.close()
        with self.explained():
            self._connection = self._made.connect()
            self._listen(STATEMENT)
            self._connection.exec_driver_sql(DURABLE)
            self._connection.rollback()

    def explained(self) -> AbstractContextManager[None]:
        """Run a block; whatever the server says is raised as Refused."""
        return told.explained(self.where)

    @contextmanager
    def patient(self) -> Iterator[None]:
        """Let statements take long within a block: what reads or writes the whole log."""
        self._wait_for(PATIENT)
        try:
            yield
        finally:
            with suppress(Exception):  # it is gone, as the block has said
                self._wait_for(STATEMENT)

    def survey(self) -> None:
        """Have the rows counted anew after many came in; as an owner alone may."""
        with suppress(FitlogError), self.glance() as connection:
            count_anew(connection)

    def _wait_for(self, milliseconds: int) -> None:
        with self.glance() as connection:
            self._listen(milliseconds)
            connection.exec_driver_sql(f"SET statement_timeout = {milliseconds}")

    def _listen(self, milliseconds: int) -> None:
        plain: Any = self._connection.connection.driver_connection
        plain.silence = milliseconds / 1000 + ANSWER

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
            self._seen = state(connection)

    def _others(self, connection: Connection) -> int:
        now = state(connection)
        changed, self._seen = now != self._seen, now
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
                "SELECT has_table_privilege('entry', 'INSERT') AND "
                "has_table_privilege('fitlog_turn', 'DELETE') AND NOT pg_is_in_recovery()"
            ).scalar_one()
            self._seen = state(connection)
            connection.exec_driver_sql(DURABLE)

    def _lay_out(self) -> None:
        """Lay the log out; another process that is quicker makes its first table alone."""
        with suppress(_Quicker), self._alone() as connection:
            if not connection.exec_driver_sql(
                "SELECT has_schema_privilege(current_schema(), 'CREATE')"
            ).scalar_one():
                raise told.no_room_to_lay_out(self.where)
            plain: Any = connection.connection.driver_connection
            if plain.info.server_version < server_ddl.LEAST * 10_000:
                raise told.old_server(self.where, server_ddl.LEAST)
            for statement in server_ddl.requests():
                try:
                    connection.exec_driver_sql(statement, execution_options=PLAIN)
                except DBAPIError as error:
                    if statement == server_ddl.MARK and _code(error) in TAKEN:
                        raise _Quicker from error
                    raise

    def in_turn(self) -> AbstractContextManager[Connection]:
        """Begin a transaction once nobody else writes. What is read in it is what the turn before
        left: each statement of READ COMMITTED sees what is stored by then, and whoever writes waits
        for this turn to end.
        """
        return self._alone(server_ddl.TURN)

    def upgrading(self) -> AbstractContextManager[Connection]:
        """Begin a transaction in which nobody else reads or writes, whatever the log's layout."""
        return self._alone("LOCK TABLE fitlog_layout, entry IN ACCESS EXCLUSIVE MODE")

    def _alone(self, *locks: str) -> AbstractContextManager[Connection]:
        wait = f"SET LOCAL lock_timeout = '{engine.BUSY_SECONDS * 1000:.0f}ms'"
        begin = ("BEGIN ISOLATION LEVEL READ COMMITTED", wait, *locks)
        return self._transaction("; ".join(begin))  # one way to the server and back

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
        raise connecting.no_driver() from None
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
        raise connecting.bad_url("it has no parts that make sense") from None
    if url.drivername not in DRIVERS:
        raise connecting.bad_url(
            tell("nothing is known of {scheme}", scheme=location.split(":", 1)[0])
        )
    schema = url.query.get("schema")
    if isinstance(schema, tuple):
        raise connecting.bad_url("it names two schemas")
    bare = url.difference_update_query(["schema"])
    if url.password is not None or any("password" in key.lower() for key in url.query):
        raise connecting.has_password(shown(url, schema))
    return bare, schema


def shown(url: URL, schema: str | None) -> str:
    """Return a URL as it may be shown: where the log is, and as whom; nothing else."""
    bare = URL.create(
        "postgresql", username=url.username, host=url.host, port=url.port, database=url.database
    )
    return bare.render_as_string() + (f"?schema={schema}" if schema else "")


def _options(schema: str | None) -> str:
    """Return what a session begins with."""
    wait = f"{engine.BUSY_SECONDS * 1000:.0f}"
    options = {
        "lock_timeout": wait,
        "statement_timeout": STATEMENT,
        "idle_in_transaction_session_timeout": ASLEEP,
    }
    path: tuple[str, ...] = ()
    if schema is not None:
        quoted = '"' + schema.replace('"', '""') + '"'
        path = ("-csearch_path=" + quoted.replace("\\", "\\\\").replace(" ", "\\ "),)
    return " ".join((*path, *(f"-c{name}={value}" for name, value in options.items())))


def _code(error: DBAPIError) -> str | None:
    return getattr(error.orig, "sqlstate", None)
