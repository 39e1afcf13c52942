"""The cautions of a half-blind dovetail: those of every joint with its own, and which of them a
move makes new.
"""

from __future__ import annotations

from collections.abc import Mapping

from ...advice.cautions import GENERAL, speed
from ...domain import Plan, Remark, remark
from .names import CENTRE, FENCE, FIT, HEIGHT

__all__ = ["FULL", "TURN", "after_move", "opening", "speed"]

FULL = (*GENERAL, remark("one-pass"), remark("new-height"))
TURN = remark("far-shaving", CENTRE)
NEW_HEIGHT = remark("new-height", FIT, moved=True)
FRESH_PIECE = remark("fresh-piece", CENTRE)


def opening(plan: Plan) -> tuple[Remark, ...]:
    """All cautions, for `start`."""
    turn = (TURN,) if CENTRE in plan.in_play else ()
    return (*FULL, speed(plan), *turn)


def after_move(moves: Mapping[str, float]) -> tuple[Remark, ...]:
    """Only what moves make new."""
    out: list[Remark] = []
    if abs(moves.get(HEIGHT, 0.0)) > 1e-9:
        out.append(NEW_HEIGHT)
    if moves.get(FENCE, 0.0) < -1e-9:
        out.append(FRESH_PIECE)
    return tuple(out)
