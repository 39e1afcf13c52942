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

from ..domain.family import SettingKind
from ..errors import NotUnderstood, Refused, nearest
from ..texts import tell

UNITS = ("mm", "inch", "fraction")
MM_PER_INCH = 25.4
LENGTH_LIMIT = 40  # characters; longer text is no length
SHOWN_LIMIT = 40  # characters of the user's own text repeated in a message

_INCH = Fraction(254, 10)
_THOU = _INCH / 1000
# a range this narrow or narrower tells a slipped decimal point: its ends are so many times each
# other
_TELLING = 40.0
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
_FORMS = "write it like 15.02, 15.02 mm, 5/8 in, 1 1/16 in, 4 thou or 1/8 turn"
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


def counted(n: int | str, thing: str, things: str = "") -> str:
    """Return "1 piece" or "3 pieces". n: text if shown otherwise; things: many, odd."""
    return tell("{n} {thing}", n=n, thing=thing if n in (1, "1") else things or f"{thing}s")


def quoted(text: str) -> str:
    """Return `shown(text)` in quotes."""
    safe = shown(text)
    return f"'{safe}'" if '"' in safe else f'"{safe}"'


def preference(text: str) -> str:
    """Return one of UNITS; raise `NotUnderstood` (code "unknown-units") for another word."""
    text = {"in": "inch", "inches": "inch", "fractions": "fraction", "millimetres": "mm"}.get(
        text.lower(), text.lower()
    )
    if text not in UNITS:
        raise NotUnderstood(
            "unknown-units", f"{quoted(text)} is no preferred unit", nearest(shown(text), UNITS)
        )
    return text


def parse_length(
    text: str, *, units: str = "mm", turn: float | None = None, what: str = "the length"
) -> Length:
    """Read a length with an optional sign; zero and negative ones pass, the caller checks.

    units: the preferred unit, for a number that names none; a fraction without one is inches
    whatever the preference.  turn: mm per turn of the lift.  what: the length's name in messages.
    Also reads what `Ruler` shows, such as "23/64 in + 2 thou". Raises `NotUnderstood` (code
    "bad-length") for anything else, and never another error.
    """
    preference(units)
    typed = text.strip()
    if len(typed) > LENGTH_LIMIT:
        raise _bad(f"{what} {quoted(typed)} has {len(typed)} characters, too many for a length")
    plain = re.sub(r"[ \t\u00a0]+", " ", typed)
    tail = _WITH_THOU.fullmatch(plain)
    if tail is None:
        mm, unit = _single(plain, units, turn, what)
        return Length(float(mm), typed, unit)
    mm, unit = _single(tail["head"], units, turn, what)
    if unit != "in":
        raise _bad(f"{what} {quoted(typed)} mixes thousandths of an inch with another unit")
    return Length(float(mm + int(tail["sign"] + tail["thou"]) * _THOU), typed, unit)


def _single(plain: str, units: str, turn: float | None, what: str) -> tuple[Fraction, str]:
    """Read one number with at most one unit; return mm and the unit understood."""
    found = _LENGTH.fullmatch(plain)
    if found is None:
        raise _bad(f"{what} {quoted(plain)} cannot be read" if plain else f"{what} is empty")
    number = _number(found, plain, what)
    unit, factor = _unit(found, plain, units, what)
    if unit == "turn":
        factor = _turn_size(plain, turn, what)
    if unit == "mm" and found["top"]:
        raise _bad(
            f"{what} {quoted(plain)} is ambiguous: fractions are inches",
            f"write {float(abs(number)):g} {found['unit']} or {_mixed(abs(number))} in",
        )
    return number * factor, unit


def _number(found: re.Match[str], plain: str, what: str) -> Fraction:
    """Return the signed number of a matched length."""
    if found["decimal"]:
        number = Fraction(found["decimal"].replace(",", ".").rstrip("."))
    else:
        top, bottom = int(found["top"]), int(found["bottom"])
        if bottom == 0:
            raise _bad(f"{what} {quoted(plain)} divides by zero")
        if found["whole"] and top >= bottom:
            raise _bad(
                f"{what} {quoted(plain)} is ambiguous: {top}/{bottom} is a whole inch or more"
            )
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
        raise _bad(
            f"{what} {quoted(plain)} has an unknown unit {quoted(word)}", nearest(word, _SUGGESTED)
        )
    if re.match(r"[.,][0-9]", word):
        raise _bad(
            f"{what} {quoted(plain)} has more than one decimal sign",
            "write one decimal point or comma and no thousands separators, such as 1234.5",
        )
    raise _bad(f"{what} {quoted(plain)} cannot be read as one length")


def _turn_size(plain: str, turn: float | None, what: str) -> Fraction:
    if turn is None or not math.isfinite(turn) or turn <= 0:
        raise _bad(
            f"{what} {quoted(plain)} is in turns, and the travel per turn of the lift is not known",
            "give it in mm or inches, or store the travel: fitlog machine edit NAME "
            "--height-turn L",
        )
    return Fraction(turn)


def _bad(message: str, hint: str = _FORMS) -> NotUnderstood:
    return NotUnderstood("bad-length", message, hint)


def check_range(length: Length, low: float, high: float, what: str, why: str) -> float:
    """Return `length.mm` when it lies from `low` to `high`, mm, the ends included.

    why: the limit in words, such as "this bit's cutting length of 22 mm".
    Raises `Refused` (code "absurd-size"), and asks about the other unit when that would fit.
    """
    if low <= length.mm <= high:
        return length.mm
    named = shown(length.text) + (f" {length.unit}" if re.search(r"[0-9]\.?$", length.text) else "")
    if length.mm <= 0 < low:
        raise Refused(
            "bad-size",
            f"{what} must be a size above zero, not {named}",
            _range_hint(length, low, high, what),
        )
    side = "below" if length.mm < low else "beyond"
    raise Refused(
        "absurd-size", f"{what} of {named} is {side} {why}", _range_hint(length, low, high, what)
    )


def _range_hint(length: Length, low: float, high: float, what: str) -> str:
    # Only mm and inches are confused with each other; nobody types cm or thou by mistake.
    confusable = not re.search(r"thou|cm|centi", length.text.lower())
    if confusable and length.unit == "in" and low <= length.mm / MM_PER_INCH <= high:
        return f"did you mean {length.mm / MM_PER_INCH:g} mm?"
    if confusable and length.unit == "mm" and low <= length.mm * MM_PER_INCH <= high:
        return f"did you mean {length.mm:g} in?"
    if confusable and low > 0 and high <= _TELLING * low and length.unit in ("mm", "in"):
        for number in (length.mm / 10, length.mm * 10):
            if low <= number <= high:
                return (
                    f"did you mean {number / (1.0 if length.unit == 'mm' else MM_PER_INCH):g} "
                    f"{length.unit}?"
                )
    if not math.isfinite(high):
        return f"give {what} as {low:g} mm or more"
    return (
        f"give {what} between {low:g} and {high:g} mm"
        if math.isfinite(low)
        else f"give {what} up to {high:g} mm"
    )


def _mixed(number: Fraction) -> str:
    """Return a number >= 0 as "1 1/16", "5/8" or "2"."""
    whole, rest = divmod(number, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)


@dataclass(frozen=True, slots=True)
class Ruler:
    """How lengths are shown to this user, in ASCII. units: one of UNITS; turn: mm per turn of the
    lift.
    """

    units: str = "mm"
    turn: float | None = None

    def __post_init__(self) -> None:
        preference(self.units)
        if self.turn is not None and not (math.isfinite(self.turn) and self.turn > 0):
            raise Refused(
                "bad-size",
                f"a travel per turn of {self.turn:g} mm is no size",
                "give a size above zero",
            )

    def length(self, mm: float, *, bare: bool = False) -> str:
        """Return a length of `mm` as text; bare leaves mm and decimal inches without their unit."""
        if self.units == "fraction":
            return self._fraction(mm)
        number = round(mm, 2) if self.units == "mm" else round(mm / MM_PER_INCH, 3)
        digits = f"{number + 0.0:.{2 if self.units == 'mm' else 3}f}"  # + 0.0 turns -0.0 into 0.0
        return digits if bare else f"{digits} {'mm' if self.units == 'mm' else 'in'}"

    def _fraction(self, mm: float) -> str:
        """Return the nearest 1/64 in and the rest in thousandths; thousandths alone
        below 1/64 in.
        """
        inches = mm / MM_PER_INCH
        count = round(inches * 64) if abs(inches) >= 1 / 64 else 0
        thou = round((inches - count / 64) * 1000)
        if count == 0:
            return f"{thou} thou" if thou else "0 in"
        text = f"{'-' if count < 0 else ''}{_mixed(Fraction(abs(count), 64))} in"
        return f"{text} {'+' if thou > 0 else '-'} {abs(thou)} thou" if thou else text

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
            return f"{_mixed(inches).replace(' ', '-')}in"
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
        turns = self._turns(abs(mm)) if kind.part == "height" else ""
        return f"{tell(kind.ways[mm < 0])} {turns}{size}"

    def _turns(self, mm: float) -> str:
        """Return turns of the lift to the nearest 1/32, "about" when off by more than 0.002 turn;
        "" below 1/64.
        """
        if self.turn is None:
            return ""
        turns = mm / self.turn
        count = round(turns * 32)
        if count == 0:
            return ""
        told = counted(_mixed(Fraction(count, 32)), "turn", "turns" if count > 32 else "turn")
        if abs(turns - count / 32) > 0.002:
            told = tell("about {turns}", turns=told)
        return f"{told}, "
