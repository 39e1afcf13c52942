"""What of a half-lap is typed in, and what it can be: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit, Plan
from ...language.limits import Limit
from ..flip.typed import LEAST_SCRAP, SHARED, SOLID, depth, setting_of
from ..typed import Figure, Size, Taken

__all__ = ["FIGURES", "READINGS", "least_thickness", "setting"]


def setting(bit: Bit, name: str) -> Limit:
    """The values of a setting that are believed, as true lengths."""
    return setting_of(bit)[name]


def least_thickness(plan: Plan) -> float:
    """A test piece is no thinner than any part."""
    return LEAST_SCRAP


FIGURES: dict[str, Figure] = {
    "across": Size(
        "depth",
        lambda _: depth("the width that it lies across"),
        lambda _, __, other: other.width,
    ),
    "mate": Size("mate", lambda _: Limit("the other part's recess", 0.5, 60.0, "any part")),
    **SHARED,
}
READINGS: dict[str, Taken] = {"web": Taken(("the web that is left",), (SOLID,))}
