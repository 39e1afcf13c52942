"""The lock mitre by its names: what is set, what is judged and in which words."""

from __future__ import annotations

from ...domain.family import Family, SettingKind
from ...domain.said import UNPLACED, AspectKind
from ...domain.settings import Settings
from ..half_blind.names import FIT, HALF_BLIND, SEAT

__all__ = ["CORNER", "FENCE", "FIT", "HEIGHT", "INSIDE", "LOCK_MITRE", "OFFSET", "set_to"]

HEIGHT, OFFSET = "height", "fence_offset"  # the first is an aspect, too
FENCE, CORNER = "fence", "corner"
INSIDE = "inside"


def _degrees(below: str, settling: str, above: str) -> tuple[str, ...]:
    """The words of a step, most negative first."""
    under = tuple(f"{degree}{below}" for degree in ("very ", "", "slightly "))
    over = tuple(f"{degree}{above}" for degree in ("slightly ", "", "very "))
    return (*under, settling, *over)


# Both settings are of one stage: two flats and an upright of one pass show both, whatever the other
# is off by; they are solved in this order.
LOCK_MITRE = Family(
    "lock-mitre",
    (
        SettingKind(
            HEIGHT,
            "the bit height",
            "height",
            ("up", "down"),
            positive=True,
            with_figures={"thickness": 0.5},
            from_below=True,
        ),
        SettingKind(
            OFFSET,
            "the fence offset",
            "fence",
            ("back", "forward"),
            positive=True,
            with_figures={"upright": 0.5},
        ),
    ),
    (
        AspectKind(HEIGHT, HALF_BLIND.words(SEAT), "flush", HEIGHT, 0, unread=("flush",)),
        AspectKind(FENCE, _degrees("in", "level", "out"), "level", OFFSET, 1, unread=("level",)),
        AspectKind(
            CORNER,
            _degrees("under", "even", "over"),
            "even",
            None,
            2,
            unread=("even",),
            silenced_by=(INSIDE,),
        ),
        AspectKind(FIT, HALF_BLIND.words(FIT), "good", None, 3, unread=HALF_BLIND.words(FIT)),
    ),
    (INSIDE, UNPLACED),
    {},
    ("middle", "board_width"),
)


def set_to(height: float, fence_offset: float) -> Settings:
    """Return settings of the lock mitre, mm."""
    return Settings(LOCK_MITRE, (height, fence_offset))
