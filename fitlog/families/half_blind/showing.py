"""How a piece of a half-blind dovetail shows its centre: by the turn and a second pass, or by its
walls alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import numpy as np

from ... import defaults
from ...advice.decision import Decision
from ...advice.knowledge import AS_SAID, Knowledge
from ...advice.laws import nominal_of
from ...domain import Piece, Settings
from . import figures
from .names import CENTRE


def shown_by(made: Decision) -> Literal["turn", "walls", ""]:
    """Return how the next piece shows the centre: it is looked at for nothing where a word alone
    settled it.
    """
    by = made.found.settled.get(CENTRE)
    sure = by is not None and (made.ready or by.chance >= defaults.SETTLED_CHANCE)
    if sure or CENTRE not in made.known.joint.plan.in_play:
        return ""
    return showing(made.known, made.pieces, made.settings)


def second_pass_safe(know: Knowledge, settings: Settings) -> bool:
    """Tell whether a second pass after the turn is expected to shave the far wall, and not too much
    of it.
    """
    error = nominal_of(know, CENTRE, settings) + know.law(CENTRE).mean
    return -2 * figures.FENCE_SIDE_ROUNDING <= 2 * error <= figures.MOST_SHAVING + 1e-9


def showing(
    know: Knowledge, pieces: Sequence[Piece], settings: Settings
) -> Literal["turn", "walls"]:
    """Return how a piece cut at `settings` is to show its centre: by the turn and a second pass, or
    by its walls alone.

    The turn only where the log knows the fence's zero and hardly anything can be shaved off the
    wall at the fence.
    """
    doubtful = (
        know.law(CENTRE).sd > figures.ZERO_KNOWN
        or know.chance_of(CENTRE, AS_SAID) < defaults.SETTLED_CHANCE
    )
    said = [v for p in pieces if (v := p.verdict.of(CENTRE)) is not None]
    near = bool(said) and said[-1].side < 0
    risky = fence_side_chance(know, settings) > figures.FENCE_SIDE_CHANCE or not second_pass_safe(
        know, settings
    )
    return "walls" if doubtful or near or risky else "turn"


def fence_side_chance(know: Knowledge, settings: Settings) -> float:
    """Chance that the second pass after the turn takes more than the allowed shaving on the fence
    side.
    """
    edge = -defaults.FENCE_SIDE_SHAVING / 2 - nominal_of(know, CENTRE, settings)
    return float(know.law(CENTRE).cdf(np.array([edge]))[0])
