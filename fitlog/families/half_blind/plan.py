"""The plan of a half-blind dovetail: the named figures that stay fixed from `start` to `finish`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ...domain import Family, Plan
from ...domain.checks import finite, positive, within
from ...errors import Least, Mm, Most, Refused
from .names import HALF_BLIND, MANY_TAILS

MOST_TAILS = 200


def tail_count(tails: int | None) -> int | None:
    """Return how many tails a board was said to have, if it was said; raise `Refused` for a number
    no board has.
    """
    if tails is not None and not 1 <= tails <= MOST_TAILS:
        raise Refused(
            "absurd-size",
            "no board has {tails} tails",
            "give how many tails it has, 1 to {most}",
            tails=tails,
            most=MOST_TAILS,
        )
    return tails


@dataclass(frozen=True, slots=True, kw_only=True)
class DovetailPlan(Plan):
    """A plan with the figures of the half-blind dovetail, mm.

    wanted_step: how proud the tails are wanted.  by_eye: the fence was set by eye (not with a
    caliper).  spaced: the pitch is stepped by a spacer or block.  tails: how many the real board
    has.  spacing: of its slots, where tails are wider than pins.
    """

    pitch: float
    rabbet_depth: float
    rabbet_bit: Literal["same", "straight"] = "same"
    wanted_step: float = 0.0
    by_eye: bool = False
    spaced: bool = False
    many_tails: bool = False
    tails: int | None = None
    spacing: float | None = None
    family: Family = HALF_BLIND

    def __post_init__(self) -> None:
        Plan.__post_init__(self)
        if self.bit.angle == 0:
            raise Refused(
                "bad-angle",
                "{bit} is a straight bit, a half-blind dovetail wants a dovetail bit",
                "name another with --bit, or correct its angle with fitlog bit edit",
                "take another, or correct its angle at the shop's computer: fitlog bit edit",
                bit=self.bit.name,
            )
        positive("the pitch", self.pitch)
        within("the number of tails", self.tails, 1, MOST_TAILS, "tails")
        if self.spacing is not None and not (self.pitch - 1e-6 <= self.spacing <= self.board_width):
            raise Refused(
                "absurd-value",
                "a spacing of the slots of {spacing} cannot be",
                "give {pitch} to {width}",
                spacing=Mm(self.spacing),
                pitch=Least(self.pitch),
                width=Most(self.board_width),
            )
        positive("the rabbet", self.rabbet_depth)
        finite("the wanted step", self.wanted_step)
        if abs(self.wanted_step) > 3:
            raise Refused(
                "absurd-size",
                "a joint {wanted_step} proud is not wanted",
                "give 0 to {most}",
                wanted_step=Mm(self.wanted_step),
                most=Most(3.0),
            )

    def work(self) -> tuple[object, ...]:
        return (*Plan.work(self), round(self.pitch, 6))

    @property
    def word_set(self) -> str:
        return MANY_TAILS if self.many_tails else ""


def dovetail(plan: Plan) -> DovetailPlan:
    """Return a plan as that of a half-blind dovetail; raise `Refused` for another joint's."""
    if not isinstance(plan, DovetailPlan):
        raise Refused(
            "other-joint",
            "this is for the {meant}, not for the {joint}",
            "name a set-up of that joint with --setup N",
            meant=HALF_BLIND.name,
            joint=plan.joint,
        )
    return plan
