"""The half-lap by its names."""

from __future__ import annotations

from dataclasses import replace

from ...domain.family import Family
from ...domain.settings import Settings
from ..flip.names import FAULTS, HEIGHT, TIP, faces, height, shoulder, stop

HALF_LAP = Family(
    "half-lap",
    (height({"thickness": 0.5}), stop()),
    (faces(0, HEIGHT, (TIP,), ("web",)), shoulder(1)),
    FAULTS,
    {"web": ""},
    ("depth", "mate"),
)
# With the other part cut already, the height follows the thickness by all of it.
ONE_PART = replace(HALF_LAP, settings=(height({"thickness": 1.0}), stop()))


def set_to(height: float, stop: float) -> Settings:
    """Return settings of the half-lap, mm."""
    return Settings(HALF_LAP, (height, stop))
