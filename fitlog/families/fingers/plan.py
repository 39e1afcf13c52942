"""What every plan of a box joint has: how many fingers, whose ends are seen, how they are
wanted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ...domain import Figures, Plan
from ...domain.checks import finite, within
from ...errors import Mm, Most, Refused
from ..half_blind.names import MANY_TAILS

MOST_FINGERS = 200
MANY_FROM = 8  # fingers: from here on errors of the steps add up, and glue needs time


def finger_count(fingers: int | None) -> int | None:
    """Return how many fingers a board was said to have; raise `Refused` for a number none has."""
    if fingers is not None and not 1 <= fingers <= MOST_FINGERS:
        raise Refused(
            "absurd-size",
            "no board has {fingers} fingers",
            "give how many fingers the first board has, 1 to {most}",
            fingers=fingers,
            most=MOST_FINGERS,
        )
    return fingers


@dataclass(frozen=True, slots=True, kw_only=True)
class FingerPlan(Plan):
    """A plan of box joints, mm. The first board begins with a finger at its reference edge.

    fingers: of the first board; None: as many as its width gives.  shown: the board whose fingers'
    ends are seen.  wanted_step: how proud these are wanted.
    """

    fingers: int | None = None
    shown: Literal["first", "second"] = "second"
    wanted_step: float = 0.0

    def __post_init__(self) -> None:
        Plan.__post_init__(self)
        if self.bit.angle != 0:
            raise Refused(
                "bad-angle",
                "{bit} is a dovetail bit, a box joint wants a straight one",
                "name another with --bit, or correct its angle with fitlog bit edit",
                "take another, or correct its angle at the shop's computer: fitlog bit edit",
                bit=self.bit.name,
            )
        within("the number of fingers", self.fingers, 1, MOST_FINGERS, "fingers")
        finite("the wanted step", self.wanted_step)
        if abs(self.wanted_step) > 3:
            raise Refused(
                "absurd-size",
                "fingers {wanted_step} proud are not wanted",
                "give 0 to {most}",
                wanted_step=Mm(self.wanted_step),
                most=Most(3.0),
            )

    @property
    def spacing(self) -> float:
        """From a finger to the next as planned, mm: two slots of the cutter."""
        return 2 * self.bit.diameter

    @property
    def count(self) -> int:
        """How many fingers the first board has."""
        return self.fingers or max(1, round(self.board_width / self.spacing))

    @property
    def tried(self) -> int:
        """How many fingers a test piece has: four, but all of them where there are many."""
        return self.count if self.count >= MANY_FROM else min(self.count, 4)

    @property
    def word_set(self) -> str:
        return MANY_TAILS if self.count >= MANY_FROM else ""

    def boards(self) -> Figures:
        """met: the thickness of the board whose face the ends that are seen stand over."""
        met = self.pin_thickness if self.shown == "first" else self.tail_thickness
        return {**Plan.boards(self), "met": met}

    def figures(self, own: Figures | None = None) -> Figures:
        found = Plan.figures(self, own)
        thick = (own or {}).get("thickness") or self.piece_thickness  # both scraps are of one
        return {**found, "met": thick or found["met"]}
