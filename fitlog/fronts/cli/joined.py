"""Lengths in several words on a command line, such as `--down 1/8 turn`: a unit right behind an
option's number is its own.
"""

from __future__ import annotations

import re
from typing import Any

from typer.core import TyperCommand

from ...language.units import UNIT_WORDS

_WHOLE, _FRACTION, _NUMBER_ENDS = (
    re.compile(r"[+-]?[0-9]+"),
    re.compile(r"[0-9]+/[0-9]+,?"),
    re.compile(r".*[0-9]\.?"),
)
_AFTER = frozenset(
    (
        *("--height", "--fence", "--depth", "--up", "--down", "--out", "--in", "--deeper"),
        *("--shallower", "--pull-gap", "--mouth", "--tail-width"),
        *("--scrap-width", "--scrap-thickness"),
    )
)


class WithLengths(TyperCommand):
    """A command whose lengths may be several words; the shell takes words apart before options are
    told from them.
    """

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Parse the arguments with the words of each length put together."""
        return super().parse_args(ctx, joined(args))


def joined(args: list[str]) -> list[str]:
    """Return arguments in which the fraction and the unit behind an option's number are one word
    with it.
    """
    out: list[str] = []
    at = 0
    while at < len(args):
        option, mark, value = args[at].partition("=")
        at += 1
        if option not in _AFTER or (not mark and at == len(args)):
            out.append(args[at - 1])
            continue
        if not mark:
            value, at = args[at], at + 1
        if _WHOLE.fullmatch(value) and at < len(args) and _FRACTION.fullmatch(args[at]):
            value, at = f"{value} {args[at].rstrip(',')}", at + 1
        if (
            _NUMBER_ENDS.fullmatch(value)
            and at < len(args)
            and args[at].lower().rstrip(",;") in UNIT_WORDS
        ):
            value, at = f"{value} {args[at].rstrip(',;')}", at + 1
        out += [f"{option}={value}"] if mark else [option, value]
    return out
