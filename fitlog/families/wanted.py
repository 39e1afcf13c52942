"""What a set-up is asked for, before there is a plan of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..domain import Aspect, Bit, Machine, SetUp, Stock
from .names import FAMILIES

PlanValue = float | str | tuple[Aspect, ...] | None  # of a plan's field, by its name there


@dataclass(frozen=True)
class Wanted:
    """What `start` was asked for, true mm; None: not given. options: what else of a plan was said.
    joint: whose set-up it is.

    again: the set-up that is repeated in all that was not said.  like: the newest one with the same
    bit, boards and machine where something else was said: only its layout comes again.
    """

    bit: Bit
    stock: Stock
    pin_stock: Stock
    machine: Machine | None
    joint: str = field(default_factory=lambda: next(iter(FAMILIES)), kw_only=True)
    pitch: float | None = None
    height: float | None = None
    width: float | None = None
    thickness: float | None = None
    pin_thickness: float | None = None
    rabbet: float | None = None
    options: Mapping[str, PlanValue] = field(default_factory=dict)
    again: SetUp | None = None
    like: SetUp | None = None

    def boards(self) -> tuple[float, float, float]:
        """Return width, thickness and the pin board's thickness, mm: said, repeated in the same
        stock, or the stock's own.
        """
        base = None if self.again is None else self.again.plan
        tail = base if base is not None and base.stock.name == self.stock.name else None
        pin = base if base is not None and base.pin_stock.name == self.pin_stock.name else None
        return (
            self.width or (tail.board_width if tail else self.stock.width),
            self.thickness or (tail.tail_thickness if tail else self.stock.thickness),
            self.pin_thickness or (pin.pin_thickness if pin else self.pin_stock.thickness),
        )

    def said(self) -> dict[str, PlanValue]:
        """Return what of a plan was said, by its names there."""
        sizes = {
            "pitch": self.pitch,
            "board_width": self.width,
            "tail_thickness": self.thickness,
            "pin_thickness": self.pin_thickness,
            "rabbet_depth": self.rabbet,
        }
        return {**{name: size for name, size in sizes.items() if size is not None}, **self.options}
