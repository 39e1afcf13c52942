"""Lengths at the edge: what a maker types becomes millimetres, and millimetres become what a maker
reads.

The inch is the international inch of 1959, 25.4 mm exactly (NIST SP 811, appendix B).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from ..domain.checks import UNITS as UNITS
from ..domain.checks import unit_word
from ..domain.family import SettingKind
from ..domain.machines import LIFT, TURN_PARTS
from ..errors import Least, Mm, Most, NotUnderstood, Refused, Typed, nearest
from ..texts import tell
from .inches import MARKS, beside, fraction, inward, limit, mixed, spelled
from .numbers import counted as counted
from .turns import turned

MM_PER_INCH = 25.4
LENGTH_LIMIT = 40  # characters; longer text is no length
SHOWN_LIMIT = 40  # characters of the user's own text repeated in a message

_INCH = Fraction(254, 10)
_THOU = _INCH / 1000
# Spelling -> (unit understood, mm in one; a turn's own size is known only to its machine).
_SPELLINGS: dict[str, tuple[str, Fraction]] = {
    **dict.fromkeys(
        ("mm", "millimetre", "millimetres", "millimeter", "millimeters"), ("mm", Fraction(1))
    ),
    **dict.fromkeys(
        ("cm", "centimetre", "centimetres", "centimeter", "centimeters"), ("mm", Fraction(10))
    ),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "\u2033", "\u201d"), ("in", _INCH)),
    "thou": ("in", _THOU),
    **dict.fromkeys(("turn", "turns"), ("turn", Fraction(0))),
}
UNIT_WORDS = tuple(_SPELLINGS)
_SUGGESTED = ("mm", "millimetres", "cm", "in", "inches", "thou", "turns")
_TRAVEL = "give it as a length, or store the travel: fitlog machine edit NAME --height-turn L"
_TRAVEL_PAGE = (
    "give it as a length, or store the travel at the shop's computer: fitlog machine edit NAME "
    "--height-turn L"
)
_APART = _INCH / 120  # a decimal in brackets is that near to its mark, or is another length
_FRACTIONS = "write it like 5/8 in or 1 1/16 in"
_FORMS = {  # by the preferred unit
    "mm": "write it like 15.02, 5/8 in, 1 1/16 in, 4 thou or 1/8 turn",
    "inch": "write it like 0.591, 5/8 in, 1 1/16 in, 4 thou or 1/8 turn",
    "fraction": "write it like 5/8, 1 1/16, 0.591, 4 thou or 1/8 turn",
}
# A comma counts as a decimal sign only between digits; [0-9] keeps other scripts' digits out.
_LENGTH = re.compile(
    r"(?P<sign>[+\u2212-]?)"
    r"(?:(?:(?P<whole>[0-9]+)(?:[ ]+|-))?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)"
    r"|(?P<decimal>[0-9]+[.,][0-9]+|[0-9]+\.?|\.[0-9]+))"
    r"[ ]*(?P<unit>.*)"
)
_WITH_THOU = re.compile(r"(?P<head>.*[^ +-]) *(?P<sign>[+-]) *(?P<thou>[0-9]+) ?thou")


class Length(NamedTuple):
    """A length as understood: `mm`; `text` as typed; `unit` it was read in, "mm", "in"
    or "turn".
    """

    mm: float
    text: str
    unit: str


def shown(text: str, limit: int = SHOWN_LIMIT) -> str:
    """Return the user's own text safe to repeat: control characters escaped, cut to `limit`."""
    cut = text if len(text) <= limit else text[:limit] + "..."
    return "".join(
        ch if ch.isprintable() else ch.encode("unicode_escape").decode("ascii") for ch in cut
    )


def quoted(text: str) -> str:
    """Return `shown(text)` in quotes."""
    safe = shown(text)
    return f"'{safe}'" if '"' in safe else f'"{safe}"'


def preference(text: str) -> str:
    """Return one of UNITS; raise `NotUnderstood` (code "unknown-units") for another word."""
    word = unit_word(text)
    if word is None:
        raise NotUnderstood(
            "unknown-units",
            "{typed} is no preferred unit",
            "{advised}",
            typed=quoted(text.lower()),
            advised=nearest(shown(text), UNITS),
        )
    return word


def parse_length(
    text: str, *, units: str = "mm", turn: float | None = None, what: str = "the length"
) -> Length:
    """Read a length with an optional sign; zero and negative ones pass, the caller checks.

    units: the preferred unit, for a number that names none; a fraction without one is inches
    whatever the preference.  turn: mm per turn of the lift.  what: the length's name in messages.
    Also reads what `Ruler` shows, "23/64 in (0.361)", and "23/64 in + 2 thou". Raises
    `NotUnderstood` ("bad-length") for anything else, and never another error.
    """
    preference(units)
    typed = text.strip()
    if len(typed) > LENGTH_LIMIT:
        message = "{what} {typed} has {count} characters, too many for a length"
        raise _unread(message, _FORMS[units], what=what, typed=quoted(typed), count=len(typed))
    plain = re.sub(r"[ \t\u00a0]+", " ", spelled(typed))
    if pair := beside(plain):
        return Length(float(_agreed(*pair, plain, units, what)), typed, "in")
    tail = _WITH_THOU.fullmatch(plain)
    if tail is None:
        mm, unit = _single(plain, units, turn, what)
        return Length(float(mm), typed, unit)
    mm, unit = _single(tail["head"], units, turn, what)
    if unit != "in":
        mixed = "{what} {typed} mixes thousandths of an inch with another unit"
        raise _unread(mixed, what=what, typed=quoted(typed))
    return Length(float(mm + int(tail["sign"] + tail["thou"]) * _THOU), typed, unit)


def _single(plain: str, units: str, turn: float | None, what: str) -> tuple[Fraction, str]:
    """Read one number with at most one unit; return mm and the unit understood."""
    found = _LENGTH.fullmatch(plain)
    if found is None:
        unread = "{what} {typed} cannot be read" if plain else "{what} is empty"
        raise _unread(unread, _FORMS[units], what=what, typed=quoted(plain))
    number = _number(found, plain, what)
    unit, factor = _unit(found, plain, units, what)
    if unit == "turn":
        factor = _turn_size(plain, turn, what)
    if unit == "mm" and found["top"]:
        message = "{what} {typed} is ambiguous: fractions are inches"
        hint = "write {size:g} {unit} or {inches} in"
        typed, unit = quoted(plain), found["unit"]
        size, inches = float(abs(number)), mixed(abs(number))
        raise _unread(message, hint, what=what, typed=typed, size=size, unit=unit, inches=inches)
    return number * factor, unit


def _agreed(mark: str, decimal: Fraction, plain: str, units: str, what: str) -> Fraction:
    """Return the mm of a decimal that stands in brackets behind its nearest mark."""
    near, unit = _single(mark, units, None, what)
    if unit != "in" or abs(decimal * _INCH - near) > _APART:
        hint = "write one of them alone"
        raise _unread("{what} {typed} names two lengths", hint, what=what, typed=quoted(plain))
    return decimal * _INCH


def _number(found: re.Match[str], plain: str, what: str) -> Fraction:
    """Return the signed number of a matched length."""
    if found["decimal"]:
        number = Fraction(found["decimal"].replace(",", ".").rstrip("."))
    else:
        top, bottom = int(found["top"]), int(found["bottom"])
        if bottom == 0:
            raise _unread("{what} {typed} divides by zero", what=what, typed=quoted(plain))
        if found["whole"] and top >= bottom:
            message = "{what} {typed} is ambiguous: {top}/{bottom} is a whole inch or more"
            raise _unread(message, what=what, typed=quoted(plain), top=top, bottom=bottom)
        number = int(found["whole"] or 0) + Fraction(top, bottom)
    return -number if found["sign"] in ("-", "\u2212") else number


def _unit(found: re.Match[str], plain: str, units: str, what: str) -> tuple[str, Fraction]:
    """Return the unit of a matched length and its mm; the preferred one when none is named."""
    word = found["unit"].strip().lower()
    if not word:
        return _SPELLINGS["mm" if units == "mm" and not found["top"] else "in"]
    if word in _SPELLINGS:
        return _SPELLINGS[word]
    if word.isalpha():
        typed, unit, near = quoted(plain), quoted(word), nearest(word, _SUGGESTED)
        message = "{what} {typed} has an unknown unit {unit}"
        raise _unread(message, "{near}", what=what, typed=typed, unit=unit, near=near)
    if re.match(r"[.,][0-9]", word):
        many = "{what} {typed} has more than one decimal sign"
        hint = "write one decimal point or comma and no thousands separators, such as 1234.5"
        raise _unread(many, hint, what=what, typed=quoted(plain))
    unread = "{what} {typed} cannot be read as one length"
    raise _unread(unread, _FORMS[units], what=what, typed=quoted(plain))


def _turn_size(plain: str, turn: float | None, what: str) -> Fraction:
    if turn is None or not math.isfinite(turn) or turn <= 0:
        raise _unread(
            "{what} {typed} is in turns, and the travel per turn of the lift is not known",
            _TRAVEL,
            _TRAVEL_PAGE,
            what=what,
            typed=quoted(plain),
        )
    return Fraction(turn)


def _unread(
    message: str, hint: str = _FRACTIONS, on_page: str | None = None, /, **values: object
) -> NotUnderstood:
    return NotUnderstood("bad-length", message, hint, on_page, **values)


@dataclass(frozen=True, slots=True)
class Ruler:
    """How lengths are shown to this user, in ASCII. units: one of UNITS; turn: mm per turn of the
    lift, which is set in so many `turn_parts` and has a dial of so many divisions; marks: of the
    machine's rule, to an inch.
    """

    units: str = "mm"
    turn: float | None = None
    marks: int = MARKS
    dial: int | None = None
    turn_parts: int = TURN_PARTS

    def __post_init__(self) -> None:
        preference(self.units)
        if self.turn is not None and not (math.isfinite(self.turn) and self.turn > 0):
            raise Refused(
                "bad-size",
                "a travel per turn of {turn} is no size",
                "give a size above zero",
                turn=Mm(self.turn),
            )

    def length(self, mm: float, *, bare: bool = False) -> str:
        """Return a length of `mm` as text; bare leaves mm and decimal inches without their unit."""
        if self.units == "fraction":
            return fraction(mm / MM_PER_INCH, self.marks)
        number = round(mm, 2) if self.units == "mm" else round(mm / MM_PER_INCH, 3)
        digits = f"{number + 0.0:.{2 if self.units == 'mm' else 3}f}"  # + 0.0 turns -0.0 into 0.0
        return digits if bare else f"{digits} {'mm' if self.units == 'mm' else 'in'}"

    def told(self, length: Mm) -> str:
        """Return a length that a refusal names, in decimal inches to four of them: a limit is
        rounded inwards, so that it is taken where it is typed back.
        """
        if isinstance(length, Typed):
            return self.exact(length)
        inches = length / MM_PER_INCH
        if not math.isfinite(inches):
            return f"{inches:g} in"
        way = {Least: 1, Most: -1}.get(type(length), 0)
        if self.units == "fraction":
            plain = not way and abs(inches) >= 0.001
            return self.length(length) if plain else limit(inches, self.marks, way)
        return f"{inward(inches * 10_000, way) / 10_000:.10g} in"

    def doubt(self, mm: float) -> str:
        """Return how unsure a length is: as `length`, but never as nothing; "under 0.01 mm" below
        what is shown.
        """
        text = self.length(mm)
        least = {"mm": "0.01 mm", "inch": "0.001 in", "fraction": "1 thou"}[self.units]
        return tell("under {least}", least=least) if text == self.length(0.0) else text

    def exact(self, mm: float) -> str:
        """Return a length as an option takes it, without a space, exact to a tenth of a
        micrometre.
        """
        inches = Fraction(round(mm / MM_PER_INCH * 512), 512)
        if self.units == "mm":
            return f"{round(mm, 4):.10g}"
        if self.units == "fraction" and abs(float(inches) * MM_PER_INCH - mm) < 1e-4:
            return f"{mixed(inches).replace(' ', '-')}in"
        return f"{round(mm / MM_PER_INCH, 6):.10g}in"

    def size(self, mm: float) -> str:
        """Return a board's or a tool's size: as `length`, without idle zeros."""
        text = self.length(mm)
        number, _, unit = text.partition(" ")
        return (
            text
            if self.units == "fraction" or "." not in number
            else f"{number.rstrip('0').rstrip('.')} {unit}"
        )

    def move(self, kind: SettingKind, mm: float) -> str:
        """Return a move of a setting in words, such as "down 1/8 turn, 0.20 mm"; "leave it" when it
        shows as zero.
        """
        size = self.length(abs(mm))
        if size == Ruler(self.units).length(0.0):
            return tell("leave it")
        turns = ""
        if kind.part == LIFT and self.turn is not None:
            turns = turned(abs(mm) / self.turn, self.turn_parts, self.dial)
        return tell(kind.ways[mm < 0]) + " " + (f"{turns}, {size}" if turns else size)
