"""What anyone at the bench reckons without a model: printed figures, which side a word means, how
strongly it was said.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np

from ..domain import Aspect, Piece, Plan, Settings
from ..families import Joint, joint_of


def anywhere(plan: Plan) -> Settings:
    """Return settings to ask about what hangs on none of them, mm."""
    return Settings(plan.family, (1.0,) * len(plan.family.names))


def opening(plan: Plan, known: Mapping[Aspect, float]) -> Settings:
    """Return the settings that the printed figures give for the middle of every window, unrounded,
    mm.

    known: by aspect, how far the printed figures' misfit has been found to lie above the true one.
    """
    joint, family, figures = joint_of(plan), plan.family, plan.figures()
    start = (sum(f * figures[n] for n, f in s.with_figures.items()) for s in family.settings)
    settings = Settings(family, tuple(length or 1.0 for length in start))
    # In the family's order: the figures of later ones hang on the settings of earlier ones.
    for aspect in family.setting_of:
        nominal = wanted(joint, aspect, settings) + known.get(aspect, 0.0)
        settings = settings.moved(aspect, joint.setting_for(aspect, nominal, settings))
    return settings


def wanted(joint: Joint, aspect: Aspect, settings: Settings) -> float:
    """The misfit that the printed figures without coupling should give: what its driver takes
    when it is good is added.
    """
    driver = joint.plan.family.kind(aspect).driver
    taken = (
        float(joint.observed(settings).taken(np.array(joint.window(driver).middle)))
        if driver is not None
        else 0.0
    )
    return joint.window(aspect).middle + taken


def telling(joint: Joint, aspect: Aspect, pieces: Sequence[Piece]) -> list[Piece]:
    """Return the pieces of which something was said or read in an aspect."""
    return [
        p
        for p in pieces
        if p.verdict.of(aspect) is not None or joint.reading_of(aspect, p) is not None
    ]


def side(joint: Joint, aspect: Aspect, piece: Piece) -> int:
    """Return on which side of what is wanted a piece was said or read to be: -1, 0 (not told, or
    right) or +1.
    """
    said, middle, reading = (
        piece.verdict.of(aspect),
        joint.window(aspect).middle,
        joint.reading_of(aspect, piece),
    )
    if reading is not None and not joint.plan.family.kind(aspect).tried:
        value = reading[0]
    elif said is None:
        return 0
    else:
        bands = joint.word_bands(aspect)[said.index]
        low, high = min(b[0] for b in bands), max(b[1] for b in bands)
        if low < middle < high and said.side == 0:
            return 0
        value = (max(low, middle - 10.0) + min(high, middle + 10.0)) / 2
    return (value > middle) - (value < middle)


def degree(piece: Piece, aspect: Aspect) -> float:
    """Return how strongly it was said: 0.5 for slightly, 2 for very, 1 otherwise."""
    words = str(piece.verdict.of(aspect)).split()
    return 0.5 if "slightly" in words else 2.0 if "very" in words else 1.0


def reversals(joint: Joint, aspect: Aspect, pieces: Sequence[Piece]) -> int:
    """Count the changes of side among the verdicts that an aspect's own setting was moved for, the
    last one included.
    """
    moved = [
        side(joint, aspect, piece)
        for i, piece in enumerate(pieces)
        if i + 1 == len(pieces)
        or abs(pieces[i + 1].settings.of(aspect) - piece.settings.of(aspect)) > 1e-9
    ]
    sides = [s for s in moved if s]
    return sum(a != b for a, b in pairwise(sides))
