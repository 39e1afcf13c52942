"""What of a tongue and groove is typed in, and what it can be: see `families.typed`."""

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
    fence = Limit("the groove fence", 0.5, 100.0, "any board")
    return setting_of(bit).get(name) or {FENCE: fence}[name]


def least_thickness(plan: Plan) -> float:
    """A test piece leaves a tongue."""
    return LEAST_SCRAP


FIGURES: dict[str, Figure] = {
    "groove-fence": First(FENCE),
    "groove-depth": Size(
        "depth",
        lambda _: depth("the groove's depth"),
        lambda _, board, __: DEPTH_SHARE * board.thickness,
    ),
    "use": OneOf("use", ("boards", "panel", "stub")),
    "passes": OneOf("passes", ("two", "one")),
    "length": Size("length", lambda _: Limit("the length", 20.0, 6000.0, "any board")),
    "covers": Size("clear", lambda _: Limit("what a board covers", 10, 1000, "any board")),
    **SHARED,
}
READINGS: dict[str, Taken] = {
    "feeler": Taken(("the feeler beside the tongue",), (PLAY_LIMIT,)),
    "jaws": Taken(
        ("the groove", "the tongue"), (SOLID, SOLID), "groove {value}, tongue {other} by jaws"
    ),
    "groove": Taken(("the groove",), (SOLID,)),
    "tongue": Taken(("the tongue",), (SOLID,)),
}
