"""The real boards of a set-up: stops, rabbet, and what to do before each part."""

from __future__ import annotations

from dataclasses import dataclass, field

from ....advice.history import History
from ....domain import Remark
from ... import boards
from ..tail import LastTail
from .corners import Depth
from .groove import Groove
from .layout import Layout
from .schedule import NO_STEPS, Schedule
from .stops import Stops
from .work import RabbetPass

Section = tuple[str, tuple[Remark, ...]]  # a heading and what to do under it


@dataclass(frozen=True)
class Job(boards.Job):
    """The real boards of a set-up. sections: what to do before each part.

    zero_sd: how unsure the stops' zero is, mm; last_tail: the play of the tail at the far edge;
    both None where the centre (or the fit) is not in play.  depths: of the sockets, by the
    thickness of the tail boards.  schedule: the order of the boards, without ends where none were
    named.  anew: what boards of other sizes than the set-up's ask for first.  groove: the bottom's.
    past: what was learnt before it.
    """

    stops: Stops
    rabbet: tuple[RabbetPass, ...]
    sections: tuple[Section, ...]
    zero_sd: float | None = None
    last_tail: LastTail | None = None
    depths: tuple[Depth, ...] = ()
    schedule: Schedule = NO_STEPS
    anew: tuple[Remark, ...] = ()
    groove: Groove | None = None
    past: History = field(default_factory=History)

    @property
    def layout(self) -> Layout:
        """The layout that the stops are for."""
        return self.stops.layout
