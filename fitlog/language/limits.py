"""Between which limits a size is believed, and whose limit that is."""

from __future__ import annotations

from typing import NamedTuple

from .units import Length, check_range


class Limit(NamedTuple):
    """A size's name in messages, its limits in mm, and what the upper one is in words."""

    what: str
    low: float
    high: float
    why: str

    def moved(self, by: float) -> Limit:
        """Return the limit as a scale reads it that shows `by` mm more than the truth."""
        return Limit(self.what, self.low + by, self.high + by, self.why)

    def check(self, length: Length) -> float:
        """Return a length that lies inside, mm; raises Refused (absurd-size, bad-size)."""
        return check_range(length, self.low, self.high, self.what, self.why)
