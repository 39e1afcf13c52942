"""What of a family is typed in: the figures of its plans, its settings and its readings, each with
what it can be; and how people speak of it.

A family's folder has the first as a module `typed`, and may have the other as a module `speech`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from importlib import import_module
from typing import Protocol, cast

from ..domain import Bit, Plan, Stock
from ..language.limits import Limit
from ..language.speech import Speech
from . import folder_of, part_of
from .names import family_of


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure that a plan is given by name. field: of the plan."""

    field: str


@dataclass(frozen=True, slots=True)
class Size(Figure):
    """A length. limit: the lengths believed with a bit; usual: what it is where nobody said, from
    the bit and the two stocks, mm.
    """

    limit: Callable[[Bit], Limit]
    usual: Callable[[Bit, Stock, Stock], float] | None = None


@dataclass(frozen=True, slots=True)
class Count(Figure):
    """A number of things. check: gives it back, or refuses it."""

    check: Callable[[int], int | None]


@dataclass(frozen=True, slots=True)
class YesNo(Figure):
    """Something that is so or not."""


@dataclass(frozen=True, slots=True)
class OneOf(Figure):
    """One of some words."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class First(Figure):
    """No figure of the plan, but the first piece's setting of this name, on the person's scale."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A kind of reading as it is typed. called: what each of its numbers is called, the one that
    counts first; most: of each, mm; told: both of them, where it is two widths, in one text.
    """

    called: tuple[str, ...]
    most: tuple[float, ...]
    told: str = ""


class Typed(Protocol):
    """A family's module `typed`."""

    FIGURES: Mapping[
        str, Figure
    ]  # by the names that are typed, in the order in which they are read
    READINGS: Mapping[str, Taken]  # by kind

    def setting(self, bit: Bit, name: str) -> Limit:
        """Return the values of a setting that are believed, as true lengths."""

    def least_thickness(self, plan: Plan) -> float:
        """Return what a test piece must at least be thick, mm."""


def typed_of(joint: str) -> Typed:
    """Return what of a joint is typed in; raise `Refused` for one this version does not know."""
    return cast(Typed, import_module(f"{folder_of(joint)}.typed"))


def speech_of(joint: str) -> Speech:
    """Return how people speak of a joint; raise `Refused` for one this version does not know."""
    own = part_of(joint, "speech")
    return Speech(family_of(joint)) if own is None else cast(Speech, own.SPEECH)


def usual(joint: str, bit: Bit, stock: Stock, pin_stock: Stock) -> dict[str, float]:
    """Return the lengths of a plan where nobody said otherwise, by its fields, mm."""
    sizes = {
        "board_width": stock.width,
        "tail_thickness": stock.thickness,
        "pin_thickness": pin_stock.thickness,
    }
    for figure in typed_of(joint).FIGURES.values():
        if isinstance(figure, Size) and figure.usual is not None:
            sizes[figure.field] = figure.usual(bit, stock, pin_stock)
    return sizes
