"""The range of a misfit that counts as good. Lengths are millimetres."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..errors import Mm, Refused


@dataclass(frozen=True, slots=True)
class Window:
    """The range of a misfit that counts as good, mm; one of its ends may be infinite."""

    low: float
    high: float

    def __post_init__(self) -> None:
        if not (self.low < self.high and any(map(math.isfinite, (self.low, self.high)))):
            raise Refused(
                "bad-window",
                "a window from {low:g} to {high} is empty",
                "give low, then high",
                low=self.low,
                high=Mm(self.high),
            )

    @property
    def one_sided(self) -> bool:
        """Whether only one of its ends is finite."""
        return not math.isfinite(self.half)

    @property
    def middle(self) -> float:
        """Centre of the window, mm; of a one-sided one, which has none, its end."""
        if self.one_sided:
            return self.low if math.isfinite(self.low) else self.high
        return (self.low + self.high) / 2

    @property
    def half(self) -> float:
        """Half the window's width, mm."""
        return (self.high - self.low) / 2

    def holds(self, value: float) -> bool:
        """Tell whether `value` lies inside, the edges included."""
        return self.low - 1e-9 <= value <= self.high + 1e-9
