"""The housing by its names."""

from __future__ import annotations

from ...domain.family import Family, SettingKind
from ...domain.said import AspectKind
from ...domain.settings import Settings
from ..half_blind.names import FIT, HALF_BLIND
from ..sheets.names import BOTTOM, CUT_DEPTH, FAULTS, SHEET, depth, height

__all__ = ["FEELER", "FIT", "FIT_WORDS", "FLOATING", "HOUSING", "SECOND", "SLOT", "set_to"]

SECOND = "second_pass"
FEELER, SLOT = "feeler", "slot"
FLOATING = "floating"  # the edges between the words of a panel that stays free
FIT_WORDS = HALF_BLIND.words(FIT)  # a fit is felt alike, and said alike

HOUSING = Family(
    "housing",
    (
        SettingKind(SECOND, "the second pass", "pass", ("further out", "less far out"), free="+"),
        height(),
    ),
    (
        AspectKind(
            FIT,
            FIT_WORDS,
            "good",
            SECOND,
            0,
            tried=True,
            unread=FIT_WORDS[:2],
            silenced_by=(BOTTOM,),
            scaled=True,
            read_by=(FEELER,),
        ),
        depth(1),
    ),
    FAULTS,
    {FEELER: "", SLOT: "", SHEET: "", CUT_DEPTH: ""},
    ("sheet", "depth", "board_width"),
)


def set_to(second_pass: float, height: float) -> Settings:
    """Return settings of the housing, mm."""
    return Settings(HOUSING, (second_pass, height))
