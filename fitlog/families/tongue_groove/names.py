"""The tongue and groove by its names."""

from __future__ import annotations

from ...domain.family import Family, SettingKind
from ...domain.settings import Settings
from ..flip.names import FAULTS, faces, fit, height, shoulder, stop

FENCE = "groove_fence"
LONG, PANEL, STUB = "long boards", "panel", "stub"  # other sets of edges of the fit's words

TONGUE_GROOVE = Family(
    "tongue-groove",
    (
        # It has no aspect of its own: the tongue is made for the groove that is there.
        SettingKind(
            FENCE,
            "the groove fence",
            "fence",
            ("out", "in"),
            positive=True,
            with_figures={"grooved": 0.5},
            free="+",
        ),
        height({"thickness": 0.5}),
        stop(),
    ),
    (fit(0), faces(1, None), shoulder(2)),
    FAULTS,
    {"feeler": "", "jaws": "other", "groove": "", "tongue": ""},
    ("depth", "use", "length"),
)


def set_to(groove_fence: float, height: float, stop: float) -> Settings:
    """Return settings of the tongue and groove, mm."""
    return Settings(TONGUE_GROOVE, (groove_fence, height, stop))
