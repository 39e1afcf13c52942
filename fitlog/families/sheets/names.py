"""What is judged and adjusted alike at a housing and a rabbet: how deep it is cut."""

from __future__ import annotations

from ...domain.family import SettingKind
from ...domain.said import UNPLACED, AspectKind

DEPTH, HEIGHT = "depth", "height"
BOTTOM, LEAN = "bottom", "lean"
FAULTS = (BOTTOM, LEAN, UNPLACED)
CUT_DEPTH, SHEET = "cut_depth", "sheet"
DEPTH_WORDS = (
    *("very shallow", "shallow", "slightly shallow", "right"),
    *("slightly deep", "deep", "very deep"),
)


def depth(place: int) -> AspectKind:
    """Return how deep it is cut, above zero too deep."""
    return AspectKind(
        DEPTH, DEPTH_WORDS, "right", HEIGHT, place, unread=("right",), read_by=(CUT_DEPTH,)
    )


def height() -> SettingKind:
    """Return how far the bit stands out; another cut in the same place only goes deeper."""
    return SettingKind(
        HEIGHT,
        "the bit height",
        "height",
        ("deeper", "shallower"),
        positive=True,
        from_below=True,
        free="+",
    )
