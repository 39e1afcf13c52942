"""How a housing begins in an empty shop; all invented."""

from __future__ import annotations

BEFORE = (
    ("bit", "add", "half", *("--diameter", "12.7", "--angle", "0", "--cutting-length", "25")),
    ("stock", "add", "side", *("--species", "beech", "--thickness", "20", "--width", "280")),
    ("stock", "add", "ply", *("--species", "birch plywood", "--thickness", "18", "--width", "280")),
    ("machine", "add", "table", "--height-step", "0.05", "--part", "pass=step 0.02"),
)
EXAMPLE = (
    *("start", "--joint", "housing", "--bit", "half", "--stock", "side", "--pin-stock", "ply"),
    *("--machine", "table", "--given", "sheet=17.6mm"),
)
