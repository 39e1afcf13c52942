"""What is known of a machine by its part, as the log keeps it: steps, its scales' zeros, and what
is stacked to set it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Row

from ..domain import Machine, Part, pack_of
from ..errors import Refused
from ..families.names import in_order
from ..texts import tell
from .named import number

SIZES = ("step", "turn", "zero", "backlash")  # what a part may have of its own, mm


def to_machine(row: Row[Any]) -> Machine:
    """Return a machine of the catalogue."""
    parts = {name: _part(name, known) for name, known in row.parts.items()}
    return Machine(row.name, parts, retired=bool(row.retired))


def _part(name: str, known: Mapping[str, Any]) -> Part:
    """Return a part as the log keeps it. Raises Refused: bad-row for what no part has, bad-size,
    bad-set.
    """
    if not isinstance(known, Mapping):
        raise _no_part(name, known)
    told: dict[str, Any] = {
        what: number(tell("the {what} of the {part}", what=what, part=name), known[what])
        for what in SIZES
        if what in known
    }
    rest = {what: value for what, value in known.items() if what not in SIZES}
    if rest.keys() - {"between", "pack", "dial"} or rest.get("between", True) is not True:
        raise _no_part(name, rest)
    if type(rest.get("dial", 0)) is not int:
        raise _no_part(name, rest)
    if "pack" in rest:
        if not isinstance(rest["pack"], str):
            raise _no_part(name, rest)
        rest["pack"] = pack_of(rest["pack"], float)
    return Part(**told, **rest)


def _no_part(name: str, known: object) -> Refused:
    return Refused(
        "bad-row",
        "nothing is known of a {part} by {known}",
        "correct the row, or export the log again where it came from",
        part=name[:40],
        known=repr(known)[:40],
    )


def machine_parts(machine: Machine) -> dict[str, dict[str, float | bool | str]]:
    """Return what is known of a machine by its part; what is not known, and a zero of 0, is left
    out.
    """
    parts: dict[str, dict[str, float | bool | str]] = {}
    for name in in_order(machine.parts):
        part = machine.part(name)
        known: dict[str, float | bool | str] = {
            what: float(value)
            for what in SIZES
            if (value := getattr(part, what)) is not None and (what != "zero" or value)
        }
        if part.between:
            known["between"] = True
        if part.dial is not None:
            known["dial"] = part.dial
        if part.pack is not None:
            known["pack"] = part.pack.text()
        parts[name] = known
    return parts


def zeros_of(machine: Machine) -> dict[str, float]:
    """Return the zeros of a machine's scales by part; one of 0 is left out."""
    zeros = {name: machine.zero(name) for name in in_order(machine.parts)}
    return {name: float(zero) for name, zero in zeros.items() if zero}


def as_then(machine: Machine, zeros: Mapping[str, Any]) -> Machine:
    """Return a machine with the zeros that its scales had."""
    then = {
        name: number(tell("the {what} of the {part}", what="zero", part=name), zero)
        for name, zero in zeros.items()
    }
    names = machine.parts.keys() | then.keys()
    return machine.with_parts({name: {"zero": then.get(name, 0.0)} for name in names})
