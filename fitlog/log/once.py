"""A deed of the log is done once, however often it is said: its entry is found again by its key."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from sqlalchemy import Connection, Row, select

from ..errors import Refused
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
            raise Refused(
                "log-unreachable",
                "the connection to the log {where} was lost; nothing was stored",
                "say it again",
                where=store.where,
            ) from error
        raise


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
