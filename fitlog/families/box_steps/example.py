"""How a box joint by steps of the fence begins in an empty shop; all invented."""

from __future__ import annotations

BEFORE = (
    ("bit", "add", "half", *("--diameter", "12.7", "--angle", "0", "--cutting-length", "32")),
    ("stock", "add", "beech", *("--species", "beech", "--thickness", "14", "--width", "150")),
    ("machine", "add", "table", "--height-step", "0.1", "--part", "pass=step 0.01"),
)
EXAMPLE = (
    *("start", "--joint", "box-steps", "--bit", "half", "--stock", "beech"),
    *("--machine", "table"),
)
