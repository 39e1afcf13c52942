"""The whole end of a board: where the cuts of both boards lie, and what they leave. Lengths mm,
angles radians.

Seen along the end, from the edge at the fence: the tail board's slots lie `spacing` apart, the pin
board's sockets half a spacing from them. A slot is one pass, so that every pin is one bit wide.
Where the tails are wider than one pass clears, the socket is cut by overlapping passes, and the two
outermost set the fit as two passes a `pitch` of equal pins apart do:

    spacing Q >= pitch P      sockets' outermost passes Q - P apart clearance c = (Q - P) + D - (Q -
    m) = D + m - P = 2 D - P - 2 h tan(theta), whatever Q board width W = n Q + 2 u, u from the
    board's edge to the centre of its outermost slot: 0 for exact half-pins
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from ....domain import Bit
from .. import figures, geometry

MOST_EDGE_PASSES = 2  # half-pins thicker than these clear are no half-pins


@dataclass(frozen=True)
class Layout:
    """One way to lay out tails and pins over a board, alike at both edges. spacing > pitch: tails
    wider than the pins.
    """

    bit: Bit
    height: float
    width: float
    tails: int
    pitch: float
    spacing: float

    @property
    def mouth(self) -> float:
        """Width of a slot at the board's end, mm."""
        return geometry.mouth(self.bit.diameter, self.height, self.bit.theta)

    @property
    def edge(self) -> float:
        """From the board's edge to the centre of its outermost slot, u = (W - n Q) / 2, mm; below 0
        off the board.

        Past half a mouth the slot leaves a strip standing at the edge, which another pass clears.
        """
        return (self.width - self.tails * self.spacing) / 2

    @property
    def wide(self) -> bool:
        """Whether the sockets take more than one pass."""
        return self.spacing - self.pitch > 1e-6

    @property
    def middle(self) -> str:
        """What lies in the middle of the board: "tail" or "pin"."""
        return "tail" if self.tails % 2 else "pin"

    @property
    def pin(self) -> tuple[float, float]:
        """Thinnest and thickest width of a pin, P - D and P - m, mm."""
        return self.pitch - self.bit.diameter, self.pitch - self.mouth

    @property
    def half_pin(self) -> tuple[float, float]:
        """Thinnest and thickest width of the half-pins at the edges, mm."""
        thin, thick = self.pin
        return self.edge + thin / 2, self.edge + thick / 2

    @property
    def tail(self) -> tuple[float, float]:
        """Width of a tail at its root and at its end, Q - D and Q - m, mm."""
        return self.spacing - self.bit.diameter, self.spacing - self.mouth

    @property
    def exact(self) -> bool:
        """Whether the half-pins are half a pin."""
        return abs(self.edge) < 0.05

    @cached_property
    def slots(self) -> tuple[float, ...]:
        """Centres of the tail board's slots from the edge at the fence, mm; the first and the last
        are open at an edge.
        """
        return tuple(self.edge + k * self.spacing for k in range(self.tails + 1))

    @property
    def roots(self) -> tuple[tuple[float, float], ...]:
        """Where each tail begins and ends at its root, where it is narrowest, from the edge, mm."""
        half = self.bit.diameter / 2
        return tuple((at + half, at + self.spacing - half) for at in self.slots[:-1])

    @cached_property
    def edge_passes(self) -> tuple[float, ...]:
        """Centres of the passes that clear the wood beside an edge, the outermost slot's own the
        last, mm.
        """
        found = [self.edge]
        while found[-1] - self.mouth / 2 > 1e-9:
            found.append(found[-1] - self.step_of_passes)
        return tuple(reversed(found))

    @cached_property
    def sockets(self) -> tuple[tuple[float, ...], ...]:
        """For each socket of the pin board the centres of its passes from the edge at the fence,
        mm.
        """
        spread = self.spacing - self.pitch
        count = math.ceil(spread / self.step_of_passes - 1e-9) if self.wide else 0
        middles = [self.edge + (k + 0.5) * self.spacing for k in range(self.tails)]
        if not count:
            return tuple((middle,) for middle in middles)
        return tuple(
            tuple(middle - spread / 2 + i * spread / count for i in range(count + 1))
            for middle in middles
        )

    @property
    def step_of_passes(self) -> float:
        """The furthest that two overlapping passes may lie apart, mm.

        At the surface the passes are a mouth wide and must meet. Between two passes s apart a cusp
        is left at the socket's round end, sqrt((m/2)^2 - (s/2)^2) past the centre line there; a
        tail reaches sqrt(m c / 2) past it at most, so that s up to sqrt(m^2 - 2 m c) keeps the cusp
        clear. The overlap is always more than that takes.
        """
        return max(self.mouth - figures.PASS_OVERLAP, self.mouth / 2)

    @property
    def cuts(self) -> int:
        """Passes at one corner, both boards together: each edge of the tail board is cut
        by itself.
        """
        return (
            self.tails - 1 + 2 * len(self.edge_passes) + sum(len(passes) for passes in self.sockets)
        )


def regular(bit: Bit, height: float, width: float, tails: int, pitch: float) -> Layout:
    """Return the layout with tails and pins alike, one pass each."""
    return Layout(bit, height, width, tails, pitch, pitch)


def wide_tails(bit: Bit, height: float, width: float, tails: int, pitch: float) -> Layout:
    """Return the layout with pins one bit wide and tails that share the width evenly, half-pins
    exact.
    """
    return Layout(bit, height, width, tails, pitch, width / tails)


def layout_of(
    bit: Bit, height: float, width: float, tails: int, pitch: float, spacing: float | None = None
) -> Layout | None:
    """Return the layout that a number of tails means, or None where there is none.

    spacing: of the slots, where it is known; else tails and pins alike where that can be cut, or
    tails that share the width.
    """
    if spacing is not None:
        return _if_possible(Layout(bit, height, width, tails, pitch, max(spacing, pitch)))
    alike = _if_possible(regular(bit, height, width, tails, pitch))
    return alike or _if_possible(wide_tails(bit, height, width, tails, pitch))


def _if_possible(layout: Layout) -> Layout | None:
    """Return a layout that can be cut, None for one whose tails would overlap or whose edges hold
    no half-pin.
    """
    sound = (
        layout.half_pin[0] > 0.5 and layout.tail[0] > 0.5 and layout.spacing >= layout.pitch - 1e-9
    )
    return layout if sound and len(layout.edge_passes) <= MOST_EDGE_PASSES else None


def fitting_tails(
    bit: Bit, height: float, width: float, pitch: float, least: float
) -> list[Layout]:
    """Return the layouts with tails and pins alike that a pitch gives on a width, half-pins no
    thinner than `least`.

    The likest to exact half-pins first; a tail in the middle and a pin in the middle where both
    work.
    """
    most = math.floor(width / pitch) + 2
    found = [regular(bit, height, width, n, pitch) for n in range(1, most + 1)]
    sound = [
        one
        for one in found
        if one.half_pin[0] >= least - 1e-9 and len(one.edge_passes) <= MOST_EDGE_PASSES
    ]
    return sorted(sound, key=lambda one: abs(one.edge))
