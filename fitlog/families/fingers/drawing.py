"""The fingers of both boards of a box joint, along their whole width."""

from __future__ import annotations

from collections.abc import Iterator

from ...domain.drawing import Area, Dimension, Drawing, Label, Point
from .boards import FingerJob
from .names import HEIGHT

_STUB, _BETWEEN = 10.0, 5.0  # mm of a board that is drawn beyond its fingers, between both boards


def across(job: FingerJob) -> Drawing:
    """Return both boards, end to end, with the fingers that are meant."""
    asked = next(w for w in job.widths if w.asked and w.ends == "alike")
    finger, deep, wide = job.slot - job.play, job.settings[HEIGHT], asked.width
    starts = [finger + n * job.pitch for n in range(asked.fingers - 1)]
    first = [(at, at + job.slot) for at in starts]
    half = job.play / 2
    other = [
        (max(0.0, at - half), min(wide, at + finger + half))
        for at in (n * job.pitch for n in range(asked.fingers))
    ]
    low = deep + _BETWEEN
    top = Area(tuple(_comb(wide, first, 0.0, deep, -_STUB)))
    under = Area(tuple(_comb(wide, other, low + deep, low, low + deep + _STUB)), "second")
    measured = (
        Dimension("slot", (first[0][0], 0.0), (first[0][1], 0.0), "above") if first else None,
        Dimension("finger", (0.0, deep), (finger, deep), "above", 1),
        Dimension("board width", (0.0, -_STUB), (wide, -_STUB), "above", 2),
    )
    return Drawing(
        "Both boards along their ends",
        (top, under),
        dimensions=tuple(one for one in measured if one is not None),
        labels=(
            Label((wide / 2, -_STUB / 2), "first board"),
            Label((wide / 2, low + deep + _STUB / 2), "second board"),
        ),
    )


def _comb(
    wide: float, slots: list[tuple[float, float]], root: float, tip: float, back: float
) -> Iterator[Point]:
    """The outline of a board. slots: where wood is cut away; root, tip: of its fingers; back: where
    it is no longer drawn.
    """
    yield from ((0.0, back), (0.0, root if slots and slots[0][0] <= 0 else tip))
    for low, high in slots:
        if low > 0:
            yield from ((low, tip), (low, root))
        if high < wide:
            yield from ((high, root), (high, tip))
    yield from ((wide, root if slots and slots[-1][1] >= wide else tip), (wide, back))
