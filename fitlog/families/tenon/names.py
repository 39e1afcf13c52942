"""The tenon by flipping, by its names."""

from __future__ import annotations

from ...domain.family import Family, SettingKind
from ...domain.settings import Settings
from ..flip.names import FAULTS, LINE, faces, fit, height, shoulder, stop

FENCE = "mortise_fence"

TENON = Family(
    "tenon",
    (
        # Another place of the mortise is a new mortise; the tenon's end is none the worse for it.
        SettingKind(
            FENCE,
            "the mortise fence",
            "fence",
            ("out", "in"),
            positive=True,
            with_figures={"thickness": 0.5},
            free="both",
        ),
        height({"thickness": 0.5}),
        stop(),
    ),
    (faces(0, FENCE, (LINE,)), fit(1), shoulder(2)),
    FAULTS,
    {"feeler": "", "jaws": "other", "mortise": "", "tenon": ""},
    ("mortise", "mortise_by", "depth"),
)


def set_to(mortise_fence: float, height: float, stop: float) -> Settings:
    """Return settings of the tenon, mm."""
    return Settings(TENON, (mortise_fence, height, stop))
