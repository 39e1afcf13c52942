"""Layouts on the fence's marks: which cuts must fall on them, and what rounding takes from the
others. Lengths mm.

Seen from the middle of the board, where the fence stands at its zero, slot k of n tails lies (k - n
/ 2) Q out, k = 0 .. n - 1, and a socket's outermost passes P / 2 outward and Q - P / 2 outward of
the slot before it. Rounding to a step s therefore moves

    every slot alike                  when Q is a whole number of steps, every socket's passes as
    the slots   when P / 2 is one too, wherever the zero lies between two marks:
                                         all stops then share one fraction of a step, and no tail's
                                         play changes.

Only the slot at the far edge is cut after a turn, its error the other way: there the last tail's
play changes by twice that one fraction. It vanishes with the zero on a mark when the outermost
slot, n Q / 2 from the middle, is on one as well.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from .layout import Layout
from .stops import stops

_TRUE = 1e-4  # of a step: what counts as a whole number of them


@dataclass(frozen=True, slots=True)
class Rounding:
    """What rounding to the fence's step costs a layout, the zero on a mark: play lost and the
    largest error, mm.
    """

    lost: float
    largest: float


def rounding(layout: Layout, step: float) -> Rounding:
    """Return what rounding every stop to the nearest mark costs."""
    found = stops(layout, 0.0, step)
    return Rounding(found.play_lost, found.largest_error)


def on_marks(layout: Layout, step: float) -> bool:
    """Tell whether the cuts that set the fit all lie a whole number of steps from the middle of the
    board.
    """
    spacing, half, outermost = layout.spacing, layout.pitch / 2, layout.tails * layout.spacing / 2
    return all(abs(size / step - round(size / step)) < _TRUE for size in (spacing, half, outermost))


def pitches_on_marks(about: float, step: float) -> Iterator[float]:
    """Yield the pitches on either side of `about` whose half is a whole number of steps."""
    yield from _around(about, 2 * step)


def spacings_on_marks(about: float, tails: int, step: float) -> Iterator[float]:
    """Yield the spacings on either side of `about` that put every slot a whole number of steps from
    the middle.
    """
    yield from _around(about, step if tails % 2 == 0 else 2 * step)


def _around(about: float, grid: float) -> Iterator[float]:
    below = math.floor(about / grid + 1e-9)
    found = [below * grid, (below + 1) * grid]
    yield from (value for value in sorted(found, key=lambda value: abs(value - about)) if value > 0)
