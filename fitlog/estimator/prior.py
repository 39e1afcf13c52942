"""Laws of an offset before it was looked at: a normal, or one whose scale is itself uncertain. All
lengths mm.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from .likelihood import Array


class Normal(NamedTuple):
    """A normal law; sd = inf is a flat prior."""

    mean: float
    sd: float

    def log(self, offset: Array) -> Array:
        """Log density at each offset; 0 everywhere for a flat prior."""
        if math.isinf(self.sd):
            return np.zeros_like(offset)
        return _log_normal((offset - self.mean) / self.sd, self.sd)


class Scaled(NamedTuple):
    """A scale mixture of normals about one mean: the sd of the causes may be a multiple of what is
    assumed.

    parts: (chance, sd) of each normal; chances add up to 1.
    """

    mean: float
    parts: tuple[tuple[float, float], ...]

    @property
    def sd(self) -> float:
        """Standard deviation of the mixture, mm."""
        return math.sqrt(sum(chance * sd**2 for chance, sd in self.parts))

    def log(self, offset: Array) -> Array:
        """Log density at each offset."""
        rows = [
            math.log(chance) + _log_normal((offset - self.mean) / sd, sd)
            for chance, sd in self.parts
        ]
        out: Array = np.logaddexp.reduce(rows, axis=0)
        return out


Prior = Normal | Scaled


def scaled(law: Normal, doubt: float) -> Prior:
    """Return a law whose sd is uncertain by `doubt`, the sd of its log: three points of Gauss and
    Hermite.

    They match five moments of the log-normal: multiples exp(-d sqrt(3)), 1, exp(d sqrt(3)) with
    chances 1/6, 2/3, 1/6.
    """
    if doubt <= 0 or law.sd <= 0 or math.isinf(law.sd):
        return law
    times = math.exp(doubt * math.sqrt(3))
    return Scaled(law.mean, ((1 / 6, law.sd / times), (2 / 3, law.sd), (1 / 6, law.sd * times)))


def _log_normal(z: Array, sd: float) -> Array:
    out: Array = -0.5 * z**2 - math.log(sd * math.sqrt(2 * math.pi))
    return out
