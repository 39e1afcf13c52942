"""The real boards of a set-up: stops, rabbet, and what to do before each part."""

from __future__ import annotations

from dataclasses import dataclass

from ..domain import Remark, Settings, SetUp
from .layout import Layout
from .stops import Stops
from .work import RabbetPass

Section = tuple[str, tuple[str, ...]]  # a heading and what to do under it


@dataclass(frozen=True)
class Job:
    """The real boards of a set-up. settings: true mm, for the real boards; sections: what to do before each part."""

    setup: SetUp
    status: str
    settings: Settings
    stops: Stops
    rabbet: tuple[RabbetPass, ...]
    sections: tuple[Section, ...]
    notices: tuple[Remark, ...]
    cautions: tuple[Remark, ...]

    @property
    def layout(self) -> Layout:
        """The layout that the stops are for."""
        return self.stops.layout
