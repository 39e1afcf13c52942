"""The order of a batch: every pass of every board, so that each stop is set once and none is a
climb cut.

Rabbets first, then the open edges, then the tail boards' slots, then the sockets, all boards at one
stop before the fence moves out to the next. Tail boards' edges are opened from both sides before
any slot: the far edge's slot would else be cut on its fence side. Sockets of another depth are a
run of their own, since the depth stop is moved for them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from .corners import EDGES, Boards, Depth, Edge, End
from .stops import Stop, Stops
from .work import RabbetPass

Work = Literal["rabbet", "edges", "slots", "sockets"]


@dataclass(frozen=True, slots=True)
class Step:
    """One run of the fence, moving out only: all `ends` at each of its stops.

    rabbet: its passes, in place of stops.  depth: of its sockets, None on end.
    """

    work: Work
    ends: tuple[End, ...]
    stops: tuple[Stop, ...] = ()
    rabbet: tuple[RabbetPass, ...] = ()
    depth: Depth | None = None

    def at(self, edge: Edge) -> tuple[End, ...]:
        """The ends that have an edge at the fence."""
        return tuple(end for end in self.ends if end.edge == edge)


@dataclass(frozen=True, slots=True)
class Pass:
    """One pass of one end: at a stop or for the rabbet, and the edge at the fence for it."""

    step: int
    end: End
    edge: Edge
    stop: Stop | None
    rabbet: int | None = None


@dataclass(frozen=True)
class Schedule:
    """All that is cut, in order. boards: those that were named; None: its steps have no ends."""

    boards: Boards | None
    steps: tuple[Step, ...]

    def passes(self) -> Iterator[Pass]:
        """Yield every pass in the order it is made."""
        for number, step in enumerate(self.steps, 1):
            for n in range(1, len(step.rabbet) + 1):
                yield from (Pass(number, end, end.edge, None, n) for end in step.ends)
            for stop in step.stops:
                for end in step.ends:
                    yield Pass(number, end, end.edge, stop)
                    if step.work == "edges":
                        yield Pass(number, end, _turned(end.edge), stop)


NO_STEPS = Schedule(None, ())


def schedule(
    boards: Boards | None, found: Stops, rabbet: Sequence[RabbetPass], depths: Sequence[Depth]
) -> Schedule:
    """Return the order in which boards are cut at these stops, the marked edges first."""
    ends = sorted(boards.ends if boards else (), key=lambda end: EDGES.index(end.edge))
    tails = tuple(end for end in ends if end.kind == "tail")
    opened, slots = (
        tuple(s for s in found.of("tail") if (s.cut.kind == "edge") == edge)
        for edge in (True, False)
    )
    steps = [Step("rabbet", tails, rabbet=tuple(rabbet)), Step("edges", tails, opened)]
    if slots:
        steps.append(Step("slots", tails, slots))
    for depth in depths:
        pins = tuple(end for end in ends if end.kind == "pin" and end.hand in depth.hands)
        steps.append(Step("sockets", pins, found.of("pin"), depth=depth))
    return Schedule(boards, tuple(steps))


def _turned(edge: Edge) -> Edge:
    return EDGES[edge == "marked"]
