"""The part of a sheet that is a family's own: found by the family's folder, as its module here of
that name, or left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module
from importlib.util import find_spec
from typing import Protocol, cast

from ...document import Document
from ...domain import Plan, Remark, Settings, SetUp
from ...domain.standing import Standing
from ...families import folder_of
from ...language.units import Ruler
from .paper import Block, Measure, Page


class Job(Protocol):
    """The real boards of a set-up, as far as every family has them. settings: true mm."""

    @property
    def setup(self) -> SetUp:
        """The set-up that they are made by."""

    @property
    def settings(self) -> Settings:
        """The settings for the real boards."""

    @property
    def status(self) -> str:
        """Its status."""

    @property
    def standing(self) -> Standing:
        """How the set-up stands."""

    @property
    def notices(self) -> Sequence[Remark]:
        """What is to be minded."""


class Own(Protocol):
    """The functions of a family's module `sheet`. Lengths mm."""

    def how_measured(self, job: Job, ruler: Ruler) -> list[str]:
        """Return how each setting is measured, in the order of the settings."""

    def facts(self, job: Job, ruler: Ruler) -> list[tuple[str, str]]:
        """Return the particulars between the bit and the date, as label and value."""

    def letters(self, job: Job, ruler: Ruler) -> list[tuple[str, str, str]]:
        """Return the letters of the drawing with what each is and its size."""

    def drawing(self, job: Job, width: float, height: float, measure: Measure) -> Block:
        """Return the joint, drawn as large as there is room."""

    def blocks(
        self, job: Job, width: float, height: float, ruler: Ruler, measure: Measure
    ) -> list[Block]:
        """Return what else of the boards is drawn or told, on pages of this height."""

    def again(self, job: Job, ruler: Ruler) -> list[str]:
        """Return how the joint is made again, line by line."""

    def marks(self, job: Job, pages: tuple[Page, ...]) -> Document:
        """Return where the marks that must measure true are, as JSON."""


def own_of(plan: Plan) -> Own | None:
    """Return what a family's sheet has of its own; None: a sheet without a drawing."""
    room = f"{__package__.rpartition('.')[0]}.{folder_of(plan.joint).rpartition('.')[2]}"
    if find_spec(room) is None:
        return None
    return cast(Own, import_module(f"{room}.sheet"))
