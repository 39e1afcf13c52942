"""The tongue and groove by its names."""

from __future__ import annotations

from dataclasses import replace

from ...domain.family import Family, SettingKind
from ...domain.settings import Settings
from ..flip.names import FAULTS, LINE, faces, fit, height, shoulder, stop

FENCE = "groove_fence"
LONG, PANEL, STUB = "long boards", "panel", "stub"  # other sets of edges of the fit's words

TONGUE_GROOVE = Family(
    "tongue-groove",
    (
        # Of a groove in one pass; another place of it is a new groove, and no tongue's end.
        SettingKind(
            FENCE,
            "the groove fence",
            "fence",
            ("out", "in"),
            positive=True,
            with_figures={"thickness": 0.5},
            free="both",
        ),
        height({"thickness": 0.5}),
        stop(),
    ),
    (fit(0), faces(1, FENCE, (LINE,)), shoulder(2)),
    FAULTS,
    {"feeler": "", "jaws": "other", "groove": "", "tongue": ""},
    ("depth", "use", "length", "passes"),
)
# A groove from both faces lies in the middle wherever the fence stands: nothing tunes the faces,
# and the fence has no aspect of its own, since the tongue is made for the groove that is there.
BOTH_FACES = replace(
    TONGUE_GROOVE,
    settings=(
        replace(TONGUE_GROOVE.settings[0], with_figures={"grooved": 0.5}, free="+"),
        *TONGUE_GROOVE.settings[1:],
    ),
    kinds=(fit(0), faces(1, None), shoulder(2)),
)


def set_to(groove_fence: float, height: float, stop: float) -> Settings:
    """Return settings of the tongue and groove, mm."""
    return Settings(TONGUE_GROOVE, (groove_fence, height, stop))
