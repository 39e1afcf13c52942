"""Both boards of a joint cut pass by pass with a polygon library, seen along their ends; and
layouts of invented bits and boards to cut.

Source of the geometry: the bit's profile alone (design of the joint: tip D, mouth D - 2 h tan
theta); shapely cuts and measures. Invented bits and boards, seeded.
"""

from __future__ import annotations

import math
import random

from shapely import Polygon, affinity, box, unary_union

from fitlog.domain import Bit
from fitlog.errors import Refused
from fitlog.families.family import Limit
from fitlog.families.half_blind.layouts import Asked, Layout, Reach, Stops, find
from fitlog.language.units import Ruler

PLAY = 0.07
BOARDS = 300


def reach_of(bit: Bit, pin_thickness: float) -> Reach:
    """A bit that cuts exactly by its figures: h = (2 D - P - c) / (2 tan theta)."""
    slope = 2 * math.tan(bit.theta)
    high = min(pin_thickness - 2.4, bit.cutting_length - 0.1, (bit.diameter - 3) / slope)
    pitch = 2 * bit.diameter - PLAY - slope * 0.75 * high
    return Reach(
        bit,
        Limit(2.0, high, "", "a limit", "", ""),
        pitch,
        lambda p, n: ((2 * bit.diameter - p - PLAY) / slope, 0.2),
    )


def invented(seed: int) -> tuple[Reach, Asked]:
    rng = random.Random(seed)
    diameter, angle = rng.uniform(9, 22), rng.uniform(6, 15)
    length = min(rng.uniform(9, 18), 0.9 * (diameter - 1) / (2 * math.tan(math.radians(angle))))
    thick = rng.uniform(14, 24)
    return reach_of(Bit("invented", diameter, angle, length), thick), Asked(
        rng.uniform(70, 420), 24.0, thick
    )


def found_layouts(seed: int) -> list[Layout]:
    reach, asked = invented(seed)
    try:
        return [one.layout for one in find([reach], asked, Ruler())]
    except Refused as error:
        assert error.code == "no-layout"
        return []


ALL = [(seed, layout) for seed in range(BOARDS) for layout in found_layouts(seed)]


def profile(layout: Layout, at: float) -> Polygon:
    """The bit in section, its mouth at z = 0, its tip at z = h."""
    m, d, h = layout.mouth / 2, layout.bit.diameter / 2, layout.height
    return Polygon([(at - m, 0), (at + m, 0), (at + d, h), (at - d, h)])


def tails_of(layout: Layout, found: Stops, zero: float) -> Polygon:
    """The tails as they stand in the pin board, wide end at the sockets' ground, cut at the stops
    as they were set.
    """
    board = box(0, 0, layout.width, layout.height)
    for stop in found.of("tail"):
        at = stop.setting - zero + layout.width / 2
        places = [at, layout.width - at] if stop.cut.kind == "edge" else [at]
        board = board.difference(unary_union([profile(layout, p) for p in places]))
    return affinity.scale(board, 1, -1, origin=(0, layout.height / 2))


def pins_of(layout: Layout, found: Stops, zero: float) -> Polygon:
    """The pin board up to the sockets' ground."""
    cut = unary_union(
        [profile(layout, s.setting - zero + layout.width / 2) for s in found.of("pin")]
    )
    return box(0, 0, layout.width, layout.height).difference(cut)


def plays(layout: Layout, tails: Polygon, pins: Polygon) -> list[tuple[float, float]]:
    """Left and right play of each tail half-way up, read off the polygons."""
    level, wide = layout.height / 2, layout.width
    line = box(-1, level - 1e-7, wide + 1, level + 1e-7)

    def spans(shape: Polygon) -> list[tuple[float, float]]:
        parts = getattr(shape.intersection(line), "geoms", [shape.intersection(line)])
        return sorted((p.bounds[0], p.bounds[2]) for p in parts if p.area > 0)

    tail, pin = spans(tails), spans(pins)
    return [(t[0] - pin[i][1], pin[i + 1][0] - t[1]) for i, t in enumerate(tail)]
