"""The screens and drawings that are a family's own, found by the family's folder: a folder of that
name here, whose modules are of the shapes below, or none.
"""

from __future__ import annotations

from importlib import import_module
from importlib.util import find_spec
from types import ModuleType
from typing import Protocol, cast

from ..document import Document
from ..families import folder_of
from ..families.boards import Job
from ..families.recovering import Recovered
from ..language.units import Ruler
from .screen import Screen


class Layouts(Protocol):
    """A family's module `layouts`: what its `boards.planned` gave."""

    def layouts(self, screen: Screen, told: object, ruler: Ruler) -> None:
        """Print layouts, best first."""

    def planned_document(self, told: object, ruler: Ruler) -> Document:
        """Return them as JSON."""


class Taking(Protocol):
    """A family's module `taking`: what its `boards.taking` gave."""

    def taking(self, screen: Screen, told: object, ruler: Ruler, *, every: bool) -> None:
        """Print which widths take a set-up's figures; every: with all the layouts of each."""

    def taking_document(self, told: object, ruler: Ruler) -> Document:
        """Return it as JSON."""


class Stops(Protocol):
    """A family's module `stops`: what its `boards.real_boards` gave."""

    def stops(self, screen: Screen, job: Job, ruler: Ruler, *, every: bool) -> None:
        """Print the stops in order; every: with what to do before each part, and why."""

    def as_csv(self, job: Job) -> str:
        """Return the stops as CSV (RFC 4180), one row a stop."""

    def job_document(self, job: Job, ruler: Ruler) -> Document:
        """Return the whole as JSON, lengths in mm; settings as the user's own scales read them."""


class Recovery(Protocol):
    """A family's module `recovery`: what its `recover.recovered` gave."""

    def recovery(self, screen: Screen, told: Recovered, ruler: Ruler) -> None:
        """Print what was recovered, why, what to mind, and the command to go on with."""

    def recovered_document(self, told: Recovered, ruler: Ruler) -> Document:
        """Return it as JSON: lengths mm, settings on the user's own scale as everywhere."""


def own_room(joint: str, name: str) -> ModuleType | None:
    """Return a family's module here, None where it has no folder, or none of this name in it."""
    room = f"{__package__}.{folder_of(joint).rpartition('.')[2]}"
    known = find_spec(room) is not None and find_spec(f"{room}.{name}") is not None
    return import_module(f"{room}.{name}") if known else None


def layouts_of(joint: str) -> Layouts:
    """Return how a joint's layouts are shown; only where `boards_of` gave some."""
    return cast(Layouts, own_room(joint, "layouts"))


def taking_of(joint: str) -> Taking:
    """Return how it is shown which widths take a set-up; only where `boards_of` gave some."""
    return cast(Taking, own_room(joint, "taking"))


def stops_of(joint: str) -> Stops:
    """Return how a joint's stops are shown; only where `boards_of` gave some."""
    return cast(Stops, own_room(joint, "stops"))


def recovery_of(joint: str) -> Recovery:
    """Return how a recovered setting is shown; only where `recovering` gave one."""
    return cast(Recovery, own_room(joint, "recovery"))
