"""What a family draws of a set-up: its module `drawing`, by the family's folder. Lengths mm."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol, cast

from ..domain import Plan
from ..domain.drawing import Dimension, Drawing, Point, Side
from . import part_of
from .boards import Job
from .tables import Table


class Drawn(Protocol):
    """A family's module `drawing`."""

    def drawings(self, job: Job) -> tuple[Drawing, ...]:
        """Return the cuts with their settings, the joint, the layout along a board where there is
        one.
        """

    def labelled(self, plan: Plan) -> Mapping[str, float]:
        """Return the lengths that belong on a sample's label, mm by what they are in English."""


class Stopped(Drawn, Protocol):
    """Such a module of a family whose cuts have places along a board."""

    def in_order(self, job: Job) -> Table:
        """Return where the fence stands for each of them, in order."""


def drawings_of(job: Job) -> tuple[Drawing, ...]:
    """Return what is drawn of a job; nothing where its family draws nothing."""
    own = part_of(job.setup.plan.joint, "drawing")
    return () if own is None else cast(Drawn, own).drawings(job)


def labelled_of(plan: Plan) -> Mapping[str, float]:
    """Return the lengths that a sample's label has of a plan; none where its family draws none."""
    own = part_of(plan.joint, "drawing")
    return {} if own is None else cast(Drawn, own).labelled(plan)


def in_order(job: Job) -> Table | None:
    """Return where the fence stands for each cut along a board, in order; None without any."""
    own = part_of(job.setup.plan.joint, "drawing")
    if own is None or not hasattr(own, "in_order"):
        return None
    found = cast(Stopped, own).in_order(job)
    return found if found.rows else None


def setting(job: Job, name: str, start: Point, end: Point, side: Side, row: int = 0) -> Dimension:
    """Return a setting as a dimension, with what the machine's own scale reads for it."""
    dial = job.settings.on_scale(job.setup.plan.machine)[name]
    reading = None if abs(dial - job.settings[name]) < 5e-4 else dial
    return Dimension(job.settings.family.setting(name).noun, start, end, side, row, name, reading)
