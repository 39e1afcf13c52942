"""What is known of a machine by its part, as the log keeps it: its steps, its scales' zeros."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from sqlalchemy import Row

from ..domain import ADJUSTED, Machine
from .named import number, numbers

SCALED = ("step", "turn", "zero")  # what a machine's part may have of its own, mm


def to_machine(row: Row[Any]) -> Machine:
    """Return a machine of the catalogue."""
    sizes: dict[str, Any] = {}
    between = []
    for part, known in row.parts.items():
        for what, value in known.items():
            if what == "between" and value is True:
                between.append(part)
            else:
                name = what if what == "backlash" else f"{part}_{what}"
                sizes[name] = number(f"the {what} of the {part}", value)
    return Machine(row.name, **sizes, retired=bool(row.retired), between=tuple(between))


def machine_parts(machine: Machine) -> dict[str, dict[str, float | bool]]:
    """Return what is known of a machine by its part; what is not known, and a zero of 0, is left
    out.
    """
    parts: dict[str, dict[str, float | bool]] = {}
    for part in ADJUSTED:
        sizes = {what: getattr(machine, f"{part}_{what}", None) for what in SCALED}
        known: dict[str, float | bool] = {what: float(v) for what, v in sizes.items() if v}
        if part == ADJUSTED[0] and machine.backlash is not None:
            known["backlash"] = float(machine.backlash)
        if part in machine.between:
            known["between"] = True
        if known:
            parts[part] = known
    return parts


def zeros_of(machine: Machine) -> dict[str, float]:
    """Return the zeros of a machine's scales by part; one of 0 is left out."""
    return {part: float(zero) for part in ADJUSTED if (zero := machine.zero(part))}


def as_then(machine: Machine, zeros: Mapping[str, Any]) -> Machine:
    """Return a machine with the zeros that its scales had."""
    then = numbers(zeros, ADJUSTED)
    parts = (part for part in ADJUSTED if hasattr(machine, f"{part}_zero"))
    return replace(machine, **{f"{part}_zero": then.get(part, 0.0) for part in parts})  # type: ignore[arg-type]
