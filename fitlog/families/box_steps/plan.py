"""The plan of a box joint by steps of the fence."""

from __future__ import annotations

from dataclasses import dataclass

from ...domain import Family
from ...errors import Mm, Refused
from ..fingers.plan import FingerPlan
from .names import BOX_STEPS

LEAST_FINGER = 3.0  # mm


@dataclass(frozen=True, slots=True, kw_only=True)
class StepsPlan(FingerPlan):
    """A plan with the steps of the fence, mm.

    pitch: from a finger to the next.  by_eye: the fence was set by eye (not with a caliper).
    spaced: the pitch is stepped by a spacer or block.
    """

    pitch: float
    by_eye: bool = False
    spaced: bool = False
    family: Family = BOX_STEPS

    def __post_init__(self) -> None:
        FingerPlan.__post_init__(self)
        if self.pitch < self.bit.diameter + LEAST_FINGER:
            raise Refused(
                "absurd-size",
                "a pitch of {pitch} leaves no finger beside a {diameter} bit",
                "give at least {least}, or leave it out for two slots",
                pitch=Mm(self.pitch),
                diameter=Mm(self.bit.diameter),
                least=Mm(self.bit.diameter + LEAST_FINGER),
            )

    @property
    def spacing(self) -> float:
        return self.pitch

    def work(self) -> tuple[object, ...]:
        return (*FingerPlan.work(self), round(self.pitch, 6))
