"""Shelves along a side, evenly apart: what is said of them, and where they lie. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..errors import Mm, Refused
from .planning import Draft, nearest, size
from .typed import Count, Figure

MOST = 50  # of one side
LEAST_CLEAR = 10.0  # between two


def _shelves(count: int) -> int:
    if not 1 <= count <= MOST:
        raise Refused(
            "absurd-size",
            "no side has {count} shelves",
            "give 1 to {most}",
            count=count,
            most=MOST,
        )
    return count


FIGURES: Mapping[str, Figure] = {
    "side": size("side", "the side's length", 5000.0, "any side"),
    "shelves": Count("shelves", _shelves),
}


def spread(draft: Draft, side: float, thick: float) -> Iterator[tuple[int, float, float]]:
    """Yield each shelf's number, its near face from the reference end and what is clear before it,
    on the marks of the person's rule. side: from end to end; thick: of a shelf. Raises Refused
    (no-layout).
    """
    count = int(draft.sizes.get("shelves", 1))
    clear = (side - count * thick) / (count + 1)
    if clear < LEAST_CLEAR:
        raise Refused(
            "no-layout",
            "{count} shelves of {thick} leave only {clear} between them on a side of {side}",
            "take fewer with --given shelves=N",
            count=count,
            thick=Mm(thick),
            clear=Mm(max(0.0, round(clear, 2))),
            side=Mm(side),
        )
    before = 0.0
    step = nearest(clear + thick, draft.ruler)
    first = nearest((side - count * thick - (count - 1) * (step - thick)) / 2, draft.ruler)
    for number in range(1, count + 1):
        near = first + (number - 1) * step
        yield number, near, near - before
        before = near + thick
