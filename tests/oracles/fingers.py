"""Box joints drawn as polygons: shapely as an oracle that knows none of our closed forms.

Only the cutter, the key, the boards and the moves of the sled or of the fence are drawn.
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest

shapely = pytest.importorskip("shapely")
from polygons import largest  # noqa: E402
from shapely import affinity  # noqa: E402
from shapely.geometry import LineString, Polygon, box  # noqa: E402

EMPTY = 1e-11  # mm2: an overlap this small is rounding


def clear(one: Polygon, other: Polygon) -> bool:
    """Whether two shapes only touch."""
    return bool(one.intersection(other).area < EMPTY)


class Sled:
    """A sled with a key and a cutter: the key's near face at 0, the cutter from `gap` on."""

    def __init__(self, slot: float, key: float, gap: float, height: float) -> None:
        self.cutter = box(gap, -1.0, gap + slot, height)
        self.key = box(-key, -1.0, 0.0, height / 2)
        self.slot, self.key_width = slot, key

    def board(self, width: float, height: float, edge: float, pushes: Sequence[str]) -> Polygon:
        """A board of full height `height`, its reference edge at `edge` for the first cut, then a
        slot over the key for each push, cut; the reference edge at 0.
        """
        board = affinity.translate(box(0, 0, width, height), edge)
        board = board.difference(self.cutter)
        for push in pushes:
            board = self._pressed(board, push).difference(self.cutter)
        return affinity.translate(board, -board.bounds[0])

    def _pressed(self, board: Polygon, push: str) -> Polygon:
        """The board with the slot just cut over the key, then pressed until they touch."""
        low = self.cutter.bounds[0]
        middle = low + self.slot / 2 + self.key_width / 2
        over = affinity.translate(board, -middle)
        assert clear(over, self.key)
        way = -1.0 if push == "key" else 1.0
        far = largest(lambda d: clear(affinity.translate(over, way * d), self.key), self.slot)
        return affinity.translate(over, way * far)


def stepped(
    width: float, height: float, passes: Sequence[float], bit: float, deep: float
) -> Polygon:
    """A board after passes with a bit whose axis lies so far from its reference edge."""
    board = box(0, 0, width, height)
    for at in passes:
        board = board.difference(box(at - bit / 2, -1.0, at + bit / 2, deep))
    return board


def wood(board: Polygon, deep: float) -> list[tuple[float, float]]:
    """The fingers of a board at half the depth of its slots, as intervals."""
    low, _, high, _ = board.bounds
    cut = board.intersection(LineString([(low - 1, deep / 2), (high + 1, deep / 2)]))
    lines = getattr(cut, "geoms", [cut])
    return sorted((line.bounds[0], line.bounds[2]) for line in lines if line.length > 1e-9)


def comb(fingers: Sequence[tuple[float, float]], shift: float = 0.0) -> Polygon:
    """Fingers of a joint that is together, in section, seen along the corner."""
    return shapely.union_all([box(low + shift, 0, high + shift, 1) for low, high in fingers])


def travel(
    one: Sequence[tuple[float, float]], other: Sequence[tuple[float, float]], start: float
) -> tuple[float, float]:
    """How far the second comb goes either way, from a start at which it is clear."""
    fixed = comb(one)
    assert clear(fixed, comb(other, start))
    low, high = (
        way * largest(lambda d, way=way: clear(fixed, comb(other, start + way * d)), 5.0)  # type: ignore[misc]
        for way in (-1.0, 1.0)
    )
    return start + low, start + high
