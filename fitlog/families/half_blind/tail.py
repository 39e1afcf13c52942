"""The play of the last tail: the one that the fence's zero falls on, as a value."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LastTail:
    """The play of the tail at the far edge: mean and sd, mm, and the chance that it lies in the
    fit's window.

    The slot there is cut after a turn, so that its play is the fit's own plus twice what the centre
    is still off. rounded: what rounding the stops adds to it, mm, part of the mean.  whole: the
    chance by the whole laws of both; None: both taken for normal.  core: sds of the two laws
    without their tails, from where 90 % of each lies; None: their own.
    """

    fit: tuple[float, float]
    centre_sd: float
    window: tuple[float, float]
    rounded: float = 0.0
    whole: float | None = None
    core: tuple[float, float] | None = None

    @property
    def mean(self) -> float:
        """Its mean, mm: the zero allows for the centre's own."""
        return self.fit[0] + self.rounded

    @property
    def sd(self) -> float:
        """Its standard deviation, mm."""
        return math.hypot(self.fit[1], 2 * self.centre_sd)

    @property
    def chance(self) -> float:
        """The chance that it lies in the window."""
        if self.whole is not None:
            return self.whole
        low, high = ((edge - self.mean) / max(self.sd, 1e-9) / math.sqrt(2) for edge in self.window)
        return (math.erf(high) - math.erf(low)) / 2

    def with_(self, centre_sd: float, fit_sd: float = math.inf) -> LastTail:
        """Return it after one more reading of the centre, and one of the fit, with these standard
        uncertainties, mm.
        """
        fit, centre = self.core or (self.fit[1], self.centre_sd)
        known = (self.fit[0], _joined(fit, fit_sd))
        return LastTail(known, _joined(centre, centre_sd), self.window, self.rounded)


def _joined(known: float, read: float) -> float:
    """Standard deviation of what is known and read together, each by itself."""
    return 1 / math.sqrt(1 / max(known, 1e-9) ** 2 + 1 / read**2)
