"""Small checks that every value of the domain passes: a size is a size, a name a name."""

from __future__ import annotations

import math

from ..errors import Least, Mm, Most, Refused

TEXT_LIMIT = 2000
NAME_LIMIT = 60
UNITS = ("mm", "inch", "fraction")  # what lengths may be preferred in
_UNIT_WORDS = {"in": "inch", "inches": "inch", "fractions": "fraction", "millimetres": "mm"}


def positive(what: str, value: float) -> float:
    """Return `value` if it is a finite number above zero; raise `Refused` otherwise."""
    if not math.isfinite(value) or value <= 0:
        raise Refused(
            "bad-size",
            "{what} must be a size above zero, not {value:g}",
            "give {what} as a length",
            what=what,
            value=value,
        )
    return value


def finite(what: str, value: float) -> float:
    """Return `value` if it is a finite number; raise `Refused` otherwise."""
    if not math.isfinite(value):
        raise Refused(
            "bad-size",
            "{what} must be a number, not {value:g}",
            "give {what} as a length",
            what=what,
            value=value,
        )
    return value


def board_size(what: str, value: float, least: float, most: float) -> float:
    """Return a board's size; refuse one that no board for this joint has."""
    positive(what, value)
    if not least <= value <= most:
        raise Refused(
            "absurd-size",
            "{what} of {value} is not a board's (between {least:bare} and {most})",
            "check the unit: a size without one is in your preferred unit",
            what=what,
            value=Mm(value),
            least=Least(least),
            most=Most(most),
        )
    return value


def clean_name(what: str, text: str) -> str:
    """Return a name without surrounding space; refuse empty, overlong or unprintable ones."""
    name = " ".join(text.split())
    if not name or len(name) > NAME_LIMIT or not name.isprintable():
        shown = name[:20].encode("unicode_escape").decode()
        raise Refused(
            "bad-name",
            "{what} {shown!r} cannot be used as a name",
            "use 1 to {limit} printable characters",
            what=what,
            shown=shown,
            limit=NAME_LIMIT,
        )
    if name.startswith("-"):
        raise Refused(
            "bad-name",
            "{what} {name!r} would be read as an option",
            "start the name with a letter or digit",
            what=what,
            name=name,
        )
    return name


def clean_text(what: str, text: str) -> str:
    """Return free text on one line; refuse control characters and more than TEXT_LIMIT
    characters.
    """
    line = " ".join(text.split())
    if len(line) > TEXT_LIMIT:
        raise Refused(
            "text-too-long",
            "{what} has {count} characters, the limit is {limit}",
            "shorten it and try again",
            what=what,
            count=len(line),
            limit=TEXT_LIMIT,
        )
    if not all(ch.isprintable() for ch in line):
        raise Refused(
            "control-character",
            "{what} contains a control character",
            "type it again as plain text",
            what=what,
        )
    return line


def within(what: str, value: float | None, low: float, high: float, unit: str) -> None:
    """Refuse a value, where it is given, outside [low, high]; `unit` as it is read, such as "deg
    C".
    """
    if value is not None and not low <= value <= high:  # which refuses nan, too
        raise Refused(
            "absurd-value",
            "{what} of {value:g} {unit} cannot be",
            "give {low:g} to {high:g} {unit}",
            what=what,
            value=value,
            unit=unit,
            low=low,
            high=high,
        )


def optional_positive(what: str, value: float | None) -> None:
    """Refuse a size that is given but is none."""
    if value is not None:
        positive(what, value)


def unit_word(text: str) -> str | None:
    """Return the one of UNITS that a word means, None for another word."""
    word = _UNIT_WORDS.get(text.lower(), text.lower())
    return word if word in UNITS else None
