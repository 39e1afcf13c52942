"""Numbers of the talk that are no lengths."""

from __future__ import annotations

from collections.abc import Sequence

from ..texts import tell


def percent(chance: float) -> str:
    """Return a chance; what is not quite sure is never shown as sure, nor as nothing."""
    if 0.01 <= chance <= 0.99:
        return f"{chance:.0%}"
    return tell("under 1%") if chance < 0.5 else tell("over 99%")


def content(moisture: float) -> str:
    """Return a moisture, %, to a tenth of a per cent."""
    return f"{round(moisture, 1):g}%"


def narrow(share: float, *, counted: bool = False) -> str:
    """Return a chance for a narrow column, to the nearest per cent. counted: a share of a count,
    which may be none or all.
    """
    if counted and share in (0, 1):
        return f"{share:.0%}"
    return "<1%" if share < 0.005 else ">99%" if share >= 0.995 else f"{share:.0%}"


def together(names: Sequence[str]) -> str:
    """Return names as "one, two and three"."""
    *most, last = names
    return tell("{names} and {last}", names=", ".join(most), last=last) if most else last


def counted(n: int | str, thing: str, things: str = "") -> str:
    """Return "1 piece" or "3 pieces". n: text if shown otherwise; things: many, odd."""
    return tell("{n} {thing}", n=n, thing=thing if n in (1, "1") else things or f"{thing}s")
