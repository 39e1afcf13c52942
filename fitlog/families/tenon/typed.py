"""What of a tenon is typed in, and what it can be: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit, Plan
from ...language.limits import Limit
from ..flip.typed import LEAST_SCRAP, PLAY_LIMIT, SHARED, SOLID, depth, setting_of
from ..typed import Figure, First, OneOf, Size, Taken
from .figures import DEPTH_SHARE
from .names import FENCE

__all__ = ["FIGURES", "READINGS", "least_thickness", "setting"]


def setting(bit: Bit, name: str) -> Limit:
    """The values of a setting that are believed, as true lengths."""
    fence = Limit("the mortise fence", 0.5, 150.0, "any stile")
    return setting_of(bit).get(name) or {FENCE: fence}[name]


def least_thickness(plan: Plan) -> float:
    """A test piece leaves a tenon."""
    return LEAST_SCRAP


FIGURES: dict[str, Figure] = {
    "mortise-fence": First(FENCE),
    "mortise": Size(
        "mortise",
        lambda bit: Limit("the mortise", 2.0, SOLID, "any mortise"),
        lambda bit, _, __: bit.diameter,
    ),
    "mortise-by": OneOf("mortise_by", ("bit", "jaws", "chisel")),
    "mortise-depth": Size(
        "depth",
        lambda _: depth("the mortise's depth"),
        lambda _, rail, __: DEPTH_SHARE * rail.thickness,
    ),
    "clear": Size("clear", lambda _: Limit("the clear width", 20, 5000, "any frame")),
    **SHARED,
}
READINGS: dict[str, Taken] = {
    "feeler": Taken(("the feeler beside the tenon",), (PLAY_LIMIT,)),
    "jaws": Taken(
        ("the mortise", "the tenon"), (SOLID, SOLID), "mortise {value}, tenon {other} by jaws"
    ),
    "mortise": Taken(("the mortise",), (SOLID,)),
    "tenon": Taken(("the tenon",), (SOLID,)),
}
