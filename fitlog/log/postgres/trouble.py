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
from .connecting import crowded, kept_out, lost, not_connected, unreachable


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
    if code in _LACKING:
        said: str | None = getattr(getattr(error, "diag", None), "message_primary", None)
        return trouble.damaged(where, said or "")
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


def slow(where: str) -> Refused:
    """The server took longer than a statement may."""
    return Refused(
        "log-busy",
        "the log {where} did not answer in time; nothing was stored",
        "try again; if it goes on, ask the keeper of its server who holds it up",
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


def old_server(where: str, least: int) -> Refused:
    """The server lacks what a log needs of it."""
    return Refused(
        "old-server",
        "the server of {where} is older than PostgreSQL {least}, which a log needs",
        "have its keeper upgrade it",
        where=where,
        least=least,
    )


def full(where: str) -> Refused:
    """No room was left on the server."""
    return Refused(
        "disk-full",
        "no room is left for the log {where}; nothing was stored",
        "make room on its server, then try again",
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


_LACKING = ("42703", "42883", "42P01")  # a column, a function, a table; the server says which
_BY_CODE: dict[str, Callable[[str], Refused]] = {
    "25006": not_allowed,
    "25P03": lost,
    "28000": kept_out,
    "42501": not_allowed,
    "3F000": no_schema,
    "40001": trouble.busy,
    "40P01": trouble.busy,
    "53100": full,
    "53300": crowded,
    "55P03": trouble.busy,
    "57014": slow,
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
