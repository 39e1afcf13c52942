"""What became of earlier joints, and what that says before the first piece of a new set-up: a
remark, never a move.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ..domain import Plan, Remark, SetUp, remark
from ..families import joint_of
from ..families.outcomes import Became, became_of
from .craft import craft_of
from .history import History

_SAME = 0.005  # mm: what is aimed at alike to a hundredth is aimed at alike


class Last(NamedTuple):
    """The newest set-up of which it is known what became of it."""

    setup: SetUp
    became: Became


def last_outcome(plan: Plan, past: History) -> Last | None:
    """Return the newest set-up of a plan's joint with an outcome: in its species of wood, where
    there is one, else in any.
    """
    found = [
        Last(setup, became)
        for setup in past.newest_first()
        if setup.plan.joint == plan.joint and (became := became_of(setup)) is not None
    ]
    wood = plan.stock.species.casefold()
    same = (one for one in found if one.setup.plan.stock.species.casefold() == wood)
    return next(same, found[0] if found else None)


def of_earlier(plan: Plan, past: History, by: str) -> Iterator[Remark]:
    """Yield what became of the last joint in this wood where that was no good, with the option of
    `start` that aims the other way. by: the person at work.
    """
    last = last_outcome(plan, past)
    if last is None or last.became.direction == "good":
        return

    def aim(of: Plan) -> float:
        return joint_of(of, past.voices, by).window(of.family.lead).middle

    tight = last.became.direction == "tight"
    further = (aim(plan) - aim(last.setup.plan)) * (1 if tight else -1)
    option, moved = "", max(further, 0.0)
    other = craft_of(plan).other_aim(plan)
    if moved < _SAME and other is not None:
        more = (aim(other[1]) - aim(plan)) * (1 if tight else -1)
        option, moved = (other[0], more) if more > _SAME else ("", 0.0)
    yield remark(
        f"outcome-{last.became.direction}",
        way=last.became.direction,
        setup=last.setup.number,
        wood=last.setup.plan.stock.species,
        when=last.became.when,
        option=option,
        by=moved if moved > _SAME else 0.0,
    )
