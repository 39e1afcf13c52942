"""A deed of the log is done once: after a lost answer to COMMIT it is looked for, not said again.

Every entry is found by its key, also where a person or a page says it again (`once`). Sharpenings,
preferences and what changes the catalogue have none: the command itself looks whether its row is
there as it left it (`seen_done`); said again by a person, a sharpening or a preference is another.
Advice shown twice, a set-up chosen twice and a merged log say no more than once; the lines of a
table have keys. What a file's failed disk left of a COMMIT nobody can know before it is opened
anew, so there the refusal says where to look.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Generic, NamedTuple, TypeVar

from sqlalchemy import Connection, Row, Table, select

from ..errors import Refused
from . import layout
from .engine import Store
from .rows import Stamp
from .schema import ENTRY

T = TypeVar("T")


def once(
    store: Store,
    stamp: Stamp,
    kinds: tuple[str, ...],
    write: Callable[[Connection], T],
    there: Callable[[Connection, Row[Any]], T],
) -> T:
    """Write one deed, one transaction; return what `write` does, or what was `there` already under
    the key of its stamp, an entry of one of these kinds.

    Nobody looks for the key before something is refused: a key that is there refuses every other
    entry. Where the answer to COMMIT was lost, the entry is looked for once in a turn to write,
    which is only had when the lost one has ended, so that what is said of it is true. Raises
    Refused: known-key for a key that is another deed's; log-unreachable, saying whether nothing was
    stored or nobody knows; what `write` raises.
    """
    try:
        with store.writing() as connection:
            return write(connection)
    except Refused as error:
        if stamp.key is None:
            raise
        try:
            if error.unsure:
                store.reach_again()
            with store.writing() if error.unsure else store.reading() as connection:
                found = of_key(connection, stamp.key)
                if found is not None and found.kind in kinds:
                    return there(connection, found)
        except Refused:
            raise error from None
        if found is not None:
            raise known_key(stamp.key, found) from None
        if error.unsure:
            raise _nothing_stored(store) from error
        raise


class Done(NamedTuple, Generic[T]):
    """What a deed without a key did: its answer, and the row `number` of a table that it put in,
    changed or took away, which had the digest `before`, None for one that was not there.
    """

    answer: T
    table: Table
    number: int
    before: str | None = None


def seen_done(store: Store, write: Callable[[Connection], Done[T]], look: str) -> T:
    """Write one deed that has no key, one transaction; return its answer.

    Where the answer to COMMIT was lost, its row is looked at once in a turn to write, which is only
    had when the lost one has ended: it was done where the row has the digest that the deed gave it,
    and not where it has the one from before. look: the command that shows it, for whoever has to.
    Raises Refused: log-unreachable, saying whether nothing was stored or nobody knows, as where
    somebody else changed the row since; what `write` raises.
    """
    sent: tuple[Done[T], str | None] | None = None
    try:
        with store.writing() as connection:
            done = write(connection)
            sent = done, digest_of(connection, done.table, done.number)
        return done.answer
    except Refused as error:
        error.values["look"] = look
        if not error.unsure:
            raise
        now = None
        try:
            store.reach_again()
            if sent is not None:
                with store.writing() as connection:
                    now = digest_of(connection, sent[0].table, sent[0].number)
        except Refused:
            raise error from None
        if sent is None:  # there was no COMMIT
            raise _nothing_stored(store) from error
        done, after = sent
        if now == after:
            return done.answer
        # From what is only added to, no row goes for another to have its number.
        if now == done.before or done.table in layout.APPEND_ONLY:
            raise _nothing_stored(store) from error
        raise


def digest_of(connection: Connection, table: Table, number: int) -> str | None:
    """Return the digest of a row, None where there is none."""
    wanted = select(table.c.digest).where(table.c.id == number)
    found: str | None = connection.execute(wanted).scalar_one_or_none()
    return found


def _nothing_stored(store: Store) -> Refused:
    return Refused(
        "log-unreachable",
        "the connection to the log {where} was lost; nothing was stored",
        "say it again",
        where=store.where,
    )


def of_key(connection: Connection, key: str) -> Row[Any] | None:
    """Return the entry that has a key, None without one."""
    return connection.execute(select(ENTRY).where(ENTRY.c.key == key)).first()


def known_key(key: str, entry: Row[Any]) -> Refused:
    """Return the refusal of a key that is another deed's."""
    return Refused(
        "known-key",
        "the key {key!r} is that of entry {entry} ({kind}, set-up {setup})",
        "give each deed a key of its own",
        key=key[:60],
        entry=entry.id,
        kind=entry.kind,
        setup=entry.setup,
    )
