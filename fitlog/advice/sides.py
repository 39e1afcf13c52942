"""On which side of what is wanted the word last said lies, and the settings that do not go against
it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..domain import Aspect, Piece, Settings
from .knowledge import SWAPPED, Knowledge
from .laws import law_of
from .settled import nominal

SURELY, MAYBE = (
    0.8,
    0.2,
)  # chance of swapped sides from which on the other side is taken as meant; as possible


def word_bounds(
    know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], settings: Settings
) -> tuple[float, float]:
    """Return the range of a setting that does not go against the word last said of its aspect."""
    said = [
        p
        for p in pieces
        if p.verdict.of(aspect) is not None and not p.verdict.silenced(know.kind(aspect))
    ]
    side = _side(know, aspect, said[-1]) if said else 0
    if side == 0:
        return -math.inf, math.inf
    bound = unmoved(know, aspect, said[-1], settings)
    return (
        (-math.inf, bound) if side * know.joint.slope(aspect, settings) > 0 else (bound, math.inf)
    )


def unmoved(know: Knowledge, aspect: Aspect, piece: Piece, settings: Settings) -> float:
    """Return the setting of an aspect that leaves its misfit what it was on a piece, the other
    settings being new ones.
    """
    before = nominal(know.joint, aspect, piece)
    if know.kind(aspect).driver:  # another fit also moves the step: the steps stay alike
        before += law_of(know, aspect, piece.settings).mean - law_of(know, aspect, settings).mean
    return know.joint.setting_for(aspect, before, settings)


def _side(know: Knowledge, aspect: Aspect, piece: Piece) -> int:
    """On which side of what is wanted a verdict lies: +1 above, -1 below, 0 when the word does not
    tell.

    A joint wanted half a millimetre proud and called slightly proud lies below.  Sides that are
    surely swapped are taken so.
    """
    said, window = piece.verdict.of(aspect), know.joint.window(aspect)
    if said is None:
        return 0
    tried = know.kind(aspect).tried
    if not tried and know.chance_of(aspect, SWAPPED) >= SURELY:
        said = said.turned
    if said.size is not None and not tried:
        low = high = know.joint.misfit_of(said)
    else:
        bands = know.joint.word_bands(aspect)[said.index]
        low, high = min(b[0] for b in bands), max(b[1] for b in bands)
    # No word lies below a window that goes on for ever downwards, nor above one that does upwards.
    if low >= window.middle and math.isfinite(window.high):
        return 1
    return -1 if high <= window.middle and math.isfinite(window.low) else 0


def narrowed(first: tuple[float, float], then: tuple[float, float]) -> tuple[float, float]:
    """Narrow a range by a second one where they meet; else keep the end of the first that is nearer
    to the second.
    """
    low, high = max(first[0], then[0]), min(first[1], then[1])
    if low <= high:
        return low, high
    end = first[0] if then[1] < first[0] else first[1]
    return end, end
