"""What was found at a machine, beside what was left there and what to dial."""

from __future__ import annotations

from ..advice.found import Finding
from ..document import zeros
from ..domain import Machine
from ..families.telling import say
from ..language.units import Ruler
from ..log import LoggedFound
from ..texts import tell
from .local import minute
from .screen import Screen


def finding(screen: Screen, told: Finding, ruler: Ruler) -> None:
    """Print a finding of the workbench: each setting measured, how far it is off, and
    what to dial.
    """
    screen.line("Logged for set-up {number}.", number=told.setup.number)
    screen.line()
    heads = ["setting", tell("found"), "left at", "moved", "set to", "dial"]
    screen.table(heads, found_cells(told, ruler), right=(1, 2, 4))
    for text in said_of(told, ruler):
        screen.line(text, indent="   ")


def said_of(told: Finding, ruler: Ruler) -> list[str]:
    """Return how to come to what is set, and what to mind."""
    family = told.setup.plan.family
    come = [
        tell(
            "{setting}: {how}.",
            setting=tell(family.setting(name).noun).capitalize(),
            how=say(how, ruler),
        )
        for name, how in told.approach.items()
    ]
    return [*come, *(tell("Care: {caution}", caution=say(r, ruler)) for r in told.cautions)]


def found_cells(told: Finding, ruler: Ruler) -> list[list[str]]:
    """Return a row for each setting: its name, what was found, where it was left, how far it moved
    since, what is set and the move to it.
    """
    machine = told.setup.plan.machine
    zero, left, wanted = (
        zeros(told.left.family, machine),
        told.left.on_scale(machine),
        told.setup.shown.on_scale(machine),
    )
    rows, family = [], told.setup.plan.family
    for name, value in told.found.items():
        kind = family.setting(name)
        off = ruler.move(kind, told.off[name])
        rows.append(
            [
                tell(kind.noun),
                ruler.length(value + zero[name]),
                ruler.length(left[name]),
                tell("as it was left") if off == tell("leave it") else off,
                ruler.length(wanted[name]),
                ruler.move(kind, told.moves[name]),
            ]
        )
    return rows


def found_row(found: LoggedFound, machine: Machine | None, ruler: Ruler) -> list[str]:
    """Return what was found as a row of a set-up's history."""
    zero = zeros(found.remembered.family, machine)
    cells = [
        ruler.length(found.settings[name] + zero[name]) if name in found.settings else ""
        for name in found.remembered
    ]
    taken_back = tell(" (taken back)") if found.retracted else ""
    return [
        "",
        tell("found"),
        *cells,
        tell(
            "{by}, {at}{taken_back}",
            by=found.by,
            at=minute(found.at),
            taken_back=taken_back,
        ),
    ]
