"""The real boards of a set-up: stops, rabbet, and what to do before each part."""

from __future__ import annotations

from dataclasses import dataclass

from ....domain import Remark, Settings, SetUp
from ....domain.standing import Standing
from ..tail import LastTail
from .layout import Layout
from .stops import Stops
from .work import RabbetPass

Section = tuple[str, tuple[Remark, ...]]  # a heading and what to do under it


@dataclass(frozen=True)
class Job:
    """The real boards of a set-up. settings: true mm, for the real boards; sections: what to do
    before each part.

    standing: how the set-up stands.  zero_sd: how unsure the stops' zero is, mm; last_tail: the
    play of the tail at the far edge; both None where the centre (or the fit) is not in play.
    """

    setup: SetUp
    status: str
    settings: Settings
    stops: Stops
    rabbet: tuple[RabbetPass, ...]
    sections: tuple[Section, ...]
    notices: tuple[Remark, ...]
    cautions: tuple[Remark, ...]
    standing: Standing
    zero_sd: float | None = None
    last_tail: LastTail | None = None

    @property
    def layout(self) -> Layout:
        """The layout that the stops are for."""
        return self.stops.layout
