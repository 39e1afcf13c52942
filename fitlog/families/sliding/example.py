"""How a sliding dovetail begins in an empty shop; all invented."""

from __future__ import annotations

_SHELF = ("--species", "ash", "--thickness", "18", "--width", "150")
BEFORE = (
    ("bit", "add", "wren", *("--diameter", "12.7", "--angle", "14", "--cutting-length", "14")),
    ("stock", "add", "ash", *_SHELF),
)
EXAMPLE = ("start", "--joint", "sliding", "--bit", "wren", "--stock", "ash")
