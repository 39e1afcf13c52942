"""The bottom's groove: which tail covers its ends, and by how much. Lengths mm.

Seen along the end of a pin board, x from the lower edge, z from its inside face (the tails' roots
are at z = 0, their ends at z = h), the groove is the rectangle x from L to L + width, z from 0 to
its depth, and goes on along the board to both ends. Half-blind joints at all four corners.

- **Pin boards** (front and back). Their end is what is seen at the side: pins, and in the sockets
  the tails. The groove comes out of the end wherever there is wood of the pin board to come out
  of, so that it is hidden only where a tail fills the socket. A tail spans at z

      from u + k Q + D / 2 - z tan(theta)    to u + (k + 1) Q - D / 2 + z tan(theta)

  It is narrowest at its root, Q - D, and the groove starts there: covered at z = 0 it is covered
  at any depth, each flank by z tan(theta) more; the pin's flank is half the play further off.
  The bit's height is not in it: tuning the fit moves no root. Deeper than the tails are long, h,
  it comes out of the lap over the tail's end.
- **Tail boards** (sides). Their ends are behind the laps: past a root the groove runs along the
  tail's back, if it is deeper than the rabbet, to the tail's end, at the ground of the socket;
  between the tails it ends at the inside of a pin, which fills the slot. Neither is seen,
  wherever it lies.

So it shows at no corner where one tail covers it, any of them, and all four boards can be grooved
from end to end. `GROOVE_COVER` at both flanks and over the ground is for what a groove, a joint
and a tuned height are off by.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from ....domain import Remark, remark
from ....errors import Mm, Most, NotUnderstood, Refused
from ....language.limits import Limit
from .. import figures
from .layout import Layout

_ENOUGH = 1e-6  # mm: what sums of floats are off by

SIZES = {
    "groove": Limit("the groove's width", 2, 30, "any bottom's groove"),
    "at": Limit("the groove's distance from the lower edge", 1, 500, "any bottom's groove"),
    "groove_depth": Limit("the groove's depth", 1, 30, "any bottom's groove"),
}


class Covered(NamedTuple):
    """What a tail covers of the ends of a groove, mm, below 0 where it comes out.

    below, above: beside its two flanks; ground: over its ground; tail: which, 1 for the lowest.
    """

    below: float
    above: float
    ground: float
    tail: int

    @property
    def margin(self) -> float:
        """The least of the three."""
        return min(self.below, self.above, self.ground)

    @property
    def short(self) -> float:
        """By how much it misses the cover that is wanted."""
        return max(0.0, figures.GROOVE_COVER - self.margin)

    @property
    def enough(self) -> bool:
        """Whether the groove shows at neither end."""
        return self.short < _ENOUGH


@dataclass(frozen=True, slots=True)
class Groove:
    """The groove of a bottom in the inside faces of all four boards, mm. at: from the boards' lower
    edge to the groove's own.
    """

    width: float
    at: float
    depth: float

    def covered(self, layout: Layout) -> Covered:
        """Return what covers it: the tail that lies best for it."""
        found = (
            Covered(self.at - low, high - self.at - self.width, layout.height - self.depth, number)
            for number, (low, high) in enumerate(layout.roots, 1)
        )
        return max(found, key=lambda one: (min(one.below, one.above), -one.tail))

    def margin(self, layout: Layout) -> float:
        """Return the least that covers it, mm; below 0 it shows."""
        return self.covered(layout).margin

    def told(self, layouts: Sequence[Layout]) -> Remark:
        """Return what is said of it: that the first layout hides it, or which comes nearest, by how
        much it misses and what would help.
        """
        covers = [self.covered(layout) for layout in layouts]
        size = {"width": self.width, "at": self.at, "depth": self.depth}
        if covers[0].enough:
            below, above, tail = covers[0].below, covers[0].above, covers[0].tail
            return remark("groove-hidden", **size, below=below, above=above, tail=tail)
        number, near = min(enumerate(covers), key=lambda pair: pair[1].short)
        cures = self._cures(layouts[number], near)
        which = number + 1 if len(layouts) > 1 else None
        return remark("groove-shows", **size, which=which, cover=near.margin, **cures)

    def _cures(
        self, layout: Layout, near: Covered
    ) -> dict[str, tuple[float, float] | float | None]:
        """What would make a layout's tail cover it. move: up by, from and to, below 0 down; widest:
        where it lies, or `room` from the edge; deepest; None: not that.
        """
        cover, (low, high) = figures.GROOVE_COVER, layout.roots[near.tail - 1]
        first, last = low + cover - self.at, high - cover - self.width - self.at
        aside = max(first, -last) > _ENOUGH
        starts = max(self.at, low + cover)
        widest = high - cover - starts
        thinner = aside and figures.LEAST_GROOVE <= widest < self.width - _ENOUGH
        deep = near.ground < cover - _ENOUGH
        return {
            "move": (first, last) if aside and last >= first else None,
            "widest": widest if thinner else None,
            "room": starts if thinner and starts > self.at + _ENOUGH else None,
            "deepest": layout.height - cover if deep else None,
        }


def groove_of(sizes: Mapping[str, float], width: float, thinner: float) -> Groove | None:
    """Return the groove that was asked for by the names of SIZES, None without one. width: of the
    boards; thinner: the thickness of the thinner ones.

    Raises NotUnderstood (bad-choice) for half of it, Refused (absurd-size) for one that they cannot
    have.
    """
    if not sizes.keys() & SIZES.keys():
        return None
    if "groove" not in sizes or "at" not in sizes:
        raise NotUnderstood(
            "bad-choice",
            "a groove needs both its width and where it lies",
            "say --groove WIDTH --at L, L from the boards' lower edge to the groove's lower edge",
        )
    usual = min(thinner * figures.GROOVE_SHARE, figures.GROOVE_DEPTH)
    groove = Groove(sizes["groove"], sizes["at"], sizes.get("groove_depth", usual))
    if groove.at + groove.width > width - figures.GROOVE_COVER:
        most = width - figures.GROOVE_COVER - groove.width
        raise Refused(
            "absurd-size",
            "a groove {groove} wide and {at} from the lower edge leaves a board {width} wide",
            "give --at up to {most}"
            if most >= SIZES["at"].low
            else "give the groove's own width with --groove, or other boards with --width",
            groove=Mm(groove.width),
            at=Mm(groove.at),
            width=Mm(width),
            most=Most(most),
        )
    deepest = thinner - figures.LEAST_LAP
    if groove.depth > deepest:
        raise Refused(
            "absurd-size",
            "a groove {depth} deep leaves less than {lap} of a board {thinner} thick",
            "give --groove-depth up to {deepest}",
            depth=Mm(groove.depth),
            lap=Mm(figures.LEAST_LAP),
            thinner=Mm(thinner),
            deepest=Most(deepest),
        )
    return groove
