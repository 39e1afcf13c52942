"""How a tenon begins in an empty shop; all invented."""

from __future__ import annotations

BEFORE = (
    ("bit", "add", "plain", *("--diameter", "8", "--angle", "0", "--cutting-length", "25")),
    ("stock", "add", "ash", *("--species", "ash", "--thickness", "20", "--width", "70")),
    ("machine", "add", "table", *("--height-turn", "1.5", "--fence-step", "0.05")),
)
EXAMPLE = ("start", "--joint", "tenon", *("--bit", "plain", "--stock", "ash"))
