"""How a rabbet begins in an empty shop; all invented."""

from __future__ import annotations

BEFORE = (
    ("bit", "add", "wide", *("--diameter", "19.05", "--angle", "0", "--cutting-length", "25")),
    ("stock", "add", "side", *("--species", "beech", "--thickness", "20", "--width", "280")),
    ("stock", "add", "ply", *("--species", "birch plywood", "--thickness", "12", "--width", "280")),
    ("machine", "add", "table", "--height-step", "0.05", "--part", "exposure=step 0.05"),
)
EXAMPLE = (
    *("start", "--joint", "rabbet", "--bit", "wide", "--stock", "side", "--pin-stock", "ply"),
    *("--machine", "table", "--given", "sheet=11.6mm"),
)
