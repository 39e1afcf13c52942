"""Where the fence goes for the real boards: every position from the set-up's own zero, each rounded
by itself.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from ....domain import adjusters
from .. import figures
from .layout import Layout

BothBoards = Literal["tail", "pin"]
# What a cut is. An "edge" cut is open at the board's edge: made once with each edge to the fence.
Kind = Literal["edge", "slot", "socket", "first", "clearing", "last"]


@dataclass(frozen=True, slots=True)
class Cut:
    """One pass: its kind and where its centre lies from the edge at the fence, mm."""

    board: BothBoards
    kind: Kind
    position: float
    part: int  # which slot or socket, 1 for the one nearest to the fence


@dataclass(frozen=True, slots=True)
class Stop:
    """One position of the fence. exact, setting: fence offset as the user's scale reads it, before
    and after rounding, mm.
    """

    number: int
    cut: Cut
    exact: float
    setting: float

    @property
    def error(self) -> float:
        """What rounding moved the cut by, away from the fence above 0, mm."""
        return self.setting - self.exact


@dataclass(frozen=True)
class Stops:
    """All stops of a layout, in the order they are cut: the tail boards' first; for each board the
    fence moves out only.

    zero: fence offset, on the user's scale, that puts a cut on the middle of the board.  step: that
    of the fence, mm.
    """

    layout: Layout
    zero: float
    step: float
    stops: tuple[Stop, ...]

    def rounded(self, position: float) -> float:
        """Return a fence position to the nearest step, mm."""
        return _nearest(position, self.step)

    def of(self, board: BothBoards) -> tuple[Stop, ...]:
        """Return the stops of one board."""
        return tuple(stop for stop in self.stops if stop.cut.board == board)

    @property
    def largest_error(self) -> float:
        """The largest rounding error of a position, mm."""
        return max(abs(stop.error) for stop in self.stops)

    @property
    def play_lost(self) -> float:
        """How much of the clearance rounding takes from the joint as a whole, mm.

        A tail's play on either flank changes by the errors of the passes that cut its two sides;
        one board may shift as a whole, so that the joint keeps the least of all left plays plus the
        least of all right plays.
        """
        left, right = zip(*self._changes(), strict=True)
        lost: float = -(min(left) + min(right)) + 0.0  # never -0.0
        return lost

    @property
    def last_tail(self) -> float:
        """What rounding adds to the play of the tail at the far edge, mm."""
        return sum(list(self._changes())[-1])

    def _changes(self) -> Iterator[tuple[float, float]]:
        """What rounding adds to each tail's play, on the flank towards the fence and on
        the other.
        """
        slots = {
            s.cut.part: s.error for s in self.of("tail")
        }  # of an edge's passes the last one counts
        # The far edge is cut by turning the board: its error points the other way.
        slots[self.layout.tails + 1] = -slots[1]
        for part in range(1, self.layout.tails + 1):
            passes = [s.error for s in self.of("pin") if s.cut.part == part]
            yield slots[part] - passes[0], passes[-1] - slots[part + 1]


def cuts(layout: Layout) -> tuple[Cut, ...]:
    """Return the passes of both boards, each board's from the fence outward, so that the fence
    moves out only.
    """
    edge = [Cut("tail", "edge", at, 1) for at in layout.edge_passes]
    slots = [Cut("tail", "slot", at, k) for k, at in enumerate(layout.slots[1:-1], 2)]
    return (
        *edge,
        *slots,
        *(cut for k, passes in enumerate(layout.sockets, 1) for cut in _socket(passes, k)),
    )


def _socket(passes: Sequence[float], part: int) -> Iterator[Cut]:
    if len(passes) == 1:
        yield Cut("pin", "socket", passes[0], part)
        return
    yield Cut("pin", "first", passes[0], part)
    yield from (Cut("pin", "clearing", at, part) for at in passes[1:-1])
    yield Cut("pin", "last", passes[-1], part)


def stops(layout: Layout, zero: float, step: float | None) -> Stops:
    """Return every fence position of a layout.

    zero: fence offset that puts a cut on the middle of the board, as the user's scale reads it, mm.
    step: the smallest step of the fence, mm; None: not known, a hundredth of a millimetre.
    """
    grid = step or adjusters.PLAIN_STEP
    found = []
    for number, cut in enumerate(cuts(layout), 1):
        exact = zero + cut.position - layout.width / 2
        found.append(Stop(number, cut, exact, _nearest(exact, grid)))
    return Stops(layout, zero, grid, tuple(found))


def _nearest(position: float, step: float) -> float:
    """Return the nearest mark; half-way between two the outer one, so that equal fractions are
    always rounded alike.
    """
    return round(math.floor(position / step + 0.5 + 1e-6) * step, 6)


def rabbet_passes(depth: float) -> tuple[float, ...]:
    """Return what each pass of a rabbet takes, mm: a light first one, then at most 3 mm each, then
    the balance.

    Common practice, no source. The wood then gives way in thin slices instead of tearing out in
    one.
    """
    taken = [min(depth, figures.RABBET_FIRST)]
    left = depth - taken[0]
    while left > 1e-9:
        taken.append(min(left, figures.RABBET_MOST))
        left -= taken[-1]
    return tuple(round(part, 6) for part in taken)
