"""Turns of a lift as they are counted by hand: parts of a turn, or divisions of its dial."""

from __future__ import annotations

from fractions import Fraction

from ..texts import tell
from .inches import mixed
from .numbers import counted

_EXACT = 0.002  # turns: further off is "about"


def turned(turns: float, parts: int, dial: int | None) -> str:
    """Return turns to the nearest part that a lift is set by, "about" where they are off it; "" for
    less than half a part. parts: to a turn; dial: its divisions, None without one.
    """
    count = round(turns * parts)
    if count == 0:
        return ""
    told = (
        _divisions(count, parts, dial)
        if dial is not None
        else counted(mixed(Fraction(count, parts)), "turn", "turns" if count > parts else "turn")
    )
    return told if abs(turns - count / parts) <= _EXACT else tell("about {turns}", turns=told)


def _divisions(count: int, parts: int, dial: int) -> str:
    """Return so many parts of a turn as a dial is read: "7 divisions", "1 turn less 7 divisions".

    The next full turn is named where that is less than a quarter of one away.
    """
    whole, rest = divmod(count, parts)
    less = rest * 4 > parts * 3
    whole, rest = (whole + 1, parts - rest) if less else (whole, rest)
    turns, part = counted(whole, "turn"), Fraction(rest * dial, parts)
    divisions = counted(mixed(part), "division", "divisions" if part > 1 else "division")
    if not (whole and rest):
        return turns if whole else divisions
    joined = "{turns} less {divisions}" if less else "{turns} and {divisions}"
    return tell(joined, turns=turns, divisions=divisions)
