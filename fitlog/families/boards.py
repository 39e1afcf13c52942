"""The real boards: which layouts a bit allows on them, and where the cutter goes for one.

A family that knows has it in its folder as a module `boards`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol, cast

from ..advice.history import History
from ..domain import Advice, Bit, Machine, Plan, Remark, Settings, SetUp, Stock
from ..domain.standing import Standing
from ..errors import Refused
from ..language.limits import Limit
from ..language.units import Ruler
from . import offered, part_of


@dataclass(frozen=True)
class Wish:
    """What `plan` was asked: which bits may be used, on which boards, for which layouts.

    spaced: the pitch is stepped by a spacer or block.  sizes: the lengths that were said, mm by
    name: the boards' own as a plan calls them, and those of `Boarded.SIZES`.  tails, middle, wide:
    only layouts with so many, with such a one in the middle, with tails wider than pins; None: any.
    """

    bits: Sequence[Bit]
    stock: Stock
    pin_stock: Stock
    machine: Machine | None
    spaced: bool
    sizes: Mapping[str, float]
    tails: int | None = None
    middle: str | None = None
    wide: bool | None = None


@dataclass(frozen=True)
class Batch:
    """Which boards the stops are for, where they are not the set-up's own, mm.

    thicknesses, pin_thicknesses: of the first boards and of those they meet, one for all or one for
    each of two.  boards: what `Boarded.boards_said` read of the boards to cut; None: nothing was
    said.  sizes: what else the family has sizes of in its `SIZES`, by those names.
    """

    width: float | None = None
    thicknesses: tuple[float, ...] = ()
    pin_thicknesses: tuple[float, ...] = ()
    boards: object = None
    sizes: Mapping[str, float] = field(default_factory=dict, hash=False)

    @property
    def other(self) -> bool:
        """Whether the boards' sizes were said."""
        return bool(self.width or self.thicknesses or self.pin_thicknesses)


@dataclass(frozen=True)
class Job:
    """The real boards of a set-up, as far as every family has them; a family adds its own.

    setup: of other boards than its own, with their sizes in its plan.  settings: true mm, for the
    real boards.  standing: how the set-up stands.
    """

    setup: SetUp
    status: str
    settings: Settings
    notices: tuple[Remark, ...]
    cautions: tuple[Remark, ...]
    standing: Standing


class Boarded(Protocol):
    """A family's module `boards`."""

    def real_boards(self, setup: SetUp, advice: Advice, past: History, tails: int | None) -> Job:
        """Return where the cutter goes for the real boards of a set-up, and what to do before each
        part.

        tails: how many; None: as the set-up says, or as its figures give. Raises Refused:
        no-layout, absurd-size, and why these boards can't be cut with it.
        """


class LaidOut(Boarded, Protocol):
    """Such a module of a family that chooses among layouts. SIZES: the lengths of a layout that can
    be wished for, by name; MIDDLES: what can lie in its middle.
    """

    SIZES: Mapping[str, Limit]
    MIDDLES: tuple[str, ...]

    def planned(
        self, wish: Wish, learnt: Callable[[Plan], History], by: str, ruler: Ruler, *, every: bool
    ) -> object:
        """Return the best layouts, or every one, for the family's own screen. learnt: what finished
        set-ups teach of a plan; by: the person at work.

        Raises Refused: no-layout, or why none of the bits can cut these boards at all.
        """


class Batched(Boarded, Protocol):
    """Such a module of a family that cuts other boards from one set-up, too. SIZES: what else of
    them is said, by name.
    """

    SIZES: Mapping[str, Limit]

    def batch_of_boards(
        self, setup: SetUp, advice: Advice, past: History, tails: int | None, batch: Batch
    ) -> Job:
        """Return what `real_boards` does for other boards than the set-up's own."""

    def boards_said(self, text: str) -> object:
        """Read which boards are to be cut, for `Batch.boards`. Raises NotUnderstood, Refused."""

    def taking(self, setup: SetUp, advice: Advice, widths: Sequence[float]) -> object:
        """Return which of some widths, mm, take a set-up's figures, for the family's own screen."""


def tells_of_boards(joint: str) -> bool:
    """Tell whether a joint's family knows more of the real boards than their settings."""
    return part_of(joint, "boards") is not None


def names_boards(joint: str) -> bool:
    """Tell whether a joint's boards can be named for their order."""
    return hasattr(part_of(joint, "boards"), "boards_said")


def boards_of(joint: str) -> Boarded:
    """Return what is known of a joint's real boards; raise `Refused` ("other-joint") without."""
    return cast(Boarded, offered(joint, "boards", "layouts"))


def laid_out(joint: str) -> LaidOut:
    """Return it of a joint that chooses among layouts."""
    return cast(LaidOut, boards_of(joint))


def batched(joint: str, *also: str) -> Batched:
    """Return it of a joint that cuts other boards from one set-up, and has what is asked for
    `also`, by the names of functions; raise `Refused` ("other-joint") of any other.
    """
    own = boards_of(joint)
    if not all(hasattr(own, name) for name in ("batch_of_boards", *also)):
        raise Refused(
            "other-joint",
            "a set-up of the {joint} is for its own boards",
            "leave the other boards out, or give them a set-up of their own",
            joint=joint,
        )
    return cast(Batched, own)
