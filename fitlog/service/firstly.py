"""What is worth saying before the first test piece is cut."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Literal

from ..advice.became import of_earlier
from ..advice.craft import craft_of
from ..advice.history import History
from ..domain import Plan, Remark, Settings, SetUp
from ..errors import Refused
from ..log import Log
from ..log.begun import last_begun
from .ending import not_a_good_base

MOST_PIECES = 20  # that anybody prepares for at once
# When the standing cautions were last shown: at no start of this person at this machine, on another
# day, today by the clock of whoever asks.
LastShown = Literal["never", "earlier", "today"]


def cautioned(log: Log, setup: SetUp, by: str, now: datetime) -> LastShown:
    """Tell when a person was last shown the standing cautions at the machine of a set-up that they
    have just started; at none that is known it counts as never. now: with its time zone.
    """
    machine = setup.plan.machine
    last = last_begun(log, by, machine.name, setup.number) if machine is not None else None
    if last is None:
        return "never"
    return "today" if last.astimezone(now.tzinfo).date() == now.date() else "earlier"


def wanted_pieces(pieces: int | None) -> int | None:
    """Return the number of test pieces to prepare for; refuse ("absurd-size") what no set-up
    takes.
    """
    if pieces is not None and not 1 <= pieces <= MOST_PIECES:
        raise Refused(
            "absurd-size",
            "nobody prepares for {pieces} test pieces",
            "give 1 to {most}; two or three are usual",
            pieces=pieces,
            most=MOST_PIECES,
        )
    return pieces


def test_stock(plan: Plan, first: Settings, pieces: int) -> tuple[Remark, ...]:
    """Return the scraps to prepare for so many test pieces."""
    return craft_of(plan).test_stock(plan, first, pieces)


def before_the_first(setup: SetUp, past: History, by: str) -> Iterator[Remark]:
    """Yield what is to be minded before the first piece of a set-up; nothing once one is logged."""
    if not setup.pieces():
        yield from not_a_good_base(past.like(setup.plan))
        if setup.outcome is None and not setup.undone:
            yield from of_earlier(setup.plan, past, by)
        yield from craft_of(setup.plan).first_words(setup.plan, setup.first, past, by)
