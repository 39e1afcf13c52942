"""Machines by what their parts have, written short."""

from __future__ import annotations

from typing import Any

from fitlog.domain import Machine


def parts(between: tuple[str, ...] = (), **told: float | None) -> dict[str, dict[str, Any]]:
    """What is known of a machine's parts, by part: height_step=0.05 is the step of the height,
    backlash that of the height.
    """
    found: dict[str, dict[str, Any]] = {part: {"between": True} for part in between}
    for name, value in told.items():
        part, what = ("height", name) if name == "backlash" else name.rsplit("_", 1)
        found.setdefault(part, {})[what] = value
    return found


def table(name: str, between: tuple[str, ...] = (), **told: float | None) -> Machine:
    """A machine of this name whose parts are as `parts` reads them."""
    return Machine(name).with_parts(parts(between, **told))
