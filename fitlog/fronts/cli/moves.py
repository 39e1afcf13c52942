"""Settings as they were typed: each itself, or as a move since the last piece."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from ...errors import NotUnderstood, Refused
from ...language.units import MM_PER_INCH, parse_length
from .consent import asking, confirmed

if TYPE_CHECKING:
    from ...domain import SetUp
    from .session import Session

_BARE_FRACTION = re.compile(r"[+\u2212-]?(?:[0-9]+[ -]+)?[0-9]+/0*[1-9][0-9]*")
Values = dict[str, float]


def changed(
    session: Session, setup: SetUp, told: dict[str, Any], *, json: bool = True
) -> tuple[Values, Values]:
    """Return the settings the user named, true mm, and those moves that name them, signed mm.

    told: "settings" and "moves" by setting, as typed.  json: nobody is to be asked.
    """
    plan, last = setup.plan, setup.last_piece()
    named: Values = {}
    moved: Values = {}
    zero = (
        {"bit_height": plan.machine.height_zero, "fence_offset": plan.machine.fence_zero}
        if plan.machine
        else {}
    )
    limits = {
        "bit_height": (
            0.5,
            plan.bit.cutting_length,
            f"this bit's cutting length of {plan.bit.cutting_length:g} mm",
        ),
        "fence_offset": (0.5, 2000.0, "any fence"),
        "socket_depth": (0.1, 100.0, "any board's thickness"),
    }
    for name, text in told["settings"].items():
        more, less = told["moves"][name]
        spoken = name.replace("_", " ")
        if sum(value is not None for value in (text, more, less)) > 1:
            raise Refused(
                "two-settings",
                f"the {spoken} was given twice",
                "give the setting, or one move since the last piece",
            )
        if text is not None:
            off, (low, high, why) = zero.get(name, 0.0), limits[name]
            try:
                size = (
                    session.size(text, f"the {spoken}", low + off, high + off, why, plan.machine)
                    or 0.0
                )
            except Refused as error:
                raise _with_meaning(session, setup, name, text, error) from None
            named[name] = size - off
        elif more is not None or less is not None:
            if last is None:
                raise Refused(
                    "no-piece",
                    f"there is no last piece to move the {spoken} from",
                    "give the setting itself",
                )
            move = less if more is None else more
            if name == "bit_height":
                move = _turns_or_inches(session, setup, move, json)
            size = (
                session.size(
                    move, f"the move of the {spoken}", 0.0, 20.0, "any correction", plan.machine
                )
                or 0.0
            )
            moved[name] = size if more is not None else -size
            named[name] = last.settings[name] + moved[name]
    return named, moved


def _with_meaning(session: Session, setup: SetUp, name: str, text: str, error: Refused) -> Refused:
    """Return the refusal of a setting past its limit with what was likely meant by it, where a slip
    explains it.
    """
    from ...service.doubts import likely

    machine = setup.plan.machine
    typed, advised = session.length(text, name, machine).mm, setup.shown.on_scale(machine)[name]
    found = likely(typed, [advised], session.ruler()) if typed > 0 else None
    return (
        error
        if found is None
        else Refused("absurd-size", error.message, f"did you mean {found[1]}?")
    )


def _turns_or_inches(session: Session, setup: SetUp, text: str, json: bool) -> str:
    """Return a move of the lift with its unit: a bare fraction is turns as likely as inches, so
    that it is never guessed.
    """
    turn, bare = setup.plan.machine.height_turn if setup.plan.machine else None, text.strip()
    if turn is None or not _BARE_FRACTION.fullmatch(bare):
        return text
    ruler, parts = (
        session.ruler(),
        parse_length(f"{bare} in", what="the move of the bit height").mm / MM_PER_INCH,
    )
    ways = {"turn": ruler.size(abs(parts) * turn), "in": ruler.size(abs(parts) * MM_PER_INCH)}
    if asking(json):
        for unit, size in ways.items():
            if confirmed(f"Did you mean {bare} {unit} ({size})?"):
                return f"{bare} {unit}"
    raise NotUnderstood(
        "turn-or-inch",
        f"a move of {bare} may be {bare} turn ({ways['turn']}) or {bare} in ({ways['in']}) at a "
        "lift that counts turns",
        f"write {bare}turn or {bare}in",
    )
