"""What past set-ups are sought by, as it is typed."""

from __future__ import annotations

from collections.abc import Sequence

from .. import limits
from ..reviewing import Sought
from .lengths import Reader


def sought(
    reader: Reader,
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
    across = reader.maybe(width, limits.BOARD_WIDTH)
    return Sought(bit, stock, said, across, reader.maybe(pitch, limits.ANY_PITCH), year)
