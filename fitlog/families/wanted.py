"""What a set-up is asked for, before there is a plan of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..domain import Aspect, Bit, Machine, SetUp, Stock
from .names import first_joint

PlanValue = float | str | tuple[Aspect, ...] | None  # of a plan's field, by its name there


@dataclass(frozen=True)
class Wanted:
    """What `start` was asked for.

    joint: whose set-up it is.  figures: what of its plan was said, by the plan's own names.  first:
    the settings of the first piece that were said, true mm by name.  again: the set-up that is
    repeated in all that was not said.  like: the newest one with the same bit, boards and machine
    where something else was said: only its layout comes again.
    """

    bit: Bit
    stock: Stock
    pin_stock: Stock
    machine: Machine | None
    joint: str = field(default_factory=first_joint)
    figures: Mapping[str, PlanValue] = field(default_factory=dict)
    first: Mapping[str, float] = field(default_factory=dict)
    again: SetUp | None = None
    like: SetUp | None = None

    def size(self, name: str) -> float | None:
        """Return a length of the plan as it was said, mm; None where it was not."""
        said = self.figures.get(name)
        return float(said) if isinstance(said, int | float) else None

    def boards(self) -> tuple[float, float, float]:
        """Return width, thickness and the pin board's thickness, mm: said, repeated in the same
        stock, or the stock's own.
        """
        base = None if self.again is None else self.again.plan
        tail = base if base is not None and base.stock.name == self.stock.name else None
        pin = base if base is not None and base.pin_stock.name == self.pin_stock.name else None
        return (
            self.size("board_width") or (tail.board_width if tail else self.stock.width),
            self.size("tail_thickness") or (tail.tail_thickness if tail else self.stock.thickness),
            self.size("pin_thickness") or (pin.pin_thickness if pin else self.pin_stock.thickness),
        )

    def said(self) -> dict[str, PlanValue]:
        """Return what of a plan was said, by its names there."""
        return dict(self.figures)
