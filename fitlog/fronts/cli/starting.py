"""What `start` was asked for: names and sizes as typed, and the earlier set-up that is repeated
where one is meant.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import typer

from ...errors import NotUnderstood, Refused
from ...language.units import shown
from .moisture import today
from .options import aspects_of, one_of
from .session import say

if TYPE_CHECKING:
    from ...domain import SetUp
    from ...service import Answer, Wanted
    from ...service.again import Named
    from .session import Session

LAST = "last"
# They only say which, or what the day is like; whatever else is said makes a set-up of its own.
_WITHOUT = (
    "bit",
    "stock",
    "pin_stock",
    "machine",
    "moisture",
    "pin_moisture",
    "scrap_moisture",
    "again",
    "yes",
    "db",
    "json",
)


def wanted_of(session: Session, given: dict[str, Any]) -> tuple[Wanted, list[SetUp]]:
    """Return what is wanted, and the earlier set-ups that differ where nobody said which of them is
    meant.
    """
    from ...service.again import Named

    home = session.home()
    at = given["machine"] or (home.name if home else None)
    named = Named(given["bit"], given["stock"], given["pin_stock"], at)
    several: list[SetUp] = []
    if given["again"] is not None:
        base, new = _repeated(session, given["again"], named, given["machine"]), False
    elif any(value is not None for name, value in given.items() if name not in _WITHOUT):
        base, new = None, False
    else:
        base, new, several = _meant(session, named)
    return _read(session, given, base, new), several


def tell(session: Session, wanted: Wanted, answer: Answer, several: list[SetUp]) -> None:
    """Say beside the answer which set-up is repeated, or what of an earlier one is not."""
    from ...render.again import as_setup, differ, not_as_setup
    from ...service.again import changed

    plan, ruler = answer.setup.plan, session.ruler(answer.setup.plan.machine)
    if several:
        say(differ(several))
    if wanted.again is not None:
        say(as_setup(wanted.again, plan, ruler))
    elif wanted.like is not None and (names := changed(wanted, wanted.like.plan, plan)):
        say(not_as_setup(wanted.like, names, ruler))
    _warn_elsewhere(session, answer.setup)


def _warn_elsewhere(session: Session, setup: SetUp) -> None:
    own, at = session.home(), setup.plan.machine
    if own is not None and at is not None and at.name != own.name:
        say(
            f"It is at {at.name}, not at your own {own.name}: name it on each command, --setup "
            f"{setup.number}."
        )


def _repeated(session: Session, again: str, named: Named, machine: str | None) -> SetUp:
    """Return the set-up that --again names, or the last one with what is named. machine: the one
    that was typed.
    """
    from ...service.again import last, numbered, retired

    if again != LAST and not (again.isdecimal() and len(again) < 19):
        what = f"--again cannot be {shown(again)!r}"
        raise NotUnderstood(
            "bad-choice", what, "give the number of a set-up, or none for the last one"
        )
    bench = session.bench()
    found = last(bench, named) if again == LAST else numbered(bench, int(again))
    if (gone := retired(found.plan, replace(named, machine=machine))) is not None:
        kind, name = gone
        hint = (
            f"name another with --{kind}, or bring it back with fitlog {kind} edit {name!r} "
            "--restore"
        )
        raise Refused("retired", f"the {kind} {name} of set-up {found.number} is retired", hint)
    return found


def _meant(session: Session, named: Named) -> tuple[SetUp | None, bool, list[SetUp]]:
    """Return the one earlier set-up that a plain `start` repeats, whether a new one is wanted, and
    those that differ.

    Where several differ, a terminal is asked.
    """
    from ...render.again import choices
    from ...service.again import alike

    found = alike(session.bench(), named)
    if len(found) < 2:
        return (found[0] if found else None), False, []
    if not _on_terminal():
        return None, False, found
    for line in choices(found, session.ruler()):
        say(line)
    known = {setup.number: setup for setup in found}
    while True:
        number: int = typer.prompt(
            "Which is it? (0: a new one)", default=found[0].number, type=int, err=True
        )
        if number == 0 or number in known:
            return known.get(number), number == 0, []
        say(f"Set-up {number} is not among them.")


def _name(session: Session, kind: str, name: str | None) -> str | None:
    """Return the name that was given, or ask for one on a terminal where several are in the
    catalogue.
    """
    known = getattr(session.log, kind + "s")() if name is None and _on_terminal() else []
    if len(known) < 2:
        return name
    answer: str = typer.prompt(
        f"Which {kind}? ({', '.join(item.name for item in known)})", err=True
    )
    return answer


def _on_terminal() -> bool:
    return all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stderr))


def _read(session: Session, given: dict[str, Any], base: SetUp | None, new: bool) -> Wanted:
    """Return what was typed as values, in true mm. new: like no other."""
    from ...service import Wanted

    log, old = session.log, base.plan if base is not None else None
    if old is None:
        bit, stock = (
            session.only("bit", _name(session, "bit", given["bit"])),
            session.only("stock", _name(session, "stock", given["stock"])),
        )
        pin_stock = log.stock(given["pin_stock"]) if given["pin_stock"] else stock
    else:
        bit = log.bit(given["bit"] or old.bit.name)
        stock = log.stock(given["stock"] or old.stock.name)
        alike = old.pin_stock.name == old.stock.name
        pin_stock = log.stock(given["pin_stock"] or (stock.name if alike else old.pin_stock.name))
    at = given["machine"] or (
        old.machine.name if old is not None and old.machine is not None else None
    )
    machine = session.machine(at)
    zero = machine.height_zero if machine else 0.0
    reach = f"this bit's cutting length of {bit.cutting_length:g} mm"
    height = session.size(
        given["height"], "the bit height", 0.5 + zero, bit.cutting_length + zero, reach, machine
    )
    fit, board, thick = (
        f"what a {bit.diameter:g} mm bit can space",
        "any board",
        "any board's thickness",
    )
    wanted = Wanted(
        bit,
        stock,
        pin_stock,
        machine,
        pitch=session.size(given["pitch"], "the pitch", bit.diameter, 2 * bit.diameter, fit),
        height=None if height is None else height - zero,
        width=session.size(given["width"], "the board width", 10, 2000, board),
        thickness=session.size(given["thickness"], "the tail board's thickness", 1, 2000, thick),
        pin_thickness=session.size(
            given["pin_thickness"], "the pin board's thickness", 1, 100, thick
        ),
        rabbet=session.size(given["rabbet"], "the rabbet", 0.5, 100, "any rabbet"),
        again=base,
    )
    return _with_options(session, given, wanted, new)


def _with_options(session: Session, given: dict[str, Any], wanted: Wanted, new: bool) -> Wanted:
    from ...domain import tail_count
    from ...service.again import like

    old, rabbet_bit = wanted.again.plan if wanted.again is not None else None, given["rabbet_bit"]
    said = {
        "rabbet_bit": None
        if rabbet_bit is None
        else one_of(rabbet_bit, ("same", "straight"), "--rabbet-bit"),
        "wanted_step": session.size(given["proud"], "the wanted step", -3, 3, "any wanted step"),
        "in_play": None if given["only"] is None else aspects_of(given["only"]),
        "words_only": given["words_only"],
        "by_eye": given["by_eye"],
        "spaced": given["spacer"],
        "many_tails": given["many_tails"],
        "tails": tail_count(given["tails"]),
        "scrap": given["scrap"],
        "spacing": session.size(
            given["spacing"], "the spacing of the slots", wanted.bit.diameter, 2000, "any board"
        ),
        "piece_width": session.size(
            given["scrap_width"], "the scrap's width", 10, 2000, "any test piece"
        ),
        "piece_thickness": session.size(
            given["scrap_thickness"], "the scrap's thickness", 1, 100, "any test piece"
        ),
    }
    scrap = given["scrap"] if given["scrap"] is not None else old.scrap if old is not None else ""
    dry = today(session, {**given, "scrap": scrap}, wanted.stock, wanted.pin_stock)
    options = {**{name: value for name, value in said.items() if value is not None}, **dry}
    wanted = replace(wanted, options=options)
    return wanted if old is not None or new else replace(wanted, like=like(session.bench(), wanted))
