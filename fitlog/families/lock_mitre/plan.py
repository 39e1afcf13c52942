"""The plan of a lock mitre: the named figures that stay fixed from `start` to `finish`.

The first board is cut flat, the second upright. The bit is kept as one of 45 deg: its diameter is
the largest it has, its cutting length the height of its profile. The profile is the same about its
middle, so that lies half that height below the bit's top, and as far inside its rim.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ...domain import Figures, Plan
from ...domain.checks import positive
from ...domain.family import Family
from ...errors import Mm, Refused
from .names import LOCK_MITRE

ANGLE = 45.0  # deg, of every bit that cuts one


@dataclass(frozen=True, slots=True, kw_only=True)
class MitrePlan(Plan):
    """A plan with the figures of the lock mitre, mm.

    middle: of the bit's profile, below its top and inside its rim, from which height and fence are
    measured.  thinnest, thickest: the boards that the bit is marked for.  set_by: how the middle is
    brought to that of the boards: by a gauge, by eye to a centre line, by kept set-up blocks.
    """

    middle: float
    thinnest: float
    thickest: float
    set_by: Literal["gauge", "eye", "blocks"] = "gauge"
    family: Family = LOCK_MITRE

    def __post_init__(self) -> None:
        Plan.__post_init__(self)
        if abs(self.bit.angle - ANGLE) > 0.5:
            raise Refused(
                "bad-angle",
                "{bit} has an angle of {angle:g} deg, a lock mitre wants a bit of 45",
                "name another with --bit, or correct its angle with fitlog bit edit",
                "take another, or correct its angle at the shop's computer: fitlog bit edit",
                bit=self.bit.name,
                angle=self.bit.angle,
            )
        positive("the middle of the profile", self.middle)
        positive("the thinnest board", self.thinnest)
        if self.thickest < self.thinnest:
            raise Refused(
                "absurd-size",
                "a bit is not marked for boards of {thinnest} to {thickest}",
                "give the smaller with --given thinnest=L, the larger with --given thickest=L",
                "give the smaller as thinnest, the larger as thickest",
                thinnest=Mm(self.thinnest),
                thickest=Mm(self.thickest),
            )

    @property
    def equal(self) -> bool:
        """Whether flat and upright are of one thickness, and so test pieces of another, too."""
        return abs(self.tail_thickness - self.pin_thickness) < 1e-6

    def boards(self) -> Figures:
        return {**Plan.boards(self), "upright": self.pin_thickness}

    def figures(self, own: Figures | None = None) -> Figures:
        found = Plan.figures(self, own)
        upright = found["thickness"] if self.equal else self.pin_thickness
        return {**found, "upright": (own or {}).get("upright", upright)}


def mitre(plan: Plan) -> MitrePlan:
    """Return a plan as that of a lock mitre; raise `Refused` for another joint's."""
    if not isinstance(plan, MitrePlan):
        raise Refused(
            "other-joint",
            "this is for the {meant}, not for the {joint}",
            "name a set-up of that joint with --setup N",
            meant=LOCK_MITRE.name,
            joint=plan.joint,
        )
    return plan
