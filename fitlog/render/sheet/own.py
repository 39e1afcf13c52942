"""The part of a sheet that is a family's own: found by the family's folder, as its module here of
that name; of one without, its drawings.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol, cast

from ...document import Document
from ...domain import Plan
from ...families.boards import Job
from ...language.units import Ruler
from ..own import own_room
from . import drawn
from .paper import Block, Measure, Page


class Own(Protocol):
    """The functions of a family's module `sheet`. Lengths mm."""

    def how_measured(self, job: Job, ruler: Ruler) -> list[str]:
        """Return how each setting is measured, in the order of the settings."""

    def facts(self, job: Job, ruler: Ruler) -> list[tuple[str, str]]:
        """Return the particulars between the bit and the date, as label and value."""

    def letters(self, job: Job, ruler: Ruler) -> list[tuple[str, str, str]]:
        """Return the letters of the drawing with what each is and its size; none where it does not
        lie beside the particulars.
        """

    def drawing(self, job: Job, width: float, height: float, measure: Measure) -> Block:
        """Return the joint, drawn as large as there is room."""

    def labelled(self, plan: Plan, ruler: Ruler) -> list[str]:
        """Return what of a plan belongs on the sample's label beside bit and wood."""

    def hands(self, width: float, measure: Measure) -> Block:
        """Return which edge of a board goes to the fence, as a picture."""

    def minded(self, job: Job, ruler: Ruler) -> list[str]:
        """Return what is to be minded at each step of the real boards, as the stops' screen says
        it.
        """

    def scheduled(self, job: Job) -> tuple[Sequence[str], Sequence[Sequence[str]]]:
        """Return the columns and the rows of the order in which the boards are cut."""

    def blocks(
        self, job: Job, width: float, height: float, ruler: Ruler, measure: Measure
    ) -> list[Block]:
        """Return what else of the boards is drawn or told, on pages of this height."""

    def marks(self, job: Job, pages: tuple[Page, ...]) -> Document:
        """Return where the marks that must measure true are, as JSON."""


def own_of(plan: Plan) -> Own:
    """Return what a family's sheet has of its own."""
    return cast(Own, own_room(plan.joint, "sheet") or drawn)
