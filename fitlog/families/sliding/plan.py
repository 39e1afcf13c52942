"""The plan of a sliding dovetail: the named figures that stay fixed from `start` to `finish`.

The first board is the shelf, whose end has the tongue; its width is the slide's length. The second
is the panel with the sockets.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from ...domain import Adjuster, Aspect, Family, Figures, Machine, Plan
from ...domain.adjusters import PLAIN_STEP, adjuster
from ...domain.checks import optional_positive, positive
from ...domain.machines import NOTHING_KNOWN
from ...errors import Refused
from .names import EXPOSURE, LONG, LONGEST, ONE_FACE, SHOULDER, SLIDING

SHORT_SLIDE, LONG_SLIDE = 150.0, 350.0  # mm: up to here the words and the window of each set
MOVED = 0.02  # mm, sd of a move of the fence by dial or feeler; common practice, no source
LEAST_TRIED = 100.0  # mm of slide: over less a word is that of a short one


@dataclass(frozen=True, slots=True, kw_only=True)
class SlidingPlan(Plan):
    """A plan with the figures of the sliding dovetail, mm.

    socket_height: of the sockets as planned, 0 until it is worked out.  one_face: only one face of
    the shelf is cut, the other stays straight.  exposure_by: how the bit's exposure is measured.
    to_axis: by a scale to the bit's axis.  two_machines: the sockets are cut on another machine
    than the tongues.  stopped: how far before the shelf's front edge the visible end of a socket
    is.  clear_width: between the panels.
    """

    socket_height: float = 0.0
    one_face: bool = False
    exposure_by: Literal["shaving", "rod", "eye"] = "rod"
    to_axis: bool = False
    two_machines: bool = False
    stopped: float | None = None
    clear_width: float | None = None
    family: Family = SLIDING

    def __post_init__(self) -> None:
        Plan.__post_init__(self)
        if self.one_face:
            object.__setattr__(self, "family", ONE_FACE)
        if self.bit.angle == 0:
            raise Refused(
                "bad-angle",
                "{bit} is a straight bit, a sliding dovetail wants a dovetail bit",
                "name another with --bit, or correct its angle with fitlog bit edit",
                "take another, or correct its angle at the shop's computer: fitlog bit edit",
                bit=self.bit.name,
            )
        if self.socket_height:
            positive("the socket height", self.socket_height)
        optional_positive("the stop before the front edge", self.stopped)
        optional_positive("the clear width", self.clear_width)

    @property
    def faces(self) -> int:
        """How many faces of the shelf are cut: what a move of the exposure counts."""
        return 1 if self.one_face else 2

    @property
    def slide(self) -> float:
        """How much of the shelf's width slides, mm."""
        return self.board_width - (self.stopped or 0.0)

    @property
    def length_set(self) -> str:
        """The set of windows of the whole slide."""
        return "" if self.slide <= SHORT_SLIDE else LONG if self.slide <= LONG_SLIDE else LONGEST

    def boards(self) -> Figures:
        """The sockets' height is one of the figures: no cut moves it."""
        return {**Plan.boards(self), "socket": self.socket_height}

    @property
    def word_set(self) -> str:
        """A scrap too narrow to rub like the shelf is called like a short slide."""
        tried = self.figures()["width"]
        return self.length_set if tried >= min(LEAST_TRIED, self.slide) else ""

    def adjuster(self, aspect: Aspect, now: float | None = None) -> Adjuster:
        """What is packed under the shelf's end shortens the tongue; the exposure is set by the
        fence, from a zero of its own, where nothing else is known of it.
        """
        machine = self.machine
        if aspect == SHOULDER:
            return self._packed()
        if machine is not None and machine.part(EXPOSURE) == NOTHING_KNOWN:
            own = replace(machine.part("fence"), zero=0.0)
            machine = Machine(machine.name, {EXPOSURE: own})
        can = adjuster(machine, EXPOSURE, now, positive=True)
        return replace(can, sd=math.hypot(can.sd, MOVED))

    def _packed(self) -> Adjuster:
        pack = self.machine.part("tongue").pack if self.machine else None
        if pack is None:
            return Adjuster("free", PLAIN_STEP)
        stacks = tuple(
            (round(self.socket_height - height, 6), names)
            for height, names in reversed(pack.stacks())
            if height < self.socket_height
        )
        step = max((high[0] - low[0] for low, high in pairwise(stacks)), default=PLAIN_STEP)
        return Adjuster("set", step, self.socket_height, stacks=stacks)


def sliding(plan: Plan) -> SlidingPlan:
    """Return a plan as that of a sliding dovetail; raise `Refused` for another joint's."""
    if not isinstance(plan, SlidingPlan):
        raise Refused(
            "other-joint",
            "this is for the {meant}, not for the {joint}",
            "name a set-up of that joint with --setup N",
            meant=SLIDING.called,
            joint=plan.family.called,
        )
    return plan
