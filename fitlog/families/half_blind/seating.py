"""What the seat shows of the fit: how far the tails' corners go into a socket's round end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ...estimator.likelihood import Array

_LEAST = 0.01  # mm: a joint that goes together has some clearance, whoever calls a tighter one good


@dataclass(frozen=True, slots=True)
class RoundEnd:
    """A round end of this radius, mm, takes sqrt(radius * c) of the step at a clearance c above 0,
    about 4 mm a mm at c = 0.07; below, the tails don't go in.
    """

    radius: float | Array

    def taken(self, driver: Array) -> Array:
        """Return the depth that each clearance takes, mm."""
        out: Array = np.sqrt(self.radius * np.maximum(0.0, driver))
        return out

    def driver(self, taken: Array) -> Array:
        """Return the clearance that takes each depth, mm."""
        out: Array = taken**2 / self.radius
        return out

    def weight(self, taken: Array, step: float) -> Array:
        """Return the clearance that each of these depths, `step` apart, stands for, mm; at 0 by the
        first Euler-Maclaurin term.
        """
        out: Array = np.where(taken > 0, step * 2 * taken, step**2 / 6) / self.radius
        return out

    def kinks(self) -> tuple[float, ...]:
        """Return where it begins, mm."""
        return (0.0,)

    def steepness(self, driver: float) -> float:
        """Return d depth / d clearance at a clearance, taken for at least 0.01 mm."""
        return float(np.sqrt(self.radius / max(driver, _LEAST))) / 2

    def stacked(self, several: Sequence[RoundEnd]) -> RoundEnd:
        """Return several round ends as one, a row each."""
        return RoundEnd(np.array([end.radius for end in several])[:, None])
