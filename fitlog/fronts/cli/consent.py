"""What is asked before it is done: on a terminal a question, elsewhere a refusal that names the
option that says yes.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, TypeVar

import typer

from ...errors import FitlogError
from ...render.screen import Screen
from ...texts import AsTyped, tell

if TYPE_CHECKING:
    from ...domain import SetUp
    from ...language.doubts import Doubt
    from ...language.units import Ruler
    from ...service import Reported, Wanted, Workbench
    from ...service.catalogue import AnyEdit
    from ...service.reader.lengths import Asks
    from ...service.run import InRun
    from .session import Session

T = TypeVar("T")


def asking(json: bool) -> bool:
    """Tell whether there is somebody to ask: a terminal, and no document wanted."""
    return not json and sys.stdin is not None and sys.stdin.isatty()


def confirmed(question: str, /, **values: object) -> bool:
    """Ask on standard error; no is the answer of whoever only presses ENTER."""
    return typer.confirm(tell(question, **values), default=False, err=True)


def chosen(unclear: FitlogError) -> int | None:
    """Ask on standard error which of a refusal's choices was meant; None for none of them, which
    is the answer of whoever only presses ENTER.
    """
    said = Screen(sys.stderr)
    said.line("{message}. Which is it?", message=unclear.message)
    for number, choice in enumerate(unclear.choices, start=1):
        told = "{number}  {say}: {when}" if choice.when else "{number}  {say}"
        said.line(
            told, indent="   ", number=number, say=AsTyped(choice.say), when=tell(choice.when)
        )
    most = len(unclear.choices)
    while True:
        typed = typer.prompt(
            tell("1 to {most}, or ENTER for none", most=most),
            default="",
            show_default=False,
            err=True,
        )
        if not typed.strip():
            return None
        if typed.strip() in map(str, range(1, most + 1)):
            return int(typed) - 1


def asks(json: bool) -> Asks | None:
    """Return how the user is asked what was meant; None where there is nobody to ask."""
    from ...service.reader.lengths import Asks

    return Asks(confirmed, chosen) if asking(json) else None


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
            "{insist}" if doubt.mend else "{question} {insist}",
            question=doubt.question,
            insist=doubt.insist,
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


def settled_check(
    bench: Workbench,
    run: InRun,
    told: Reported,
    moved: dict[str, float],
    *,
    yes: bool,
    json: bool,
) -> Reported:
    """Return a joint that was looked at with every doubt about it put right, or confirmed; raises
    as `settled`.
    """
    from ...service.doubts import mended
    from ...service.run import run_doubts

    told = settled(told, lambda t: run_doubts(run, t), mended, yes=yes, json=json)
    return settled_cut(bench, run.setup, told, moved, yes=yes, json=json)


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
    session: Session, edit: AnyEdit, *, yes: bool, correction: bool, json: bool
) -> AnyEdit:
    """Return an edit of the catalogue with doubtful sizes put right; say what it does to earlier
    set-ups, and ask.

    correction: that was said beforehand.  Raises the refusal where nobody can be asked, or the
    answer is no.
    """
    if sizes := edit.sizes():
        kind = edit.shelf.kind
        edit = edit.mended(settled_sizes(session.ruler(), kind, sizes, None, yes=yes, json=json))
    if (told := edit.consequence(session.bench)) is not None:
        agreed(told.refusal, told.question, yes=yes or correction, json=json)
    return edit
