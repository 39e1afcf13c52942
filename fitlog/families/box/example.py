"""How a box joint on a sled begins in an empty shop; all invented."""

from __future__ import annotations

BEFORE = (
    ("bit", "add", "plain", *("--diameter", "9.525", "--angle", "0", "--cutting-length", "25")),
    ("stock", "add", "ash", *("--species", "ash", "--thickness", "12", "--width", "120")),
    ("machine", "add", "sled", "--part", "key=turn 1.5", "--part", "starter=step 0.05"),
)
EXAMPLE = ("start", "--joint", "box", *("--bit", "plain", "--stock", "ash", "--machine", "sled"))
