"""The size of a label, as typed."""

from __future__ import annotations

from ...language.limits import Limit
from .lengths import Reader

_WIDE = Limit("the label's width", 15, 300, "any label for a sample")
_HIGH = Limit("the label's height", 8, 300, "any label for a sample")


def label_size(reader: Reader, typed: tuple[str, str]) -> tuple[float, float]:
    """Return a label's width and height, mm; raises NotUnderstood, or Refused (absurd-size)."""
    width, height = typed
    return reader.size(width, _WIDE), reader.size(height, _HIGH)
