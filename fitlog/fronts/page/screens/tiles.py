"""The set-ups: the open ones as tiles, past ones as a list."""

from __future__ import annotations

from ....domain import SetUp
from ....language.english.names import woods
from ....service.found import since_last_here
from ....texts import tell
from ...bench import stand
from ..desk import Sitting
from .common import Values

_PAST = 12  # set-ups that ended, on one screen


def tiles(sitting: Sitting, before: str) -> Values:
    """Return the first screen: open set-ups, those of one's own machine first, and past ones;
    before: a set-up's number, for the past ones that are older.
    """
    after = int(before) if before.isascii() and before.isdecimal() and len(before) < 19 else None
    home, still = sitting.home(), [] if after else sitting.log.setups(ended=False)
    if home is not None:
        still.sort(key=lambda s: s.plan.machine is None or s.plan.machine.name != home.name)
    past = sitting.log.setups(limit=_PAST + 1, before=after, ended=True)
    return {
        "open": [_tile(sitting, s) for s in still],
        "past": [_tile(sitting, s) for s in past[:_PAST]],
        "after": after,
        "older": past[_PAST - 1].number if len(past) > _PAST else None,
        "by": sitting.by,
        "paired": sitting.phone.number > 0,
        "reads": sitting.phone.only_reads,
    }


def _tile(sitting: Sitting, setup: SetUp) -> Values:
    plan, at = setup.plan, stand(setup)
    absence = since_last_here(sitting.log, setup)
    other = absence.other if absence is not None else None
    if at.at == "over":
        state = tell(setup.outcome or "undone")
    elif at.at == "settings":
        state = tell("piece {piece} next", piece=at.piece)
    else:
        state = tell("piece {piece}: {at} to be judged", piece=at.piece, at=tell(at.at))
    return {
        "number": setup.number,
        "title": setup.noted("title") or tell("Set-up {number}", number=setup.number),
        "joint": tell(plan.joint),
        "bit": plan.bit.name,
        "boards": woods(plan.stock.name, plan.pin_stock.name),
        "machine": plan.machine.name if plan.machine else "",
        "state": state,
        "by": setup.by if setup.by != sitting.by else "",
        "other": ""
        if other is None
        else tell(
            "{by} was at {machine} since, with set-up {number}: measure first.",
            by=tell("You") if other.by == sitting.by else other.by,
            machine=plan.machine.name if plan.machine else "",
            number=other.setup,
        ),
    }
