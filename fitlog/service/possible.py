"""What can have been cut, as the family says: refusals before anything is logged."""

from __future__ import annotations

from collections.abc import Mapping

from ..advice.craft import craft_of
from ..domain import Figures, Plan, Settings, SetUp
from ..errors import NotUnderstood, Refused
from .asked import Reported

_STAYS = 1e-9  # mm; less is no move


def check_settings(
    plan: Plan, settings: Settings, changed: Mapping[str, float], sizes: Figures
) -> None:
    """Refuse settings that cannot have been cut, before anything is logged.

    changed: the settings the user named.  sizes: the piece's own, where they are not the set-up's.
    """
    craft_of(plan).check(plan, settings, changed, sizes)


def check_slot(plan: Plan, told: Reported) -> None:
    """Refuse what nobody can say of a slot in waste."""
    craft_of(plan).check_slot(told.verdict, told.readings, told.changed, told.later)


def end_of(setup: SetUp, told: Reported, settings: Settings) -> int | None:
    """Return the piece whose end was cut again at `settings`, the last one; None for a fresh end.

    Raises NotUnderstood (bad-choice) where that is not what can be said, Refused (no-piece;
    bad-setting where wood would have to grow back).
    """
    if not told.same_end:
        return None
    family, last = setup.plan.family, setup.last_piece()
    if not family.recuts:
        said = f"no setting of a {family.name} can move for another cut on the same end"
        raise NotUnderstood("bad-choice", said, "leave --same-end out: each cut is a new piece")
    if told.later or told.slot:
        other = "--same-piece" if told.later else "--slot"
        said = f"--same-end is another cut on the last piece's end, and {other} is none"
        raise NotUnderstood(
            "bad-choice",
            "{told}",
            "say --same-end or {other}, not both",
            other=other,
            told=said,
        )
    if last is None:
        hint = "log the first one without --same-end"
        raise Refused("no-piece", "there is no end yet that was cut", hint)
    for kind in family.settings:
        move = settings[kind.name] - last.settings[kind.name]
        if abs(move) > _STAYS and not kind.goes_on(move):
            said = f"{kind.called} cannot go {kind.ways[move < 0]} for another cut on the same end"
            raise Refused("bad-setting", said, "log it as a new piece, without --same-end")
    return last.number
