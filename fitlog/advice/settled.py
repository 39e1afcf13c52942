"""Which aspects are settled, and by which piece."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..domain import Aspect, Piece
from ..families import Joint

SAME = 0.013  # mm: settings that read alike to a thousandth of an inch are the same setting


def judged(joint: Joint, aspect: Aspect, piece: Piece) -> bool | None:
    """Tell whether a piece was good in an aspect; None when it was not judged.

    Good is the settling word, or a reading inside the window as stated at `start`: one that was
    learned never overrules a word. `flush` does not settle a seat that is wanted proud, nor does a
    word that shows one side alone.
    """
    kind = joint.plan.family.kind(aspect)
    if piece.verdict.silenced(kind):
        return None
    window, said, reading = (
        joint.stated_window(aspect),
        piece.verdict.of(aspect),
        joint.reading_of(aspect, piece),
    )
    blind = said is not None and said.settles and half_told(joint, aspect)
    if said is not None and said.settles and not blind and (kind.tried or window.holds(0.0)):
        return True
    if reading is not None:
        return window.holds(reading[0])
    return None if said is None or blind else False


def half_told(joint: Joint, aspect: Aspect) -> bool:
    """Tell whether the settling word shows one side of the window alone, as `closed` does, behind
    which a void may be: the figures settle such an aspect, or a reading.
    """
    window = joint.stated_window(aspect)
    bands = joint.word_bands(aspect)[joint.plan.family.kind(aspect).settled_at]
    return any(
        math.isinf(told) and math.isfinite(end)
        for low, high, _ in bands
        for told, end in ((low, window.low), (high, window.high))
    )


def settled_by(joint: Joint, aspect: Aspect, pieces: Sequence[Piece]) -> Piece | None:
    """Return the piece that settled an aspect and still holds: its setting not moved since, nothing
    said against it.
    """
    holder: Piece | None = None
    for piece in pieces:
        verdict = judged(joint, aspect, piece)
        if verdict is not None:
            holder = piece if verdict else None
        elif holder is not None and abs(misplaced(joint, aspect, piece, holder)) > SAME:
            holder = None
    return holder


def misplaced(joint: Joint, aspect: Aspect, piece: Piece, other: Piece) -> float:
    """How far apart two pieces' settings of an aspect are, as its nominal misfit divided by its
    slope, mm.
    """
    return (nominal(joint, aspect, piece) - nominal(joint, aspect, other)) / joint.slope(
        aspect, piece.settings
    )


def nominal(joint: Joint, aspect: Aspect, piece: Piece) -> float:
    """Nominal misfit of a piece at the settings it was cut with, its own size taken into account,
    mm.
    """
    plan = joint.plan
    return joint.nominal(aspect, piece.settings, plan.figures(piece.sizes))
