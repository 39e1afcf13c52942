"""What a machine can be set to: free, in steps or marks, between marks by eye, or by parts of a
turn. Lengths are mm.

The one place that knows: the choice of settings, what is settled, layouts, stops and the simulation
all ask here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from .shop import Machine

PLAIN_STEP = 0.01  # a caliper's last digit: where no step is known
TURN_PARTS = 32  # the finest part of a turn that a hand sets by eye
BETWEEN_PARTS = 4  # between two marks a quarter is set by eye; common practice, no source
BETWEEN_SD = (
    0.125  # of a mark's distance: how far off such a setting lies; common practice, no source
)

Kind = Literal["free", "steps", "between", "turns"]


@dataclass(frozen=True, slots=True)
class Adjuster:
    """One adjuster of a machine. step: between neighbouring values that it can be set to; origin: a
    true value on that grid; sd: how far a setting lies off what was dialled (its repeat from piece
    to piece not counted).
    """

    kind: Kind
    step: float
    origin: float = 0.0
    sd: float = 0.0

    @property
    def coarse(self) -> bool:
        """Whether its step is the machine's own and not only a caliper's last digit."""
        return self.kind != "free"

    def nearest(self, value: float) -> float:
        """Return the value it can be set to that is nearest, mm."""
        return self._at(round((value - self.origin) / self.step))

    def below(self, value: float) -> float:
        """Return the highest value it can be set to that is not above `value`, mm."""
        return self._at(math.floor((value - self.origin) / self.step + 1e-6))

    def above(self, value: float) -> float:
        """Return the lowest value it can be set to that is not below `value`, mm."""
        return self._at(math.ceil((value - self.origin) / self.step - 1e-6))

    def within(self, low: float, high: float) -> Iterator[float]:
        """Yield every value it can be set to from `low` to `high`, mm."""
        first, last = (
            math.ceil((low - self.origin) / self.step - 1e-6),
            math.floor((high - self.origin) / self.step + 1e-6),
        )
        return (self._at(k) for k in range(first, last + 1))

    def _at(self, place: int) -> float:
        return round(self.origin + place * self.step, 6)


def adjuster(machine: Machine | None, part: str, now: float | None = None) -> Adjuster:
    """Return what a part of the machine can be set to. now: where it stands, which a lift moved by
    turns starts from, mm.
    """
    if machine is None:
        return Adjuster("free", PLAIN_STEP)
    step, turn, origin = machine.step(part), machine.turn(part), -machine.zero(part)
    if step is not None and part in machine.between:
        return Adjuster("between", step / BETWEEN_PARTS, origin, BETWEEN_SD * step)
    if step is not None:
        return Adjuster("steps", step, origin)
    if turn is not None and now is not None:
        return Adjuster("turns", turn / TURN_PARTS, now)
    return Adjuster("free", PLAIN_STEP, origin)
