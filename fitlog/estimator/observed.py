"""What an aspect shows of its driver's misfit where that is a broken line: the misfit itself, a
part of it, what goes beyond an end.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

import numpy as np

from .likelihood import Array


@dataclass(frozen=True, slots=True)
class PiecewiseLinear:
    """Takes a broken line of the driver's misfit: through these knots, (driver's misfit, taken), in
    order, with these slopes below the first and above the last; mm.
    """

    knots: tuple[tuple[float, float], ...]
    below: float
    above: float

    @classmethod
    def straight(cls, slope: float) -> PiecewiseLinear:
        """Return a line through zero: 1 takes the driver's misfit itself, 1 / k a k-th of it."""
        return cls(((0.0, 0.0),), slope, slope)

    @classmethod
    def beyond(cls, slope: float, end: float = 0.0) -> PiecewiseLinear:
        """Return what takes nothing up to `end` and `slope` times what goes beyond: a fit felt
        through a shoulder that stands off.
        """
        return cls(((end, 0.0),), 0.0, slope)

    def taken(self, driver: Array) -> Array:
        """Return what each driver's misfit takes, mm."""
        at, value = zip(*self.knots, strict=True)
        low, high = driver - at[0], driver - at[-1]
        within = np.interp(driver, at, value)
        out: Array = within + self.below * np.minimum(low, 0.0) + self.above * np.maximum(high, 0.0)
        return out

    def kinks(self) -> tuple[float, ...]:
        """Return the knots' misfits, mm."""
        return tuple(at for at, _ in self.knots)

    def steepness(self, driver: float) -> float:
        """Return the slope at a driver's misfit, just above it at a knot."""
        at = self.kinks()
        place = bisect_right(at, driver)
        if place in (0, len(at)):
            return self.above if place else self.below
        (x, y), (u, v) = self.knots[place - 1 : place + 1]
        return (v - y) / (u - x)
