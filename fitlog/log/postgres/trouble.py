"""What can go wrong with a log in a PostgreSQL database, each as one sentence and a next step,
never with a password.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy.exc import DBAPIError

from ...errors import Refused
from .. import trouble

PASSWORDS = "keep it in ~/.pgpass, in PGPASSWORD or in a service file (PGSERVICE)"


@contextmanager
def explained(where: str) -> Iterator[None]:
    """Run a block that uses the log at `where`; raise `Refused` for whatever the server or the way
    there says.
    """
    try:
        yield
    except DBAPIError as error:
        raise told_by_server(where, error.orig) from error
    except (OverflowError, UnicodeError) as error:
        raise Refused(
            "not-stored",
            "a value cannot be stored: {error}",
            "check what was given",
            error=str(error),
        ) from error
    except OSError as error:
        raise unreachable(where) from error


def told_by_server(where: str, error: BaseException | None) -> Refused:
    """Return the refusal for an error;
    https://www.postgresql.org/docs/current/errcodes-appendix.html names the codes.
    """
    code: str | None = getattr(error, "sqlstate", None)
    if code is None:
        return not_connected(where, error)
    make = _BY_CODE.get(code) or _BY_CLASS.get(code[:2])
    if make:
        return make(where)
    return Refused(
        "log-unreachable",
        "the log {where} gave an error ({state})",
        "look into the server's own log",
        where=where,
        state=code,
    )


def not_connected(where: str, error: BaseException | None) -> Refused:
    """No connection was made, or it broke; the driver has words for why, and no code."""
    said, way = str(error).lower(), getattr(error, "pgconn", None)
    if (
        "connection is closed" in said
        or "terminat" in said
        or "unexpectedly" in said
        or "consuming input failed" in said
    ):
        return lost(where)
    if getattr(way, "needs_password", False) or "no password" in said:
        return Refused(
            "no-password", "the server wants a password for the log {where}", PASSWORDS, where=where
        )
    if getattr(way, "used_password", False) and "authentication failed" in said:
        return Refused(
            "wrong-password",
            "the server refuses the user or the password for the log {where}",
            PASSWORDS,
            where=where,
        )
    for words, make in _BY_WORDS.items():
        if words in said:
            return make(where)
    return unreachable(where)


def unreachable(where: str) -> Refused:
    """Nobody answers there."""
    return Refused(
        "log-unreachable",
        "no server answers at {where}",
        "check its name and port, and that it runs",
        where=where,
    )


def lost(where: str) -> Refused:
    """The server went away in the middle; whether the last transaction was stored is for the log to
    say.
    """
    refusal = Refused(
        "log-unreachable",
        "the connection to the log {where} was lost; what was not answered may not be stored",
        "look with fitlog next once the server is back",
        where=where,
    )
    refusal.unsure = True
    return refusal


def no_driver() -> Refused:
    """The driver is not installed."""
    return Refused(
        "no-driver",
        "a log on PostgreSQL needs the extra shop",
        "in fitlog's checkout run pip install '.[shop]'",
    )


def has_password(where: str) -> Refused:
    """A password on the command line is seen by everyone who lists the processes."""
    return Refused(
        "password-in-url",
        "a password does not belong into the URL of the log {where}",
        PASSWORDS,
        where=where,
    )


def bad_url(why: str) -> Refused:
    """It is no URL of a database; why: a text of its own."""
    return Refused(
        "bad-url",
        "that is no URL of a log: {why}",
        "write postgresql+psycopg://USER@HOST/DATABASE",
        why=why,
    )


def unknown_option(where: str) -> Refused:
    """The URL asks for something that a connection does not know."""
    return bad_url("what stands behind its ? means nothing to the driver")


def no_database(where: str) -> Refused:
    """The server has no such database."""
    return Refused(
        "no-database",
        "the server has no database for the log {where}",
        "make it there: createdb DATABASE",
        where=where,
    )


def no_role(where: str) -> Refused:
    """The server does not know the user."""
    return Refused(
        "no-permission",
        "the server does not know the user of the log {where}",
        "name another: USER@HOST",
        where=where,
    )


def kept_out(where: str) -> Refused:
    """The user may not connect."""
    return Refused(
        "no-permission",
        "the server lets this user or machine not in to the log {where}",
        "ask its owner",
        where=where,
    )


def no_schema(where: str) -> Refused:
    """The schema is not there, or the user may not look into it."""
    return Refused(
        "no-schema",
        "there is no schema for the log {where}",
        "make it (CREATE SCHEMA), or name another: ?schema=NAME",
        where=where,
    )


def not_allowed(where: str) -> Refused:
    """The role of the user may not do that."""
    return Refused(
        "read-only-log",
        "your role may only read the log {where}; nothing was stored",
        "ask its owner for the right to write",
        where=where,
    )


def not_readable(where: str) -> Refused:
    """The role of the user may not even read."""
    return Refused(
        "no-permission",
        "you have no permission to read the log {where}",
        "ask its owner, or name another with --db",
        where=where,
    )


def no_room_to_lay_out(where: str) -> Refused:
    """The user may not make tables."""
    return Refused(
        "read-only-log",
        "you may not make tables in {where}, so no log can be made there",
        "ask the owner of the database",
        where=where,
    )


def full(where: str) -> Refused:
    """No room was left on the server."""
    return Refused(
        "disk-full",
        "no room is left for the log {where}; nothing was stored",
        "make room on its server, then try again",
        where=where,
    )


def crowded(where: str) -> Refused:
    """The server takes no more connections."""
    return Refused(
        "log-busy",
        "the server of the log {where} takes no more connections now",
        "wait, then try again",
        where=where,
    )


def not_stored(where: str) -> Refused:
    """A value is of a kind that the column cannot hold."""
    return trouble.against_rules(where)


def not_ours(where: str) -> Refused:
    """Tables of these names are there, of something else."""
    return Refused(
        "not-a-log",
        "the tables in {where} are no log of fitlog; they were left as they are",
        "name a schema of its own: ?schema=NAME",
        where=where,
    )


_BY_WORDS: dict[str, Callable[[str], Refused]] = {
    'database "': no_database,
    'role "': no_role,
    "password authentication failed": kept_out,
    "pg_hba.conf": kept_out,
    "not permitted to log in": kept_out,
    "permission denied": kept_out,
    "too many": crowded,
    "remaining connection slots": crowded,
    "invalid connection option": unknown_option,
    "invalid sslmode": unknown_option,
    "starting up": crowded,
    "shutting down": lost,
}
_BY_CODE: dict[str, Callable[[str], Refused]] = {
    "25006": not_allowed,
    "42501": not_allowed,
    "42703": trouble.damaged,
    "42P01": trouble.damaged,
    "3F000": no_schema,
    "40001": trouble.busy,
    "40P01": trouble.busy,
    "53100": full,
    "53300": crowded,
    "55P03": trouble.busy,
    "57014": trouble.busy,
}
_BY_CLASS: dict[str, Callable[[str], Any]] = {
    "08": lost,
    "22": not_stored,
    "23": not_stored,
    "57": lost,
    "58": trouble.damaged,
    "XX": trouble.damaged,
}


def older(where: str, found: int) -> Refused:
    """The log is of an older layout; a whole shop works on it, so that it is changed only when
    told.
    """
    return Refused(
        "older-log",
        "the log {where} has the older layout {found}, and everybody who works on it needs "
        "the same fitlog",
        "have its keeper bring it up to date: fitlog log migrate",
        where=where,
        found=found,
    )
