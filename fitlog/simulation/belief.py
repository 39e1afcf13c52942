"""What a sensible person without a model takes for known after some pieces, and so stops looking
for.

The fit wants a joint that was tried: `good`, or a gap inside the window, at these settings. The
centre is known once it was called centred, or read: the zero is then the fence less the error,
whatever mark that lies on. The seat is known once it was flush, or read, at the height that stays.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..advice.settled import SAME, judged, settled_by
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
    if aspect == "fit":
        holder = settled_by(joint, aspect, pieces)
        return None if holder is None else holder.settings["bit_height"]
    told = telling(joint, aspect, pieces)
    if not told or (aspect == "seat" and _refitted(told[-1], pieces[-1])):
        return None
    read = corrected(joint, aspect, told[-1]) if numbers else None
    if read is not None:
        return read
    if judged(joint, aspect, told[-1]):
        return told[-1].settings.of(aspect)
    return _between(joint, aspect, told) if marks else None


def corrected(joint: Joint, aspect: Aspect, piece: Piece) -> float | None:
    """Return the setting that a number read on a piece asks for, mm; None without one. Half the
    extra width, half the difference of the walls; the step one to one.
    """
    reading = joint.reading_of(aspect, piece)
    if reading is None:
        return None
    return piece.settings.of(aspect) + (joint.window(aspect).middle - reading[0]) / joint.slope(
        aspect, piece.settings
    )


def _refitted(piece: Piece, last: Piece) -> bool:
    """Tell whether the bit was moved since: another fit seats otherwise."""
    return abs(piece.settings["bit_height"] - last.settings["bit_height"]) > SAME


def _between(joint: Joint, aspect: Aspect, told: Sequence[Piece]) -> float | None:
    """Where neighbouring marks were said to be off either way: midway for the centre, the slighter
    one for the seat.
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
            and not (aspect == "seat" and _refitted(other, last))
        ):
            if aspect == "centre":
                return (other.settings.of(aspect) + now) / 2
            return (other if degree(other, aspect) < degree(last, aspect) else last).settings.of(
                aspect
            )
    return None
