"""How a half-blind dovetail begins in an empty shop; all invented."""

from __future__ import annotations

BEFORE = (
    ("bit", "add", "wren", *("--diameter", "12.7", "--angle", "14", "--cutting-length", "14")),
    ("stock", "add", "ash", *("--species", "ash", "--thickness", "18", "--width", "140")),
)
EXAMPLE = ("start", "--joint", "half-blind dovetail", "--bit", "wren", "--stock", "ash")
