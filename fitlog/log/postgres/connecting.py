"""Why there is no connection to a log's server, each as one sentence and a next step, never with a
password.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from ...errors import Refused

PASSWORDS = "keep it in ~/.pgpass, in PGPASSWORD or in a service file (PGSERVICE)"


def not_connected(where: str, error: BaseException | None) -> Refused:
    """No connection was made, or it broke; the driver has words for why, and no code.

    They are libpq's own, and the server's in the language of its `lc_messages`; names in them,
    which anybody may have chosen, are not looked at.
    """
    said, way = re.sub(r'"[^"]*"', '""', str(error).lower()), getattr(error, "pgconn", None)
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
    told = re.search(r"failed: [^:\n]+:  (.+)", str(error))  # the server's: "FATAL:  why"
    return refused_by_server(where, told[1]) if told else unreachable(where)


def refused_by_server(where: str, said: str) -> Refused:
    """The server let nobody in, for a reason that is known to it alone, in its own language."""
    return Refused(
        "log-unreachable",
        "the server of the log {where} refuses the connection: {said}",
        "ask its keeper",
        where=where,
        said=said,
    )


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
        "look with {look} once the server is back, before you say it again",
        where=where,
        look="fitlog next",
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


def no_login(where: str) -> Refused:
    """The role is none of a person."""
    return Refused(
        "no-login",
        "the user of the log {where} is a role that may not log in",
        "name your own: USER@HOST; its owner grants it the rights of that role",
        where=where,
    )


def not_encrypted(where: str) -> Refused:
    """The way there cannot be encrypted as was asked."""
    return Refused(
        "no-encryption",
        "no encrypted connection to the server of the log {where} can be made, as sslmode asks",
        "have its keeper switch TLS on or renew its certificate, or ask for another sslmode",
        where=where,
    )


def closed(where: str) -> Refused:
    """The database lets nobody in for a while."""
    return Refused(
        "log-busy",
        "the database of the log {where} takes no connections now",
        "ask its keeper when it will, then try again",
        where=where,
    )


def silent(where: str) -> Refused:
    """Nothing comes back any more, and nothing says why."""
    refusal = Refused(
        "log-unreachable",
        "the server of the log {where} is silent; what was not answered may not be stored",
        "check the network to it, then look with {look} before you say it again",
        where=where,
        look="fitlog next",
    )
    refusal.unsure = True
    return refusal


def kept_out(where: str) -> Refused:
    """The user may not connect."""
    return Refused(
        "no-permission",
        "the server does not let this user or machine in to the log {where}",
        "ask its keeper for the right (CONNECT, pg_hba.conf), encrypted perhaps: ?sslmode=require",
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


_BY_WORDS: dict[str, Callable[[str], Refused]] = {
    "does not answer": silent,
    "connection is closed": lost,
    "terminat": lost,
    "unexpectedly": lost,
    "consuming input failed": lost,
    "timeout expired": unreachable,
    "pg_hba.conf": kept_out,
    "not permitted to log in": no_login,
    "permission denied": kept_out,
    "authentication failed": kept_out,
    "too many": crowded,
    "connection slots": crowded,
    "starting up": crowded,
    "recovery mode": crowded,
    "not yet accepting connections": crowded,
    "not accepting connections": crowded,
    "not currently accepting connections": closed,
    "shutting down": lost,
    'database "" does not exist': no_database,
    'role "" does not exist': no_role,
    "invalid connection option": unknown_option,
    "invalid sslmode": unknown_option,
    "ssl": not_encrypted,
    "certificate": not_encrypted,
}
