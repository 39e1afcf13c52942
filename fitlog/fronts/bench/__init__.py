"""A dialogue for the machine side of the shop, without a terminal: where it stands and what a key
means there.

Pure: `stand` reads the place from the log's live entries, `press` turns a key into the next view
and a deed to log. So whatever interrupts the dialogue, the log alone says where it goes on.
"""

from __future__ import annotations

from .press import Deed, View, gaps, measured_at, press, read_at
from .stand import Stand, about_last, asked_of, last_word, not_judged, stand, takes_number

__all__ = [
    "Deed",
    "Stand",
    "View",
    "about_last",
    "asked_of",
    "gaps",
    "last_word",
    "measured_at",
    "not_judged",
    "press",
    "read_at",
    "stand",
    "takes_number",
]
