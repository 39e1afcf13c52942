"""What is asked before it is done: on a terminal a question, elsewhere a refusal that names the
option that says yes.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeVar

import typer

from ...errors import FitlogError

if TYPE_CHECKING:
    from ...domain import Bit, Machine, SetUp, Stock
    from ...language.units import Ruler
    from ...service import Reported, Wanted, Workbench
    from ...service.doubts import Doubt
    from .session import Session

T = TypeVar("T")
SIZES = ("diameter", "angle", "cutting_length", "thickness", "width")


def asking(json: bool) -> bool:
    """Tell whether there is somebody to ask: a terminal, and no document wanted."""
    return not json and sys.stdin.isatty()


def confirmed(question: str) -> bool:
    """Ask on standard error; no is the answer of whoever only presses ENTER."""
    return typer.confirm(question, default=False, err=True)


def settled(
    told: T,
    doubts: Callable[[T], Iterable[Doubt]],
    mend: Callable[[T, Doubt], T],
    *,
    yes: bool,
    json: bool,
) -> T:
    """Return what was told with every doubt about it put right, or confirmed; raises the refusal of
    one that is neither.
    """
    for doubt in () if yes else list(doubts(told)):
        if not asking(json):
            raise doubt.refusal
        if doubt.mend and confirmed(doubt.question):
            told = mend(told, doubt)
        elif not confirmed(
            "Take it as typed?" if doubt.mend else f"{doubt.question} Take it as typed?"
        ):
            raise doubt.refusal
    return told


def agreed(refusal: FitlogError, question: str, *, yes: bool, json: bool) -> None:
    """Go on where it was said beforehand or is answered with yes; raise the refusal otherwise."""
    if not yes and not (asking(json) and confirmed(question)):
        raise refusal


def settled_cut(
    bench: Workbench,
    setup: SetUp,
    told: Reported,
    moved: dict[str, float],
    *,
    yes: bool,
    json: bool,
) -> Reported:
    """Return a trial cut with every doubt about it put right, or confirmed; raises the refusal of
    one that is neither.
    """
    from ...service.doubts import mended
    from ...service.slips import doubts_on

    return settled(told, lambda t: doubts_on(bench, setup, t, moved), mended, yes=yes, json=json)


def settled_start(ruler: Ruler, wanted: Wanted, *, yes: bool, json: bool) -> Wanted:
    """Return what `start` was asked for with every doubt about its sizes put right, or confirmed;
    raises as `settled`.
    """
    from ...service.doubts import put_right
    from ...service.odd_sizes import start_doubts

    return settled(wanted, lambda w: start_doubts(w, ruler), put_right, yes=yes, json=json)


def settled_sizes(
    ruler: Ruler, kind: str, sizes: dict[str, float], angle: float | None, *, yes: bool, json: bool
) -> dict[str, float]:
    """Return the sizes of a bit or a stock, mm, and a bit's "angle", with every doubt put right;
    raises as `settled`.
    """
    from ...service.odd_sizes import sizes_doubts

    told = sizes if angle is None else {**sizes, "angle": angle}
    return settled(
        told,
        lambda t: sizes_doubts(kind, t, ruler),
        lambda t, d: {**t, **d.mend},
        yes=yes,
        json=json,
    )


def agreed_edit(
    session: Session,
    kind: str,
    old: Bit | Stock | Machine,
    changes: dict[str, Any],
    *,
    yes: bool,
    correction: bool,
    json: bool,
) -> dict[str, Any]:
    """Return the changes of an edit with doubtful sizes put right; say what it does to earlier
    set-ups, and ask.

    correction: that was said beforehand.  Raises the refusal where nobody can be asked, or the
    answer is no.
    """
    from ...domain import Bit, Machine
    from ...service.edits import bit_edit, machine_edit

    if changes.keys() & set(SIZES) and not isinstance(old, Machine):
        sizes = {
            name: value
            for name in SIZES
            if isinstance(value := changes.get(name, getattr(old, name, None)), float)
        }
        told = settled_sizes(session.ruler(), kind, sizes, None, yes=yes, json=json)
        changes = {
            **changes,
            **{name: value for name, value in told.items() if value != sizes[name]},
        }
    new, refusal = replace(old, **changes), None
    if isinstance(old, Bit) and isinstance(new, Bit):
        refusal = bit_edit(session.bench(), old, new)
        question = "Is it the same steel, and only the figure was wrong?"
    elif isinstance(old, Machine) and isinstance(new, Machine):
        refusal = machine_edit(session.bench(), old, new)
        question = "Was the scale itself moved?"
    if refusal is not None:
        agreed(
            refusal,
            f"{refusal.message[:1].upper()}{refusal.message[1:]}. {question}",
            yes=yes or correction,
            json=json,
        )
    return changes
