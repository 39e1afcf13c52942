"""How a set-up of the invented pegs begins."""

from __future__ import annotations

_SIZES = ("--thickness", "17", "--width", "150")
BEFORE = (
    ("bit", "add", "auger", *("--diameter", "10", "--angle", "8", "--cutting-length", "20")),
    ("stock", "add", "board", *("--species", "ash (invented)"), *_SIZES),
)
EXAMPLE = ("start", "--joint", "invented pegs", "--given", "spacing=30mm")
