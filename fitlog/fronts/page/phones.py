"""The phones that were let in, in a file beside the log that nobody names: their keys only as
SHA-256, so that who reads the file gets in with nothing from it.

A phone is paired with this computer, not with a log: it comes in at whichever log `fitlog page`
serves, until it is revoked or was not seen for `UNSEEN`.
"""

from __future__ import annotations

import hmac
import json
import os
import secrets
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from pathlib import Path
from typing import Any, NamedTuple

from ...errors import Refused
from ...newfile import place_of, whole_file, written

if sys.platform != "win32":
    import fcntl

UNSEEN = timedelta(days=90)  # a phone that was away so long is paired anew
_KEY_BYTES = 32  # 256 random bits
_NOTED = timedelta(minutes=1)  # how often it is written down that phones are there


class Paired(NamedTuple):
    """A phone that was let in. digest: SHA-256 of its key, in hex; login: whose preferences hold,
    "" before it said who holds it; name: as that person said it; label: the address that it was
    paired from; paired, seen: in UTC.
    """

    number: int
    digest: str
    login: str
    name: str
    label: str
    paired: datetime
    seen: datetime


class _Written(NamedTuple):
    """What the file holds. next: the number of the next phone, since none is ever given twice."""

    next: int
    phones: tuple[Paired, ...]


class PhoneBook:
    """The paired phones of this computer's user. What another process changes is seen at once."""

    def __init__(self, path: Path, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        self.path, self._now = path, now
        self._read: tuple[object, _Written] | None = None
        self._seen: dict[int, datetime] = {}
        self._noted = now()

    def all(self) -> tuple[Paired, ...]:
        """Return every phone that would be let in. Raises Refused: damaged-phones,
        unreadable-file.
        """
        return tuple(self._live(self._written().phones))

    def known(self, key: str) -> Paired | None:
        """Return the phone whose key this is; None: nobody's. Raises as `all` does."""
        digest = _digest(key)
        found = [p for p in self.all() if hmac.compare_digest(p.digest, digest)]
        return found[0] if found else None

    def seen(self, number: int) -> bool:
        """Take in that a phone is there; tell whether it is time for `note`."""
        self._seen[number] = self._now()
        return self._now() - self._noted >= _NOTED

    def note(self) -> None:
        """Write down when phones were seen. Raises Refused: unwritable-file, and as `all` does."""
        self._noted = self._now()
        seen, self._seen = self._seen, {}
        if seen:
            with self._change() as (now, put):
                put(now.next, [p._replace(seen=seen.get(p.number, p.seen)) for p in now.phones])

    def add(self, label: str) -> str:
        """Let a phone in; return its key, which is written down nowhere. Raises as `note` does."""
        key, at = secrets.token_urlsafe(_KEY_BYTES), self._now()
        with self._change() as (now, put):
            new = Paired(now.next, _digest(key), "", "", label, at, at)
            put(now.next + 1, [*self._live(now.phones), new])
        return key

    def name(self, number: int, login: str, name: str) -> None:
        """Keep who holds a phone. Raises as `note` does."""
        with self._change() as (now, put):
            put(
                now.next,
                [
                    p._replace(login=login, name=name) if p.number == number else p
                    for p in now.phones
                ],
            )

    def revoke(self, number: int) -> Paired:
        """Let a phone in no more; return it. Raises Refused: unknown-phone, and as `note` does."""
        with self._change() as (now, put):
            found = [p for p in now.phones if p.number == number]
            if not found:
                raise Refused(
                    "unknown-phone",
                    "there is no phone {number}",
                    "take one that fitlog page phones lists",
                    number=number,
                )
            put(now.next, [p for p in now.phones if p.number != number])
        return found[0]

    def _live(self, phones: tuple[Paired, ...]) -> Iterator[Paired]:
        now = self._now()
        return (p for p in phones if now - self._seen.get(p.number, p.seen) < UNSEEN)

    def _written(self) -> _Written:
        """What the file holds, read again only where it is another or was written since."""
        try:
            found = self.path.stat()
            stamp, held = (found.st_mtime_ns, found.st_ino, found.st_size), self._read
            if held is None or held[0] != stamp:
                held = self._read = stamp, _parsed(self.path.read_bytes(), str(self.path))
        except FileNotFoundError:
            return _Written(1, ())
        except OSError as error:
            raise Refused(
                "unreadable-file",
                "the paired phones cannot be read from {name!r} ({why})",
                "make it a file that you may read, or remove it and pair the phones anew",
                name=str(self.path),
                why=error.strerror or str(error),
            ) from error
        return held[1]

    @contextmanager
    def _change(self) -> Iterator[tuple[_Written, Callable[[int, list[Paired]], None]]]:
        """Give what the file holds and how to write it anew, while no other process changes it."""
        name = str(self.path)
        with written(name, "the paired phones"):
            self.path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            turn = os.open(self.path.with_suffix(".lock"), os.O_RDWR | os.O_CREAT, 0o600)
        try:
            if sys.platform != "win32":
                fcntl.flock(turn, fcntl.LOCK_EX)
            self._read = None  # two changes of one moment may have one stamp
            yield self._written(), lambda number, phones: _write(name, _Written(number, (*phones,)))
        finally:
            self._read = None
            os.close(turn)


def _digest(key: str) -> str:
    return sha256(key.encode("utf-8", "surrogateescape")).hexdigest()


def _write(name: str, held: _Written) -> None:
    rows = [
        {**p._asdict(), "paired": p.paired.isoformat(), "seen": p.seen.isoformat()}
        for p in held.phones
    ]
    place = place_of(name, over=True, private=True)
    with whole_file(place, "the paired phones") as path:
        path.write_text(json.dumps({"next": held.next, "phones": rows}), encoding="utf-8")


def _parsed(told: bytes, name: str) -> _Written:
    try:
        found = json.loads(told)
        phones = tuple(map(_phone, found["phones"]))
        return _Written(max([int(found["next"]), *(p.number + 1 for p in phones)]), phones)
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise Refused(
            "damaged-phones",
            "{name!r} holds no paired phones that make sense",
            "remove it, and pair the phones anew",
            name=name,
        ) from error


def _phone(row: Mapping[str, Any]) -> Paired:
    paired, seen = (
        datetime.fromisoformat(row[name]).astimezone(UTC) for name in ("paired", "seen")
    )
    digest, login, name, label = (str(row[name]) for name in ("digest", "login", "name", "label"))
    return Paired(int(row["number"]), digest, login, name, label, paired, seen)
