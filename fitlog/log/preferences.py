"""What each user prefers: the units of lengths, a name to be called by, the machine they are at."""

from __future__ import annotations

from datetime import datetime
from typing import Any, NamedTuple

from sqlalchemy import select

from ..domain import clean_text
from ..texts import tell
from . import digests
from .door import sound
from .engine import Store
from .named import made
from .rows import moment_text
from .schema import PREFERENCE


class Preferences(NamedTuple):
    """units: word of the preferred units.  name: None when the login serves.  machine: name of
    their own, None without.
    """

    units: str = "mm"
    name: str | None = None
    machine: str | None = None


class PreferenceBook:
    """The newest value of each preference stands; the older ones stay in the log."""

    _store: Store

    def preferences(self, login: str) -> Preferences:
        """Return what `login` prefers."""
        wanted = select(PREFERENCE).where(PREFERENCE.c.login == login)
        with self._store.glance() as connection:
            rows = connection.execute(wanted.order_by(PREFERENCE.c.id)).all()
        found = {row.key: row.value for row in sound(rows, "preference", PREFERENCE)}
        return made(tell("the preferences"), _preferences, found)

    def prefer(
        self,
        login: str,
        *,
        units: str | None = None,
        name: str | None = None,
        machine: str | None = None,
        at: datetime,
    ) -> None:
        """Log what `login` prefers from `at` on; what is None stays as it was, an empty machine is
        none. It is that person's own word, which holds whatever stood before.
        """
        given = {"units": units, "name": name, "machine": machine}
        rows = [
            {
                "login": login,
                "key": key,
                "value": clean_text(tell("the {name}", name=key), value),
                "at": moment_text(at),
            }
            for key, value in given.items()
            if value is not None
        ]
        with self._store.writing() as connection:
            for row in rows:
                digest = digests.after_last(PREFERENCE, digests.said_of(row))
                connection.execute(PREFERENCE.insert().values(**row, digest=digest))


def _preferences(found: dict[str, Any]) -> Preferences:
    return Preferences(**found | {"machine": found.get("machine") or None})
