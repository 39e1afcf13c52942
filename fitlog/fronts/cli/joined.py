"""Lengths in several words on a command line, such as `--down 1/8 turn` or `--walls 2 1/4 2 3/8`:
the fraction and the unit behind an option's number are its own.
"""

from __future__ import annotations

import re

from ...errors import NotUnderstood

_SIGNS = "\u00bd\u00bc\u00be\u215b\u215c\u215d\u215e"  # a half and its kin
_UNIT = r"(?: ?(?:in\.?|inch(?:es)?|[\"\u2033\u201d]))?[,;]?"
_WHOLE = re.compile(r"[+-]?[0-9]+")
_FRACTION = re.compile(rf"(?:[0-9]+[/\u2044][0-9]+|[{_SIGNS}]){_UNIT}", re.IGNORECASE)
_NUMBER_ENDS = re.compile(rf".*[0-9{_SIGNS}]\.?")
_NUMBER = re.compile(rf"[+-]?(?=[0-9.]*[0-9{_SIGNS}])[0-9.,/\u2044{_SIGNS}-]+[a-z\"\u2033\u201d]*")
_DEGREES = frozenset(("deg", "deg.", "degree", "degrees", "\u00b0"))
ONE = frozenset(
    (
        *("--height", "--fence", "--depth", "--up", "--down", "--out", "--in", "--deeper"),
        *("--shallower", "--pull-gap", "--mouth", "--tail-width", "--scrap-width"),
        *("--scrap-thickness", "--width", "--thickness", "--pin-thickness", "--diameter"),
        *("--cutting-length", "--neck", "--pitch", "--proud", "--rabbet", "--spacing"),
        *("--half-pin", "--backlash", "--height-step", "--height-turn", "--height-zero"),
        *("--fence-step", "--fence-zero", "--depth-step", "--fence-zero-off"),
        *("--height-zero-off", "--edges-off", "--readings", "--angle", "--groove", "--at"),
        "--groove-depth",
    )
)
TWO = frozenset(
    (
        *("--walls", "--between-rods", "--over-rods", "--label"),
        *("--between-other-rods", "--over-other-rods"),
    )
)


def joined(args: list[str]) -> list[str]:
    """Return arguments in which the words of each length are one; raise NotUnderstood
    ("bad-length") where they may be put together in two ways.
    """
    if not any(word.partition("=")[0] in ONE | TWO for word in args):
        return args
    out: list[str] = []
    at = 0
    while at < len(args):
        option, mark, value = args[at].partition("=")
        if option == "--":
            return out + args[at:]
        at += 1
        if option not in ONE | TWO or (not mark and at == len(args)):
            out.append(args[at - 1])
            continue
        rest = ([value] if mark else []) + args[at:]
        lengths, used = _pair(option, rest) if option in TWO else _length(rest)
        at += used - bool(mark)
        out += [f"{option}={lengths[0]}"] if mark and option in ONE else [option, *lengths]
    return out


def _length(rest: list[str], *, mixed: bool = True) -> tuple[list[str], int]:
    """Return the length at the start of some words, and of how many of them it is. mixed: a
    fraction behind a whole number is taken with it.
    """
    from ...language.units import UNIT_WORDS

    value, used = rest[0], 1
    if mixed and _WHOLE.fullmatch(value) and len(rest) > 1 and _FRACTION.fullmatch(rest[1]):
        value, used = f"{value} {rest[1].rstrip(',;')}", 2
    if _NUMBER_ENDS.fullmatch(value) and len(rest) > used:
        unit = rest[used].lower().rstrip(",;")
        if unit in UNIT_WORDS or unit in _DEGREES:
            value, used = f"{value} {rest[used].rstrip(',;')}", used + 1
    return [value], used


def _pair(option: str, rest: list[str]) -> tuple[list[str], int]:
    """Return the two lengths at the start of some words, and of how many words they are: of all
    that are numbers and units, if they can be; else of the first two.
    """
    ways: dict[int, list[str]] = {}
    for first in (True, False):
        one, used = _length(rest, mixed=first)
        if used == len(rest):
            continue
        for second in (True, False):
            other, more = _length(rest[used:], mixed=second)
            if all(_NUMBER.match(each) for each in (*one, *other)):
                ways[used + more] = [*one, *other]
    if not ways:
        return rest[:2], min(2, len(rest))
    most = max(ways)
    words_follow = len(rest) > most and not rest[most].startswith("-")
    # No joint is off by "2 37/64": behind two mixed numbers no number of the phrase is missing.
    if len(ways) > 1 and words_follow and not all(" " in one for one in ways[most]):
        raise NotUnderstood(
            "bad-length",
            "{option} {typed} may be put together in two ways",
            "write each of its two lengths as one word, such as {one}",
            option=option,
            typed=" ".join(rest[:most]),
            one="2-41/64",
        )
    return ways[most], most
