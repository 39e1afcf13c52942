"""What each user prefers: the units of lengths, a name to be called by, the machine they are at,
and what phrases of their own mean.

A phrase is a preference of its own: a row of the key "name", what it means, by the login `_whose`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from datetime import datetime
from types import MappingProxyType
from typing import Any, NamedTuple

from sqlalchemy import Connection, Row, or_, select

from ..domain import clean_text, unit_word
from ..errors import Refused
from ..texts import tell
from . import digests
from .engine import Store
from .named import WRONG
from .once import Done, seen_done
from .rows import moment_text
from .schema import PREFERENCE

KEYS = {"units": "mm", "name": "TEXT", "machine": "NAME"}  # each with what may be said of it
_OF_PHRASES = "words of "  # begins whose preference a phrase is
_NONE = "-"  # what a phrase means that was taken back
MOST_LOGIN = 200  # characters, as the log keeps one


class Preferences(NamedTuple):
    """units: word of the preferred units.  name: None when the login serves.  machine: name of
    their own, None without.  unreadable: the refusal of a row that makes no sense by its key, by ""
    where it has none; then nothing is said of that, since what stood before it was taken back.
    """

    units: str = "mm"
    name: str | None = None
    machine: str | None = None
    unreadable: Mapping[str, Refused] = MappingProxyType({})
    words: Mapping[str, str] = MappingProxyType({})


class PreferenceBook:
    """The newest value of each preference stands; the older ones stay in the log."""

    _store: Store

    def preferences(self, login: str) -> Preferences:
        """Return what `login` prefers. A row that makes no sense is told and not raised: whoever
        wrote it past fitlog keeps nobody from the log.
        """
        own = PREFERENCE.c.login.startswith(_whose(login, ""), autoescape=True)
        wanted = select(PREFERENCE).where(or_(PREFERENCE.c.login == login, own))
        with self._store.glance() as connection:
            found = connection.execute(wanted.order_by(PREFERENCE.c.id)).all()
        rows = [row for row in found if row.login == login]
        said: dict[str, str] = {}
        unreadable: dict[str, Refused] = {}
        for key, row in {row.key if row.key in KEYS else "": row for row in rows}.items():
            try:
                said[key] = value(row)
            except Refused as damage:
                unreadable[key] = damage
        units, machine = said.get("units", "mm"), said.get("machine") or None
        words = _words([row for row in found if row.login != login], login)
        return Preferences(units, said.get("name"), machine, unreadable, words)

    def named(self) -> dict[str, str]:
        """Return every login that prefers anything, with the name that it logs under."""
        wanted = select(PREFERENCE).where(
            PREFERENCE.c.key.in_(KEYS), ~PREFERENCE.c.login.startswith(_OF_PHRASES)
        )
        with self._store.glance() as connection:
            rows = connection.execute(wanted.order_by(PREFERENCE.c.id)).all()
        found = {str(row.login): str(row.login) for row in rows}
        for row in rows:
            if row.key == "name":
                with suppress(Refused):
                    found[str(row.login)] = value(row)
        return found

    def call(self, login: str, phrase: str, meaning: str | None, at: datetime) -> None:
        """Log what a phrase means to `login` from `at` on; None: nothing any more. Raises Refused
        (text-too-long).
        """
        whose = _whose(login, phrase)
        if len(whose) > MOST_LOGIN:
            raise Refused(
                "text-too-long",
                "{what} has {count} characters, the limit is {limit}",
                "shorten it and try again",
                what=tell("the phrase"),
                count=len(phrase),
                limit=max(MOST_LOGIN - len(whose) + len(phrase), 0),
            )
        self.prefer(whose, name=meaning or _NONE, at=at)

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

        def write(connection: Connection) -> Done[None]:
            number = 0
            for row in rows:
                number = digests.append(connection, PREFERENCE, row, digests.said_of(row))
            return Done(None, PREFERENCE, number)

        seen_done(self._store, write, "fitlog prefer")


def _whose(login: str, phrase: str) -> str:
    """Whose preference a phrase is: no login reads so."""
    return f"{_OF_PHRASES}{login}: {phrase}"


def _words(rows: Iterable[Row[Any]], login: str) -> dict[str, str]:
    """What a person's own phrases mean, in their order; a row that makes no sense is none."""
    found: dict[str, str] = {}
    for row in rows:
        before, _, phrase = str(row.login).partition(_whose(login, ""))
        if before or not phrase or row.key != "name":
            continue
        found.pop(phrase, None)
        with suppress(Refused):
            if (meaning := value(row)) != _NONE:
                found[phrase] = meaning
    return found


def value(row: Row[Any]) -> str:
    """Return what a row says is preferred; refuse ("damaged-log") a row that makes no sense."""
    try:
        said = clean_text("", row.value)
        if row.key in KEYS and (row.key != "units" or (said := unit_word(said) or "")):
            return said
    except WRONG:
        pass
    raise Refused(
        "damaged-log",
        "preference {number} of the log makes no sense: the {key} of {login} cannot be {value!r}",
        "say it anew, which then stands: fitlog prefer --{key} {example}"
        if row.key in KEYS
        else "look with fitlog log health, then restore your latest backup",
        number=row.id,
        key=str(row.key)[:40],
        login=row.login,
        value=str(row.value)[:40],
        example=KEYS.get(row.key),
    )
