"""The rabbet by its names."""

from __future__ import annotations

from ...domain.family import Family, SettingKind
from ...domain.said import AspectKind
from ...domain.settings import Settings
from ..sheets.names import CUT_DEPTH, FAULTS, SHEET, depth, height

__all__ = ["FACE", "FACE_WORDS", "FENCE", "RABBET", "WIDTH", "set_to"]

FACE, FENCE = "face", "fence_offset"
WIDTH = "width"
FACE_WORDS = (
    *("very shy", "shy", "slightly shy", "flush"),
    *("slightly proud", "proud", "very proud"),
)

RABBET = Family(
    "rabbet",
    (
        # How far the bit stands out of the fence, which is how wide it cuts: no bit has a part in
        # it. Another pass on the same edge only widens.
        SettingKind(FENCE, "the exposure", "exposure", ("wider", "narrower"), True, free="+"),
        height(),
    ),
    (
        AspectKind(FACE, FACE_WORDS, "flush", FENCE, 0, unread=("flush",)),
        depth(1),
    ),
    FAULTS,
    {WIDTH: "", SHEET: "", CUT_DEPTH: ""},
    ("sheet", "depth", "back", "bearing"),
)


def set_to(fence_offset: float, height: float) -> Settings:
    """Return settings of the rabbet, mm."""
    return Settings(RABBET, (fence_offset, height))
