"""How a tongue and groove begins in an empty shop; all invented."""

from __future__ import annotations

BEFORE = (
    ("bit", "add", "plain", *("--diameter", "6", "--angle", "0", "--cutting-length", "20")),
    ("stock", "add", "oak", *("--species", "oak", "--thickness", "18", "--width", "120")),
    ("machine", "add", "table", *("--height-turn", "1.5", "--fence-step", "0.05")),
)
EXAMPLE = ("start", "--joint", "tongue-groove", *("--bit", "plain", "--stock", "oak"))
