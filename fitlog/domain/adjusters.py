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

from .said import Aspect
from .shop import Machine

PLAIN_STEP = 0.01  # a caliper's last digit: where no step is known
TURN_PARTS = 32  # the finest part of a turn that a hand sets by eye
BETWEEN_PARTS = 4  # between two marks a quarter is set by eye; common practice, no source
BETWEEN_SD = (
    0.125  # of a mark's distance: how far off such a setting lies; common practice, no source
)

PART_OF: dict[Aspect, str] = {"fit": "height", "centre": "fence", "seat": "depth"}
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


def adjuster(machine: Machine | None, aspect: Aspect, now: float | None = None) -> Adjuster:
    """Return the adjuster of an aspect's setting. now: where it stands, which a lift moved by turns
    starts from, mm.
    """
    if machine is None:
        return Adjuster("free", PLAIN_STEP)
    part = PART_OF[aspect]
    step = {
        "height": machine.height_step,
        "fence": machine.fence_step,
        "depth": machine.depth_step,
    }[part]
    origin = -{"height": machine.height_zero, "fence": machine.fence_zero, "depth": 0.0}[part]
    if step is not None and part in machine.between:
        return Adjuster("between", step / BETWEEN_PARTS, origin, BETWEEN_SD * step)
    if step is not None:
        return Adjuster("steps", step, origin)
    if part == "height" and machine.height_turn is not None and now is not None:
        return Adjuster("turns", machine.height_turn / TURN_PARTS, now)
    return Adjuster("free", PLAIN_STEP, origin)
