"""Getting the exposure of a rabbet back: see `families.recovering`."""

from __future__ import annotations

from dataclasses import replace

from ...advice.history import History
from ...language.units import Ruler
from ..recovering import Asked
from ..sheets.recover import RecoveredWidth, Way
from .craft import first_settings
from .names import WIDTH
from .plan import rabbet

_WAY = Way(WIDTH, -1.0, "step", first_settings, "exposure")


def recovered(asked: Asked, past: History, by: str, ruler: Ruler) -> RecoveredWidth:
    """Return the exposure that restores a joint; a back bears on it whatever its thickness."""
    if asked.origin is not None and rabbet(asked.origin.plan).back:
        asked = replace(asked, readings=())
    return _WAY.recovered(asked, past, by, ruler)
