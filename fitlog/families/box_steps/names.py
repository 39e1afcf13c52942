"""The box joint by steps of the fence, by its names."""

from __future__ import annotations

from ...domain.family import Family, SettingKind
from ...domain.settings import Settings
from ..fingers.names import FAULTS, HEIGHT, READINGS, ends, fit
from ..half_blind.names import CENTRE, FENCE, HALF_BLIND

__all__ = ["BOX_STEPS", "CENTRE", "FENCE", "SECOND", "set_to"]

SECOND = "second_pass"

BOX_STEPS = Family(
    "box-steps",
    (
        # Another cut on the same end only widens the slots.
        SettingKind(SECOND, "the second pass", "pass", ("further out", "less far out"), free="+"),
        HALF_BLIND.setting(FENCE),
        SettingKind(
            HEIGHT,
            "the bit height",
            "height",
            ("up", "down"),
            positive=True,
            with_figures={"met": 1.0},
            from_below=True,
            free="+",
        ),
    ),
    (fit(SECOND), HALF_BLIND.kind(CENTRE), ends(2)),
    FAULTS,
    {**READINGS, "walls": "other"},
    ("pitch", "board_width"),
)


def set_to(second_pass: float, fence_offset: float, height: float) -> Settings:
    """Return settings of the box joint by steps, mm."""
    return Settings(BOX_STEPS, (second_pass, fence_offset, height))
