"""What of a housing is typed in, and what it can be: see `families.typed`."""

from __future__ import annotations

from ...domain import Bit, Plan
from ...language.limits import Limit
from ..sheets import typed as shared
from ..typed import Figure, First, Size, Taken, YesNo
from .figures import SHARE
from .names import FEELER, SECOND, SLOT

PLAY_LIMIT = 3.0  # mm: a sheet with more falls over


def setting(bit: Bit, name: str) -> Limit:
    """The values of a setting that are believed, as true lengths."""
    return {
        **shared.setting_of(bit),
        SECOND: Limit("the second pass", 0.0, bit.diameter, "the bit itself: a ridge would stay"),
    }[name]


def least_thickness(plan: Plan) -> float:
    """A scrap of the side is cut to half its thickness at most."""
    return shared.LEAST_SCRAP


FIGURES: dict[str, Figure] = {
    "second-pass": First(SECOND),
    "depth": Size(
        "depth",
        lambda _: shared.depth_limit("the housing's depth"),
        lambda _, stock, __: round(SHARE * stock.thickness, 6),
    ),
    "at-once": YesNo("at_once"),
    "floats": YesNo("floats"),
    "clear-width": Size("clear_width", lambda _: Limit("the clear width", 20, 5000, "any case")),
    "place": Size("place", lambda _: Limit("the place", 1, 3000, "any side")),
    "spacing": Size("spacing", lambda _: Limit("the spacing", 10, 3000, "any side")),
    **shared.SHARED,
}
READINGS: dict[str, Taken] = {
    FEELER: Taken(("the feeler",), (PLAY_LIMIT,)),
    SLOT: Taken(("the slot",), (100.0,)),
    **shared.READINGS,
}
