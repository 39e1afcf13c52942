"""The advice as it was shown, and to whom: their next cut was made at it, unless they say other."""

from __future__ import annotations

from functools import cache
from typing import Any

from sqlalchemy import Connection, Row, Select, bindparam, func, select

from ..domain import Settings
from . import digests, entries
from .door import sound
from .engine import Store
from .rows import Stamp, members, moment_text, require_joint
from .schema import ADVICE, ENTRY, SETUP

_NEWEST = select(func.max(ENTRY.c.id)).scalar_subquery()  # the number of the log's newest entry
_LAST = ADVICE.alias("last_advice")


class Shown:
    """What a log does to keep an advice."""

    _store: Store

    def show(
        self,
        setup: int,
        settings: Settings,
        document: str,
        stamp: Stamp,
        last: Settings | None = None,
    ) -> int:
        """Log an advice that was shown to somebody, unless it is the one last shown to them and to
        anybody; return its number. Raises Refused: unknown-setup, bad-setting for another joint's.

        last: the settings last shown, as far as the caller knows: where these are others, nobody
        looks before it is the turn to write. It says what was shown, and holds whatever else was
        written meanwhile.
        """
        if last is None or last == settings:
            with self._store.glance() as connection:
                there, _ = _to_show(connection, setup, settings, document, stamp.by)
                if there is not None:
                    return there  # a log that can only be read can still repeat its advice
        with self._store.writing() as connection:
            there, after = _to_show(connection, setup, settings, document, stamp.by)
            if there is not None:
                return there
            return add_advice(connection, setup, after, settings, document, stamp)


def add_advice(
    connection: Connection,
    setup: int,
    after: int,
    settings: Settings,
    document: str,
    stamp: Stamp,
) -> int:
    """Append an advice as it was shown, `after` the log's newest entry; return its number."""
    row = {
        "setup": setup,
        "entry": after,
        "at": moment_text(stamp.at),
        "settings": members(settings),
        "document": document,
        "by": stamp.by,
        "machine": stamp.machine,
    }
    return digests.append(connection, ADVICE, row, digests.advice_said(row))


def _to_show(
    connection: Connection, setup: int, settings: Settings, document: str, by: str
) -> tuple[int | None, int]:
    """Return the number of an advice where it is there as what was shown last, None where it is to
    be kept; and the newest entry, after which it is then.
    """
    last = _newest(connection, setup, by)
    if last is None:
        raise entries.unknown(connection, setup)
    require_joint(last.joint, settings)
    same = (last.by, last.document) == (by, document)
    there = same and last.settings == last.latest == members(settings)
    return (int(last.id) if there else None), int(last.newest)


def _newest(connection: Connection, setup: int, by: str) -> Row[Any] | None:
    """Return the advice last shown for `setup` to a person, to anybody where that was never; with
    the `latest` settings shown to anybody, the set-up's joint and the number of the log's newest
    entry.
    """
    found = connection.execute(_last_shown(), {"setup": setup, "by": by}).all()
    return next(iter(sound(found, "advice", ADVICE, SETUP)), None)


@cache
def _last_shown() -> Select[Any]:
    return (
        select(ADVICE, _LAST.c.settings.label("latest"), SETUP.c.joint, _NEWEST.label("newest"))
        .select_from(SETUP)
        .join(ADVICE, ADVICE.c.id == entries.advice_in_force(SETUP.c.id, bindparam("by")))
        .join(_LAST, _LAST.c.id == entries.advice_in_force(SETUP.c.id))
        .where(SETUP.c.id == bindparam("setup"))
    )
