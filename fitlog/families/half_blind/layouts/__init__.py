"""The real boards: which layout, where the fence goes for it, how the rabbet is taken off, what to
do before each.
"""

from __future__ import annotations

from .candidates import Asked, Reach
from .finding import Found, Mark, find
from .groove import Covered, Groove, groove_of
from .layout import Layout, fitting_tails, layout_of
from .stops import Cut, Stop, Stops, rabbet_passes, stops

__all__ = [
    "Asked",
    "Covered",
    "Cut",
    "Found",
    "Groove",
    "Layout",
    "Mark",
    "Reach",
    "Stop",
    "Stops",
    "find",
    "fitting_tails",
    "groove_of",
    "layout_of",
    "rabbet_passes",
    "stops",
]
