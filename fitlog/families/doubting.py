"""What only a family knows of things typed that no shop would mean.

A family's folder may have it as a module `doubts`; what there is without one is `Unknowing`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Protocol, cast

from ..domain import Piece, Plan, Reading, Verdict
from ..language.doubts import Doubt
from ..language.units import Ruler
from . import Joint, part_of
from .wanted import Wanted

# mm between a setting and all that speaks for one: a stop is off by so much, its correction is not
FAR = 3.0
LIKE = 0.35  # a slipped size lands within so much of the size that a board usually has
WIDTHS = (25.0, 1000.0)  # mm wide, of boards; common practice, no source


class Doubting(Protocol):
    """The functions of a family's module `doubts`."""

    def far(self, plan: Plan) -> Mapping[str, float]:
        """Return how far each setting, by name, may lie from all that speaks for one, mm."""

    def hears(self, verdict: Verdict, readings: Sequence[Reading]) -> bool:
        """Tell whether `said` needs to know how people use their words."""

    def said(
        self, joint: Joint, ruler: Ruler, verdict: Verdict, readings: Sequence[Reading], heard: str
    ) -> Iterator[Doubt]:
        """Yield what no shop would mean by what was said of a piece. heard: the words as typed."""

    def read(
        self, joint: Joint, ruler: Ruler, reading: Reading, piece: Piece
    ) -> Iterator[Doubt] | None:
        """Return what no shop would mean by a reading of a piece; None for one of which the joint's
        `term_readings` tell all.
        """

    def start(self, wanted: Wanted, ruler: Ruler) -> Iterator[Doubt]:
        """Yield what no shop would mean by the figures and first settings of a set-up."""


class Unknowing:
    """A family that knows nothing of its own: see `Doubting`."""

    def far(self, plan: Plan) -> Mapping[str, float]:
        return dict.fromkeys(plan.family.names, FAR)

    def hears(self, verdict: Verdict, readings: Sequence[Reading]) -> bool:
        return False

    def said(
        self, joint: Joint, ruler: Ruler, verdict: Verdict, readings: Sequence[Reading], heard: str
    ) -> Iterator[Doubt]:
        yield from ()

    def read(
        self, joint: Joint, ruler: Ruler, reading: Reading, piece: Piece
    ) -> Iterator[Doubt] | None:
        return None

    def start(self, wanted: Wanted, ruler: Ruler) -> Iterator[Doubt]:
        yield from ()


def doubts_of(joint: str) -> Doubting:
    """Return what a joint's family knows; raise `Refused` for one this version does not know."""
    own = part_of(joint, "doubts")
    return Unknowing() if own is None else cast(Doubting, own)
