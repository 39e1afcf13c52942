"""What a sensible person without a model takes for known after some pieces, and so stops looking
for.

What only a trial settles (a fit) wants one: its settling word, or a number inside the window, at
these settings. A zero (of a centre) is known once it was called right, or read: it is then the
setting less the error, whatever mark that lies on. All else is known once it was right, or read; a
step that hangs on the fit (a seat), where that stays as it is set.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..advice.settled import SAME, half_told, judged, settled_by
from ..domain import Aspect, Piece
from ..families import Joint
from .reckoning import degree, side, telling


def believed(
    joint: Joint, aspect: Aspect, pieces: Sequence[Piece], *, numbers: bool, marks: bool
) -> float | None:
    """Return the setting that the pieces have shown to be right, unrounded, mm; None while it is
    still looked for.

    numbers: a number said is corrected by.  marks: two neighbouring marks with what is wanted
    between them end the search.
    """
    if joint.plan.family.kind(aspect).tried:
        holder = settled_by(joint, aspect, pieces)
        return None if holder is None else holder.settings.of(aspect)
    told = telling(joint, aspect, pieces)
    if not told or _driven_off(joint, aspect, told[-1], pieces[-1]):
        return None
    read = corrected(joint, aspect, told[-1]) if numbers else None
    if read is not None:
        return read
    said = told[-1].verdict.of(aspect)
    # Without a model a word that shows one side alone is taken for right.
    taken = said is not None and said.settles and half_told(joint, aspect)
    if taken or judged(joint, aspect, told[-1]):
        return told[-1].settings.of(aspect)
    return _between(joint, aspect, told) if marks else None


def corrected(joint: Joint, aspect: Aspect, piece: Piece) -> float | None:
    """Return the setting that a number read on a piece asks for, mm; None without one. That
    of a centre by half the extra width, that of a step one to one.
    """
    reading = joint.reading_of(aspect, piece)
    if reading is None:
        return None
    return piece.settings.of(aspect) + (joint.window(aspect).middle - reading[0]) / joint.slope(
        aspect, piece.settings
    )


def _driven_off(joint: Joint, aspect: Aspect, piece: Piece, last: Piece) -> bool:
    """Tell whether the aspect's driver was set otherwise since: another fit seats otherwise."""
    driver = joint.plan.family.kind(aspect).driver
    if driver is None:
        return False
    return abs(piece.settings.of(driver) - last.settings.of(driver)) > SAME


def _between(joint: Joint, aspect: Aspect, told: Sequence[Piece]) -> float | None:
    """Where neighbouring marks were said to be off either way: midway for a zero, else the
    slighter one.
    """
    last, now = told[-1], told[-1].settings.of(aspect)
    can = joint.plan.adjuster(aspect)
    if not can.coarse or side(joint, aspect, last) == 0:
        return None
    for other in told[:-1]:
        apart = abs(other.settings.of(aspect) - now)
        opposite = side(joint, aspect, other) * side(joint, aspect, last) < 0
        if (
            opposite
            and SAME < apart <= can.step + 1e-6
            and not _driven_off(joint, aspect, other, last)
        ):
            if joint.plan.family.kind(aspect).zeroed:
                return (other.settings.of(aspect) + now) / 2
            return (other if degree(other, aspect) < degree(last, aspect) else last).settings.of(
                aspect
            )
    return None
