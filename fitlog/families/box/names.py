"""The box joint on a sled with a key, by its names."""

from __future__ import annotations

from ...domain.family import Family, SettingKind
from ...domain.said import AspectKind
from ...domain.settings import Settings
from ..fingers.names import FAULTS, HEIGHT, READINGS, ends, fit

GAP, STARTER = "key_gap", "starter"
EDGES = "edges"

BOX = Family(
    "box",
    (
        SettingKind(
            GAP,
            "the key gap",
            "key",
            ("away from the cutter", "toward the cutter"),
            positive=True,
            from_below=True,  # the last move of a key screw is always the same way
        ),
        SettingKind(STARTER, "the starter", "starter", ("wider", "narrower"), positive=True),
        SettingKind(
            HEIGHT,
            "the cutter height",
            "height",
            ("up", "down"),
            positive=True,
            with_figures={"met": 1.0},
            from_below=True,
            free="+",
        ),
    ),
    (
        fit(GAP),
        AspectKind(
            EDGES,
            ("very out", "out", "slightly out", "level", "slightly in", "in", "very in"),
            "level",
            STARTER,
            1,
            unread=("level",),
        ),
        ends(2),
    ),
    FAULTS,
    READINGS,
    ("key_width", "board_width"),
)


def set_to(key_gap: float, starter: float, height: float) -> Settings:
    """Return settings of the box joint, mm."""
    return Settings(BOX, (key_gap, starter, height))
