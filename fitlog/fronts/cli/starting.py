"""What `start` asks on a terminal, and what it says beside its answer."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import typer

from ...render.again import as_setup, choices, differ, not_as_setup
from ...texts import tell
from .session import say

if TYPE_CHECKING:
    from ...domain import SetUp
    from ...language.units import Ruler
    from ...service import Answer, Wanted
    from .session import Session


class AtTerminal:
    """Whoever sits at the terminal, asked which is meant."""

    def __init__(self, ruler: Ruler) -> None:
        self._ruler = ruler

    def thing(self, kind: str, known: Sequence[str]) -> str:
        """Ask for the name of one of several."""
        answer: str = typer.prompt(
            tell("Which {kind}? ({known})", kind=kind, known=", ".join(known)), err=True
        )
        return answer

    def setup(self, found: Sequence[SetUp]) -> SetUp | None:
        """Ask which set-up is repeated; None for a new one."""
        for line in choices(found, self._ruler):
            say(line)
        known = {setup.number: setup for setup in found}
        while True:
            number: int = typer.prompt(
                tell("Which is it? (0: a new one)"), default=found[0].number, type=int, err=True
            )
            if number == 0 or number in known:
                return known.get(number)
            say("Set-up {number} is not among them.", number=number)


def chooser(session: Session) -> AtTerminal | None:
    """Return who can be asked; None off a terminal."""
    on_terminal = all(s is not None and s.isatty() for s in (sys.stdin, sys.stderr))
    return AtTerminal(session.ruler()) if on_terminal else None


def with_stock(session: Session, answer: Answer, pieces: int, *, as_json: bool) -> Answer:
    """Say which scraps to prepare for so many test pieces, and return the answer with them in its
    document.
    """
    from ...document import stock_document
    from ...service.firstly import test_stock

    setup = answer.setup
    scraps = stock_document(
        test_stock(setup.plan, setup.first, pieces), session.ruler(setup.plan.machine)
    )
    if not as_json:
        screen = session.screen
        screen.line()
        screen.head("To prepare for {pieces} test pieces", pieces=pieces)
        for scrap in scraps:
            screen.line("- {scrap}", indent="  ", scrap=scrap["text"])
        screen.line("- Longer ones serve again: saw a used end off.", indent="  ")
    return answer._replace(document={**answer.document, "test_stock": scraps})


def beside(session: Session, wanted: Wanted, answer: Answer, several: list[SetUp]) -> Iterator[str]:
    """Yield what is said beside the answer: which set-up was ended, which is repeated or what of an
    earlier one is not, and where it is.
    """
    from ...service.again import changed

    plan, ruler = answer.setup.plan, session.ruler(answer.setup.plan.machine)
    if answer.closed is not None:
        yield tell(
            "Set-up {closed} with this bit was ready and is now finished.", closed=answer.closed
        )
    if several:
        yield differ(several)
    if wanted.again is not None:
        yield as_setup(wanted.again, plan, ruler)
    elif wanted.like is not None and (names := changed(wanted, wanted.like.plan, plan)):
        yield not_as_setup(wanted.like, names, ruler)
    own, at = session.home(), plan.machine
    if own is not None and at is not None and at.name != own.name:
        yield (
            tell(
                "It is at {at}, not at your own {own}: name it on each command, --setup {number}.",
                at=at.name,
                own=own.name,
                number=answer.setup.number,
            )
        )
