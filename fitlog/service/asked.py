"""What a use case is asked and what it hands back: plain values between the shell and the
workbench.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from ..advice.spoken import Spoken
from ..document import Document
from ..domain import (
    Advice,
    Aspect,
    Bit,
    Figures,
    Machine,
    Reading,
    Remark,
    SetUp,
    Stock,
    TrialCut,
    Verdict,
)
from ..errors import FitlogError
from ..families.names import family_of, first_joint
from ..log import Log, LoggedCut, LoggedFound, Stamp

PlanValue = float | str | tuple[Aspect, ...] | None  # of a plan's field, by its name there


@dataclass(frozen=True)
class Answer:
    """What a use case hands back to be shown. steps: how to cut the piece, at `start`; unkept: why
    the advice shown could not be kept in the log, if so.
    """

    setup: SetUp
    advice: Advice
    document: Document
    steps: tuple[Remark, ...] = ()
    closed: int | None = None
    unkept: FitlogError | None = None


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

    @property
    def pitch(self) -> float | None:
        """The pitch that was said, mm."""
        return self.size("pitch")

    @property
    def height(self) -> float | None:
        """The first piece's lead setting that was said, true mm."""
        return self.first.get(family_of(self.joint).names[0])

    @property
    def pin_thickness(self) -> float | None:
        """The second board's thickness that was said, mm."""
        return self.size("pin_thickness")


@dataclass(frozen=True)
class Reported:
    """What `cut` was told. changed: settings named by the user, true mm; later: about the last
    piece again; unjudged: a new piece is cut and nothing is said of it yet; slot: only a slot in
    waste is cut and measured.
    """

    verdict: Verdict
    heard: str = ""
    readings: tuple[Reading, ...] = ()
    changed: dict[str, float] = field(default_factory=dict)
    later: bool = False
    note: str = ""
    scrap: str = ""
    sizes: Figures = field(default_factory=dict)
    unjudged: bool = False
    slot: bool = False


class Bench(Protocol):
    """What of a `Workbench` the use cases know that it builds on itself."""

    @property
    def log(self) -> Log: ...
    def answer(self, number: int) -> Answer: ...
    def status(self, setup: SetUp) -> str: ...
    def require_open(self, setup: SetUp) -> None: ...
    def stamp(self, machine: Machine | None) -> Stamp: ...


@dataclass(frozen=True)
class Shown:
    """A set-up, where it stands, and every entry about its pieces and what was found, those taken
    back included.
    """

    setup: SetUp
    status: str
    cuts: Sequence[LoggedCut]
    found: Sequence[LoggedFound]


@dataclass(frozen=True)
class Words:
    """How a person uses their words of fit and seat. others: who else has logged a cut; setups:
    how many are finished.
    """

    person: str
    others: Sequence[str]
    setups: int
    fit: Spoken
    seat: Spoken


def named(cut: TrialCut) -> str:
    """Return an entry about a piece in a few words, as it is called when it is taken or brought
    back.
    """
    if cut.slot:
        return "the slot in waste"
    said = cut.heard or ("" if cut.verdict.empty else str(cut.verdict))
    if said:
        return f'"{said}" on piece {cut.piece}'
    if cut.readings:
        return f"what was measured on piece {cut.piece}"
    return f'"{cut.note}" on piece {cut.piece}' if cut.note else f"the cut of piece {cut.piece}"
