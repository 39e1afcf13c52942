"""Fractions of an inch as they are marked, shown and typed."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from fractions import Fraction

MARKS = 64  # to an inch on a common rule; finer ones are shown only where a machine has them
_SMALL = 1 / 32  # in: below it a length that is on no mark is thousandths alone
_BESIDE = re.compile(r"(?P<mark>[^() ]+(?: [^() ]+)*) ?\((?P<decimal>-?[0-9]*\.[0-9]+)\)(?: ?in)?")
# One character a fraction, and the stroke that typesetters put between two numbers.
_SIGNS = {
    "\u00bd": "1/2",
    "\u00bc": "1/4",
    "\u00be": "3/4",
    "\u215b": "1/8",
    "\u215c": "3/8",
    "\u215d": "5/8",
    "\u215e": "7/8",
}
_SIGN = re.compile(rf"(?P<whole>[0-9])?(?P<sign>[{''.join(_SIGNS)}])")


def marks_for(steps: Iterable[float]) -> int:
    """Return the marks to an inch by which lengths are shown, where a machine can be set by these
    steps, in.
    """
    parts = [step * 2 * MARKS for step in steps]
    return MARKS * (1 + any(abs(n - round(n)) < 2e-3 and round(n) % 2 for n in parts))


def mixed(number: Fraction) -> str:
    """Return a number >= 0 as "1 1/16", "5/8" or "2"."""
    whole, rest = divmod(number, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)


def fraction(inches: float, marks: int = MARKS) -> str:
    """Return the nearest mark and, where the length is off it, the length as a decimal in brackets:
    "2 41/64 in", "2 41/64 in (2.643)". Below 1/32 in what is on no mark is thousandths alone.

    marks: to an inch.
    """
    count, thou = round(inches * marks), round(inches * 1000)
    on = round((inches - count / marks) * 1000) == 0
    if abs(inches) < _SMALL and not (on and count):
        return f"{thou} thou" if thou else "0 in"
    text = f"{'-' if count < 0 else ''}{mixed(Fraction(abs(count), marks))} in"
    return text if on else f"{text} ({inches:.3f})"


def inward(number: float, way: int) -> int:
    """Return a whole number for a limit: up where way is 1, down where -1; else the nearest."""
    return way * math.ceil(way * number) if way else round(number)


def limit(inches: float, marks: int, way: int) -> str:
    """Return a limit as `fraction` shows a length, but to 1/10000 in: "25/64 in (0.3937)", "19.7
    thou". way: 1 or -1, whether it is rounded up or down, so that it is taken where it is typed
    back; 0: to the nearest.
    """
    mark = round(inches * marks)
    if abs(inches * marks - mark) < 1e-6:
        return fraction(inches, marks)
    parts = inward(inches * 10_000, way)
    if abs(inches) < _SMALL:
        return f"{parts / 10:g} thou" if parts else "0 in"
    sign = "-" if mark < 0 else ""
    return f"{sign}{mixed(Fraction(abs(mark), marks))} in ({parts / 10_000:.4f})"


def beside(text: str) -> tuple[str, Fraction] | None:
    """Return the mark and the decimal in brackets of a length as `fraction` shows it, else None."""
    found = _BESIDE.fullmatch(text)
    return None if found is None else (found["mark"], Fraction(found["decimal"]))


def spelled(text: str) -> str:
    """Return text with a sign such as that of one half written out: "2 1/2" for two and a half."""
    if text.isascii():
        return text
    return _SIGN.sub(
        lambda m: f"{m['whole'] or ''}{' ' if m['whole'] else ''}{_SIGNS[m['sign']]}",
        text.replace("\u2044", "/"),
    )
