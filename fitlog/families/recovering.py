"""Getting a lost setting back: what is asked, and what is handed back to be shown.

A family that knows how has it in its folder as a module `recover`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol, cast

from ..advice.history import History
from ..domain import Bit, Machine, Reading, Remark, SetUp, Stock
from ..language.units import Ruler
from . import offered


@dataclass(frozen=True)
class Asked:
    """What `recover` was asked, true mm; None: not given.

    origin: the set-up that the joint comes from.  sample_bit: the bit that cut the sample, if not
    today's. readings: of the kept sample.  remembered: a height to judge.
    """

    joint: str
    bit: Bit
    stock: Stock
    pin_stock: Stock
    machine: Machine | None
    origin: SetUp | None = None
    sample_bit: Bit | None = None
    pitch: float | None = None
    readings: tuple[Reading, ...] = ()
    remembered: float | None = None
    thickness: float | None = None
    pin_thickness: float | None = None
    spaced: bool | None = None
    many_tails: bool = False


@dataclass(frozen=True)
class Recovered:
    """What every family hands back; it adds what it found. start: the command to go on with;
    origin: the set-up that the joint comes from.
    """

    reasons: tuple[Remark, ...]
    notices: tuple[Remark, ...]
    cautions: tuple[Remark, ...]
    start: str
    origin: SetUp | None


class Recovering(Protocol):
    """A family's module `recover`."""

    def recovered(self, asked: Asked, past: History, by: str, ruler: Ruler) -> Recovered:
        """Return the setting that restores a joint. past: finished set-ups, the joint's own too;
        by: the person at work. Raises Refused, NotUnderstood: nothing-kept, no-pitch, not-good, ...
        """


def recovering(joint: str) -> Recovering:
    """Return how a joint's settings are got back; raise `Refused` ("other-joint") without."""
    return cast(Recovering, offered(joint, "recover", "way back from a kept sample"))
