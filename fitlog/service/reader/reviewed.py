"""What past set-ups are sought by, as it is typed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from .. import limits
from ..reviewing import Sought
from ..session import Session


def sought(
    session: Session,
    bit: str | None,
    stock: str | None,
    words: Sequence[str],
    width: str | None,
    pitch: str | None,
    year: int | None,
) -> Sought:
    """Return what is sought, lengths read in the person's units. Raises NotUnderstood, Refused for
    a length that no board or pitch has.
    """
    said = tuple(word for text in words for word in text.split())
    found = Sought(bit, stock, said, year=year)
    if width is None and pitch is None:  # no unit is asked for
        return found
    reader = session.reader
    across, apart = reader.maybe(width, limits.BOARD_WIDTH), reader.maybe(pitch, limits.ANY_PITCH)
    return replace(found, width=across, pitch=apart)
