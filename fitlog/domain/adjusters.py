"""What a machine can be set to: free, in steps or marks, between marks by eye, by parts of a turn,
or by stacks of a few thicknesses. Lengths are mm.

The one place that knows: the choice of settings, what is settled, layouts, stops and the simulation
all ask here.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from ..errors import Refused
from .machines import Machine
from .packs import Pack

PLAIN_STEP = 0.01  # a caliper's last digit: where no step is known
BETWEEN_PARTS = 4  # between two marks a quarter is set by eye; common practice, no source
BETWEEN_SD = (
    0.125  # of a mark's distance: how far off such a setting lies; common practice, no source
)

Kind = Literal["free", "steps", "between", "turns", "set"]
SLACK = 1e-6  # mm: what binary fractions make of one and the same value


@dataclass(frozen=True, slots=True)
class Adjuster:
    """One adjuster of a machine. step: between neighbouring values that it can be set to; origin: a
    true value on that grid; sd: how far a setting lies off what was dialled (its repeat from piece
    to piece not counted). stacks: of a set, its values in order, each with the names of what is
    stacked for it; below the lowest and above the highest there is no other.
    """

    kind: Kind
    step: float
    origin: float = 0.0
    sd: float = 0.0
    stacks: tuple[tuple[float, tuple[str, ...]], ...] = ()

    @property
    def coarse(self) -> bool:
        """Whether its step is the machine's own and not only a caliper's last digit."""
        return self.kind != "free"

    def nearest(self, value: float) -> float:
        """Return the value it can be set to that is nearest, mm."""
        if self.stacks:
            return min(self.below(value), self.above(value), key=lambda v: abs(v - value))
        return self._at(round((value - self.origin) / self.step))

    def below(self, value: float) -> float:
        """Return the highest value it can be set to that is not above `value`, mm."""
        if self.stacks:
            return self._stack(bisect_right(self.stacks, value + SLACK, key=_value) - 1)
        return self._at(math.floor((value - self.origin) / self.step + 1e-6))

    def above(self, value: float) -> float:
        """Return the lowest value it can be set to that is not below `value`, mm."""
        if self.stacks:
            return self._stack(bisect_left(self.stacks, value - SLACK, key=_value))
        return self._at(math.ceil((value - self.origin) / self.step - 1e-6))

    def within(self, low: float, high: float) -> Iterator[float]:
        """Yield every value it can be set to from `low` to `high`, mm."""
        if self.stacks:
            return (v for v, _ in self.stacks if low - SLACK <= v <= high + SLACK)
        first, last = (
            math.ceil((low - self.origin) / self.step - 1e-6),
            math.floor((high - self.origin) / self.step + 1e-6),
        )
        return (self._at(k) for k in range(first, last + 1))

    def made_of(self, value: float) -> tuple[str, ...]:
        """Return the names of what is stacked for a value that it can be set to; none where nothing
        is.
        """
        return next((names for v, names in self.stacks if abs(v - value) <= SLACK), ())

    def _stack(self, place: int) -> float:
        return self.stacks[min(max(place, 0), len(self.stacks) - 1)][0]

    def _at(self, place: int) -> float:
        return round(self.origin + place * self.step, 6)


def _value(stack: tuple[float, tuple[str, ...]]) -> float:
    return stack[0]


@lru_cache(maxsize=64)
def set_adjuster(
    pack: Pack, bare: float = 0.0, now: float | None = None, *, positive: bool = False
) -> Adjuster:
    """Return the adjuster of a part that is set by stacks. bare: where it stands with nothing
    stacked; now: where it stands, about which its step is taken (else the widest there is), mm;
    positive: zero and below are no settings. Raises Refused where none is left.
    """
    stacks = tuple(
        (value, names)
        for height, names in pack.stacks()
        if (value := round(bare + height, 6)) > 0 or not positive
    )
    if not stacks:
        raise Refused(
            "bad-set",
            "nothing that can be stacked makes a setting above zero",
            "name other thicknesses, or another zero: fitlog machine edit NAME --part",
            "name other thicknesses, or another zero, at the shop's computer: fitlog "
            "machine edit NAME --part",
        )
    values = [value for value, _ in stacks]
    gaps = {pair: pair[1] - pair[0] for pair in pairwise(values)}
    near = [gap for (low, high), gap in gaps.items() if now is not None and low <= now <= high]
    step = max(near or gaps.values(), default=PLAIN_STEP)
    return Adjuster("set", step, bare, stacks=stacks)


def adjuster(
    machine: Machine | None, part: str, now: float | None = None, *, positive: bool = False
) -> Adjuster:
    """Return what a part of the machine can be set to. now: where it stands, which a lift moved by
    turns starts from, mm; positive: zero and below are no settings, so that no stack makes them.
    """
    if machine is None:
        return Adjuster("free", PLAIN_STEP)
    known = machine.part(part)
    step, origin = known.step, -known.zero
    if known.pack is not None:
        return set_adjuster(known.pack, origin, now, positive=positive)
    if step is not None and known.between:
        return Adjuster("between", step / BETWEEN_PARTS, origin, BETWEEN_SD * step)
    if step is not None:
        return Adjuster("steps", step, origin)
    if known.turn is not None and now is not None:
        return Adjuster("turns", known.turn / known.turn_parts, now)
    return Adjuster("free", PLAIN_STEP, origin)
