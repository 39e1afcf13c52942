"""One cell of a table: a length, a day, a text that no spreadsheet runs as a formula."""

from __future__ import annotations

import re
from datetime import UTC, datetime, time, timedelta
from decimal import Decimal

from ..errors import NotUnderstood, Refused
from ..language.units import Length, parse_length, quoted

_OLDEST = 1900  # no log of a router table is older

# What a spreadsheet takes for a formula: at the start of a cell, behind quotes and space, or where
# a program that splits at another mark would begin a cell. The full-width signs are taken for their
# plain ones by some. Common practice, no source.
_FORMULA = r"(?=['\"\s]*[=+\-@\uff1d\uff0b\uff0d\uff20\t\r\n])"
_GUARD = re.compile(rf"(\A|[;\t\r\n]){_FORMULA}")
_UNGUARD = re.compile(rf"(\A|[;\t\r\n])'{_FORMULA}")
_THOUSANDS = re.compile(r"[+\u2212-]?[0-9]{1,3},[0-9]{3}(?![0-9])")
_DAY = re.compile(
    r"(?:(?P<iso>[0-9]{4}-[0-9]{1,2}-[0-9]{1,2})|(?P<dots>[0-9]{1,2}\.[0-9]{1,2}\.[0-9]{4})|(?P<slash>[0-9]{1,2}/[0-9]{1,2}/[0-9]{4}))"
    r"(?:[T ]+(?P<clock>[0-9]{1,2}:[0-9]{2}(?::[0-9]{2}(?:\.[0-9]{1,6})?)?) "
    r"?(?P<zone>Z|UTC|[+-][0-9]{2}:?[0-9]{2})?)?",
    re.IGNORECASE,
)


def guarded(text: str) -> str:
    """Return a text that no spreadsheet runs: an apostrophe before whatever would begin
    a formula.
    """
    return _GUARD.sub(r"\1'", text)


def unguarded(text: str) -> str:
    """Return what `guarded` was given."""
    return _UNGUARD.sub(r"\1", text)


def length(text: str, unit: str, preferred: str, what: str) -> Length:
    """Read the length in a cell. unit: that of its column ("mm", "cm", "in", "thou"), "" where the
    header names none.

    preferred: the unit of a bare number then. Raises NotUnderstood "bad-length".
    """
    plain = " ".join(text.split())
    if unit and re.search(r"[0-9]\.?\Z", plain):
        plain = f"{plain} {unit}"
    found = parse_length(plain, units=preferred, what=what)
    return Length(found.mm, " ".join(text.split()), found.unit)


def digits(value: float) -> str:
    """Return a number with all its digits and without an exponent: what is read back is the same
    number.
    """
    return f"{Decimal(repr(float(value))):f}"


def looks_like_thousands(text: str) -> bool:
    """Tell whether a number has a comma before just three digits, as thousands are set apart by
    many.
    """
    return _THOUSANDS.match(text.strip()) is not None


def moment(day: str, clock: str, order: str | None) -> datetime:
    """Read a day with or without a time, aware, in UTC; without one it is noon, so that the day is
    the same all over the world.

    order: how 3/4/2031 is meant, "dmy" or "mdy", None: not said. A time without a zone is this
    computer's. Raises NotUnderstood "bad-date".
    """
    text = " ".join(f"{day} {clock}".split())
    found = _DAY.fullmatch(text)
    if found is None:
        raise _bad(text, "write it like 2031-03-04, 2031-03-04 15:30 or 4.3.2031")
    year, month, date = _parts(found, text, order)
    try:
        parsed = datetime(year, month, date)
        if found["clock"]:
            parsed = datetime.combine(parsed, time.fromisoformat(_full(found["clock"])))
        made = _zoned(parsed, found["zone"], bool(found["clock"]))
    except (ValueError, OverflowError, OSError):
        raise _bad(text, "check day, month and time") from None
    if not _OLDEST <= year <= 9000:
        raise _bad(text, "check the year")
    return made


def _parts(found: re.Match[str], text: str, order: str | None) -> tuple[int, int, int]:
    """Return year, month and day."""
    if found["iso"]:
        year, month, day = map(int, found["iso"].split("-"))
        return year, month, day
    if found["dots"]:
        day, month, year = map(int, found["dots"].split("."))
        return year, month, day
    first, second, year = map(int, found["slash"].split("/"))
    if order is None and first <= 12 and second <= 12 and first != second:
        raise _bad(text, "say which comes first, the day or the month: --dates dmy or --dates mdy")
    day_first = order == "dmy" or (order is None and first > 12)
    return (year, second, first) if day_first else (year, first, second)


def _full(clock: str) -> str:
    hour, _, rest = clock.partition(":")
    whole, _, part = rest.partition(".")
    return f"{int(hour):02d}:{whole}" + (f".{part:0<6}" if part else "")


def _zoned(parsed: datetime, zone: str | None, timed: bool) -> datetime:
    if not timed:
        return parsed.replace(hour=12, tzinfo=UTC)
    if zone is None:
        return parsed.astimezone(UTC)
    if zone.upper() in ("Z", "UTC"):
        return parsed.replace(tzinfo=UTC)
    hours, minutes = int(zone[1:3]), int(zone[-2:])
    if minutes > 59:
        raise ValueError(zone)
    off = timedelta(hours=hours, minutes=minutes) * (-1 if zone[0] == "-" else 1)
    return (parsed - off).replace(tzinfo=UTC)


def yes(text: str) -> bool:
    """Read a yes or no; empty is no. Raises NotUnderstood "bad-choice"."""
    word = text.strip().casefold()
    if word in ("yes", "y", "1", "true", "x"):
        return True
    if word in ("", "no", "n", "0", "false"):
        return False
    raise NotUnderstood(
        "bad-choice", "{given} is neither yes nor no", "write yes or no", given=quoted(text)
    )


def whole(text: str, what: str = "a piece") -> int:
    """Read the number of `what`, a whole one above zero. Raises Refused "bad-number"."""
    plain = text.strip()
    if not re.fullmatch(r"[0-9]{1,6}", plain) or int(plain) < 1:
        raise Refused(
            "bad-number",
            "{given} is no number of {what}",
            "write a whole number from 1 on",
            given=quoted(plain),
            what=what,
        )
    return int(plain)


def _bad(text: str, remedy: str) -> NotUnderstood:
    return NotUnderstood(
        "bad-date", "the date {date} cannot be read", "{remedy}", date=quoted(text), remedy=remedy
    )
