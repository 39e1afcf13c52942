"""What was asked for or told, with a doubt about it put right."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from ..families.wanted import Wanted
from ..language.doubts import Doubt, beside
from .asked import Reported


def mended(told: Reported, doubt: Doubt) -> Reported:
    """Return a trial cut with a doubt put right."""
    changed, verdict, readings = dict(told.changed), told.verdict, told.readings
    for name, value in doubt.mend.items():
        if name in changed:
            changed[name] = value
        elif (said := verdict.of(name)) is not None:
            verdict = verdict.with_(replace(said, size=value))
        readings = tuple(
            replace(r, value=value)
            if r.kind == name
            else replace(r, other=value)
            if beside(r.kind) == name
            else r
            for r in readings
        )
    return replace(told, changed=changed, verdict=verdict, readings=readings)


def settled(
    told: Reported, doubts: Iterable[Doubt], take: bool, in_doubt: Callable[[Doubt], Exception]
) -> Reported:
    """Return a trial cut with every doubt put right. take: their likely meanings are taken; else,
    and where there is none, what `in_doubt` gives is raised.
    """
    for doubt in list(doubts):
        if not (take and doubt.mend):
            raise in_doubt(doubt)
        told = mended(told, doubt)
    return told


def put_right(wanted: Wanted, doubt: Doubt) -> Wanted:
    """Return what `start` was asked for with a doubt put right."""
    first = {name: value for name, value in doubt.mend.items() if name in wanted.first}
    figures = {name: value for name, value in doubt.mend.items() if name not in wanted.first}
    return replace(wanted, figures={**wanted.figures, **figures}, first={**wanted.first, **first})
