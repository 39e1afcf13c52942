"""The plan of a box joint on a sled with a key."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ...domain import Family
from ...domain.checks import positive
from ...errors import Mm, Refused
from ..fingers.plan import FingerPlan
from .names import BOX


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxPlan(FingerPlan):
    """A plan with the key of the sled, mm.

    pressed: which way the board is pushed each time.  gap_from: from what to what the key gap is
    measured: to the cutter's near tooth, to its axis, to its far side.  gap_by: with what.
    """

    key_width: float
    pressed: Literal["key", "cutter"] = "key"
    gap_from: Literal["tooth", "axis", "far"] = "tooth"
    gap_by: Literal["caliper", "gauge", "rule"] = "caliper"
    family: Family = BOX

    def __post_init__(self) -> None:
        FingerPlan.__post_init__(self)
        positive("the key", self.key_width)
        if self.key_width > self.bit.diameter + 0.5:
            raise Refused(
                "absurd-size",
                "a key of {key} does not go into a slot {diameter} wide",
                "give the key's width with --given key=L, or another cutter with --bit",
                "give the key's width, or take another cutter",
                key=Mm(self.key_width),
                diameter=Mm(self.bit.diameter),
            )
