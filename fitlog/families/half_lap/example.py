"""How a half-lap begins in an empty shop; all invented."""

from __future__ import annotations

BEFORE = (
    ("bit", "add", "wide", *("--diameter", "16", "--angle", "0", "--cutting-length", "25")),
    ("stock", "add", "pine", *("--species", "pine", "--thickness", "18", "--width", "45")),
    ("machine", "add", "table", *("--height-step", "0.05")),
)
EXAMPLE = ("start", "--joint", "half-lap", *("--bit", "wide", "--stock", "pine"))
