"""How a half-blind dovetail is set up without a model: first moves, and how its centre is looked
at. See `simulation.simulated` for what each name promises; lengths are mm.
"""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Aspect, Settings
from . import figures
from .names import CENTRE, FENCE, FIT, SEAT

USUAL = "turn"
START_BIAS = 0.14  # bits run small, by half of this
_A_HAIR = 2 * figures.FENCE_SIDE_ROUNDING  # a shaving at the fence too thin to feel, mm


def _moves(fit: float, centre: float, seat: float) -> Mapping[Aspect, float]:
    return {FIT: fit, CENTRE: centre, SEAT: seat}


STEPS = _moves(0.3, 0.2, 0.2)
# `python tests/benchmarks/bench_pieces.py --only tune --seeds 150` chose them, one option after the
# other, twice round.
TUNED: Mapping[tuple[str, str, str], Mapping[Aspect, float]] = {
    ("habit", "fine mm", "numbers"): _moves(0.3, 0.2, 0.2),
    ("habit", "fine mm", "words"): _moves(0.4, 0.1, 0.3),
    ("habit", "1/64 in", "numbers"): _moves(0.3, 0.2, 0.2),
    ("habit", "1/64 in", "words"): _moves(0.2, 0.2, 0.2),
    ("notebook", "fine mm", "numbers"): _moves(0.25, 0.2, 0.2),
    ("notebook", "fine mm", "words"): _moves(0.2, 0.1, 0.2),
    ("notebook", "1/64 in", "numbers"): _moves(0.2, 0.2, 0.2),
    ("notebook", "1/64 in", "words"): _moves(0.15, 0.2, 0.2),
}


def shown_by(at: Settings, zero: float | None, short: bool) -> str:
    """The turn where the zero is known and the second pass takes 0 to 0.8 mm off the far wall, and
    none was snatched at the fence; else the walls.
    """
    if zero is None or short:
        return "walls"
    shaving = 2 * (at[FENCE] - zero)
    return "turn" if -_A_HAIR <= shaving <= figures.MOST_SHAVING + 1e-9 else "walls"
