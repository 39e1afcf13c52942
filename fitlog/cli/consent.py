"""What is asked before it is done: on a terminal a question, elsewhere a refusal that names the option that says yes."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, TypeVar

import typer

from ..errors import FitlogError

if TYPE_CHECKING:
    from ..domain import SetUp
    from ..units import Ruler
    from ..workbench import Reported, Wanted, Workbench
    from ..workbench.doubts import Doubt

T = TypeVar("T")


def asking(json: bool) -> bool:
    """Tell whether there is somebody to ask: a terminal, and no document wanted."""
    return not json and sys.stdin.isatty()


def confirmed(question: str) -> bool:
    """Ask on standard error; no is the answer of whoever only presses ENTER."""
    return typer.confirm(question, default=False, err=True)


def settled(
    told: T, doubts: Callable[[T], Iterable[Doubt]], mend: Callable[[T, Doubt], T], *, yes: bool, json: bool
) -> T:
    """Return what was told with every doubt about it put right, or confirmed; raises the refusal of one that is neither."""
    for doubt in () if yes else list(doubts(told)):
        if not asking(json):
            raise doubt.refusal
        if doubt.mend and confirmed(doubt.question):
            told = mend(told, doubt)
        elif not confirmed("Take it as typed?" if doubt.mend else f"{doubt.question} Take it as typed?"):
            raise doubt.refusal
    return told


def agreed(refusal: FitlogError, question: str, *, yes: bool, json: bool) -> None:
    """Go on where it was said beforehand or is answered with yes; raise the refusal otherwise."""
    if not yes and not (asking(json) and confirmed(question)):
        raise refusal


def settled_cut(
    bench: Workbench, setup: SetUp, told: Reported, moved: dict[str, float], *, yes: bool, json: bool
) -> Reported:
    """Return a trial cut with every doubt about it put right, or confirmed; raises the refusal of one that is neither."""
    from ..workbench.doubts import mended
    from ..workbench.slips import doubts_on

    return settled(told, lambda t: doubts_on(bench, setup, t, moved), mended, yes=yes, json=json)


def settled_start(ruler: Ruler, wanted: Wanted, *, yes: bool, json: bool) -> Wanted:
    """Return what `start` was asked for with every doubt about its sizes put right, or confirmed; raises as `settled`."""
    from ..workbench.doubts import put_right
    from ..workbench.odd_sizes import start_doubts

    return settled(wanted, lambda w: start_doubts(w, ruler), put_right, yes=yes, json=json)
