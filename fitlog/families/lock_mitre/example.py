"""How a lock mitre begins in an empty shop; all invented."""

from __future__ import annotations

_PROFILE = ("--diameter", "50.8", "--angle", "45", "--cutting-length", "22")
BEFORE = (
    ("bit", "add", "lock", *_PROFILE),
    ("stock", "add", "oak", "--species", "oak", "--thickness", "19", "--width", "140"),
    ("machine", "add", "table", "--height-step", "0.05"),
)
EXAMPLE = ("start", "--joint", "lock-mitre", "--bit", "lock", "--stock", "oak")
