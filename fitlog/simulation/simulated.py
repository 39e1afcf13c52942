"""What a family must give so that its joints can be simulated: the truth that is hidden, and what a
person without a model does.

A family's folder has it as a module `truth`, found by the folder's name: its plans are drawn with
what the advice says of them. It gets what is drawn as values.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib import import_module
from typing import Protocol, cast

from ..domain import Aspect, Bit, Machine, Plan, Settings, Stock
from ..families import folder_of
from ..families.drawn import Drawn, Shown


class Simulated(Protocol):
    """The names of a family's `truth` module. Lengths are mm.

    CAUSES: every kind of cause, the first words of its terms' keys.  CLOSED: those of them that its
    closed forms take in; all others only shift a misfit.  ANOTHER: how the later set-ups of a
    season differ.  STEPS: usual first moves by aspect.  TUNED: the best ones by way of working,
    base shop and what is read, where they were chosen.  START_BIAS: how much lower the misfit of
    the lead comes out with a cutter never used before, by rule of thumb.  USUAL: how someone who
    knows no better has a piece show the zeroed aspect.
    """

    CAUSES: tuple[str, ...]
    CLOSED: tuple[str, ...]
    ANOTHER: str
    STEPS: Mapping[Aspect, float]
    TUNED: Mapping[tuple[str, str, str], Mapping[Aspect, float]]
    START_BIAS: float
    USUAL: str

    def misfits(
        self, plan: Plan, drawn: Drawn, settings: Settings, own: float
    ) -> dict[Aspect, float]:
        """Return the true misfits of one piece. own: a standard normal draw, what is its own."""

    def fitting(self, plan: Plan, drawn: Drawn) -> float:
        """Return the lead's setting that truly brings the middle of its window."""

    def stands_for(self, plan: Plan, drawn: Drawn) -> Mapping[Aspect, float]:
        """Return by aspect the misfit that 1 mm of the number said with its word really stands
        for; without draws: as printed.
        """

    def slot(self, plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
        """Return what is measured of a slot cut in waste."""

    def shown(
        self, plan: Plan, drawn: Drawn, settings: Settings, own: float, by: str
    ) -> tuple[Shown | None, float | None]:
        """Return what is measured of the zeroed aspect instead of a word, and what a second pass
        takes off, below 0 on the side where it can snatch; None: nothing.
        """

    def shown_by(self, at: Settings, zero: float | None, short: bool) -> str:
        """Return how a sensible person has a piece at these settings show the zeroed aspect.

        zero: the setting that is believed to be its zero.  short: the last piece lay below it.
        """

    def plan_for(
        self,
        bit: Bit,
        stock: Stock,
        pin_stock: Stock,
        machine: Machine | None,
        in_play: tuple[Aspect, ...],
        words_only: bool,
    ) -> Plan:
        """Return a sensible plan for a bit and boards, its sizes the stocks' own."""

    def season(
        self, plan: Plan, shares: Sequence[float], sds: float, bias: Mapping[str, float]
    ) -> list[Plan]:
        """Return the plans of a season with the same bit and boards, clear of every limit.

        shares: of each, where between its extremes it lies, 0 to 1.  sds, bias: see `Truth`. Raises
        `Refused` where the boards allow no joint.
        """

    def invented(
        self,
        draw: Sequence[float],
        share: float,
        machine: Machine,
        in_play: tuple[Aspect, ...],
        words_only: bool,
        bias: Mapping[str, float] | None,
    ) -> Plan:
        """Return a plan of an invented shop. draw: uniform ones, for the bit and the stock; share:
        as for `season`; bias: clear of every limit with causes twice as wide and so far off; None:
        as a year has it.
        """


def simulated(joint: str) -> Simulated:
    """Return what a joint's family gives; raise `Refused` for one this version does not know."""
    return cast(Simulated, import_module(f"{folder_of(joint)}.truth"))
