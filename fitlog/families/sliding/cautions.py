"""The cautions of a sliding dovetail: those of every joint with its own, and which of them a move
makes new.
"""

from __future__ import annotations

from collections.abc import Mapping

from ...advice.cautions import GENERAL, speed
from ...domain import Plan, Remark, remark
from .names import EXPOSURE, FIT, HEIGHT

OWN = (
    remark("trapped-bit"),
    remark("waste-the-socket"),
    remark("shelf-on-end"),
    remark("zero-gap"),
)
# What every test and cure at the bit wants.
CUTTING = tuple(c for c in (*GENERAL, *OWN) if c.code in ("unplug", "trapped-bit", "shelf-on-end"))


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """Return the cautions that moves make new; None: all of them, for `start`."""
    if moves is None:
        return (*GENERAL, *OWN, speed(plan))
    out = []
    if abs(moves.get(HEIGHT, 0.0)) > 1e-9:
        out.append(remark("new-socket", FIT))
    if moves.get(EXPOSURE, 0.0) < -1e-9:
        out.append(remark("never-thicker", FIT))
    return tuple(out)
