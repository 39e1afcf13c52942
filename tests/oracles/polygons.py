"""A joint drawn as polygons: shapely as an oracle that knows none of our closed forms.

Only the bit's outline, the boards and the moves of the cut are drawn.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable

import pytest

from fitlog.families.half_blind import geometry as g

shapely = pytest.importorskip("shapely")
from shapely import affinity  # noqa: E402
from shapely.geometry import Polygon, box  # noqa: E402

EMPTY = 1e-11  # mm2: an overlap this small is rounding


class Drawn:
    """One random joint, drawn: D, theta, h, P and the polygons of its parts in section, y from the
    table up.
    """

    def __init__(self, seed: int, tight: bool = False) -> None:
        r = random.Random(seed)
        self.diameter, self.theta = r.uniform(8, 26), math.radians(r.uniform(5, 15))
        self.height = min(r.uniform(5, 14), 0.35 * self.diameter / math.tan(self.theta))
        wanted = r.uniform(-0.2, -0.01) if tight else r.uniform(0.01, 0.35)
        self.pitch = 2 * self.diameter - wanted - 2 * self.height * math.tan(self.theta)
        flank = self.height / math.cos(self.theta)  # walk down the flank from the tip to the table
        neck = self.diameter / 2 - flank * math.sin(self.theta)
        self.bit = Polygon(
            [
                (-neck, 0),
                (neck, 0),
                (self.diameter / 2, self.height),
                (-self.diameter / 2, self.height),
            ]
        )
        board = box(-2 * self.pitch, 0, 2 * self.pitch, 3 * self.height)
        self.wood = board.difference(self.bit)  # the pin board, lying flat
        half = self.pitch / 2
        slots = affinity.translate(self.bit, -half).union(affinity.translate(self.bit, half))
        tail = box(-half, 0, half, self.height).difference(
            slots
        )  # the tail board, standing: what two cuts leave
        self.tail = affinity.scale(
            tail, 1, -1, origin=(0, self.height / 2)
        )  # turned over, to go into the socket

    @property
    def clearance(self) -> float:
        return g.clearance(self.diameter, self.pitch, self.height, self.theta)


def largest(holds: Callable[[float], bool], high: float) -> float:
    """The largest value for which something holds, by halving."""
    low = 0.0
    for _ in range(40):  # to 1e-11 mm and less
        middle = (low + high) / 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low
