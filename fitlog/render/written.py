"""What is written down about a set-up, and what became of it."""

from __future__ import annotations

from collections.abc import Sequence

from ..domain import STANDING, Note, SetUp
from ..service.noting import understood
from ..texts import AsTyped, tell
from .local import minute
from .screen import Screen

_SAID = {
    "title": "Title: {said}",
    "kept": "Sample kept: {said}",
    "note": "{at}, {by}: {said}",
    "outcome": "{at}, {by}, what became of it: {said} ({how})",
}
_NEW = {
    "title": "Set-up {number} is now called {said}.",
    "kept": "The sample of set-up {number} is kept: {said}.",
    "note": "Written down about set-up {number}: {said}",
}
_GONE = {
    "title": "Set-up {number} has no title any more.",
    "kept": "Nothing is said any more of where the sample of set-up {number} is kept.",
}


def written(screen: Screen, setup: SetUp) -> None:
    """Print all that is written down about a set-up."""
    for text in lines(setup):
        screen.line("{text}", indent="  ", text=AsTyped(text))


def lines(setup: SetUp) -> list[str]:
    """Return all that is written down about a set-up, a line each."""
    standing = [Note(about, text) for about in STANDING if (text := setup.noted(about))]
    every = (*standing, *(one for one in setup.notes if one.about not in STANDING))
    return [tell(_SAID[note.about], **_values(setup, note)) for note in every]


def page(screen: Screen, setup: SetUp) -> None:
    """Print it under the set-up's number, or that there is nothing yet."""
    if not setup.notes:
        screen.line(
            "Nothing is written down about set-up {number}. Write with: fitlog note TEXT",
            number=setup.number,
        )
        return
    screen.head(
        "Set-up {number}: {bit}, {stock}",
        number=setup.number,
        bit=setup.plan.bit.name,
        stock=setup.plan.stock.name,
    )
    written(screen, setup)


def logged(screen: Screen, setup: SetUp, notes: Sequence[Note]) -> None:
    """Print what was just written down about a set-up."""
    for note in notes:
        if note.text:
            said = AsTyped(note.text)
            screen.line(_NEW[note.about], indent="  ", number=setup.number, said=said)
        else:
            screen.line(_GONE[note.about], indent="  ", number=setup.number)


def became(screen: Screen, setup: SetUp) -> None:
    """Print what was just said of what became of a set-up, and whether it is understood."""
    note = setup.notes[-1]
    screen.line(
        "Kept of set-up {number}{titled}: {said} ({how}).",
        indent="  ",
        titled=setup.titled,
        number=setup.number,
        **_values(setup, note),
    )
    found = understood(setup, note)
    if found is None:
        screen.line(
            "To have it counted at the next start, say it like: tight with glue, loose after a "
            "winter, good.",
            indent="  ",
        )
    elif found.direction != "good":
        screen.line("The next start in this wood tells it; nothing is moved unasked.")


def outcomes(screen: Screen, setups: Sequence[SetUp]) -> None:
    """Print what became of set-ups."""
    if not setups:
        screen.line("Nothing is known yet. Say it with: fitlog outcome N tight with glue")
    for setup in setups:
        screen.head(
            "Set-up {number}{titled}: {bit}, {stock}",
            number=setup.number,
            titled=setup.titled,
            bit=setup.plan.bit.name,
            stock=setup.plan.stock.name,
        )
        for note in (one for one in setup.notes if one.about == "outcome"):
            screen.line("  {at}, {by}: {said} ({how})", indent="    ", **_values(setup, note))


def _values(setup: SetUp, note: Note) -> dict[str, object]:
    found = understood(setup, note)
    how = tell("kept as said") if found is None else tell("understood: {told}", told=found.told())
    return {
        "said": AsTyped(note.text),
        "at": minute(note.at) if note.at else "",
        "by": note.by or tell("somebody"),
        "how": how,
    }
