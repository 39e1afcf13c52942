"""The end of the joint to scale, in characters."""

from __future__ import annotations

import math

from ...families.half_blind.layouts import Groove, Layout

WIDEST = 100  # characters
_CHAR_TALL = 2.0  # a character is about twice as tall as it is wide
_HALVES = "\u2588\u2580\u2584"  # a whole block, its upper half, its lower half
_GROOVE = {True: "\u2591", False: ":"}  # with blocks and without
SIGNS = _HALVES + _GROOVE[True]


def drawing(
    layout: Layout,
    thickness: float,
    columns: int,
    *,
    blocks: bool,
    groove: Groove | None = None,
) -> list[str]:
    """Return the end of the pin board with the tails in it, to scale, inside face down; pins and
    lap are dark, the groove dotted, as far from the left as from the lower edge.

    thickness: of the pin board, mm.  columns: the most to use.  blocks: half blocks double the
    height's resolution.
    """
    across = max(20, min(columns, WIDEST)) - 2
    scale = layout.width / across  # mm per column
    per_row = scale * _CHAR_TALL
    count = max(3, round(thickness / per_row))
    rows = ["+" + "-" * across + "+"] if not blocks else []
    for row in range(count):
        top, bottom = (thickness * (1 - (row + part) / count) for part in (0.25, 0.75))
        cells = [
            _GROOVE[blocks]
            if _grooved(groove, (i + 0.5) * scale, bottom, scale)
            else _cell(
                _solid(layout, (i + 0.5) * scale, top),
                _solid(layout, (i + 0.5) * scale, bottom),
                blocks,
            )
            for i in range(across)
        ]
        edge = "" if blocks else "|"
        rows.append(edge + "".join(cells) + edge)
    return [*rows, *(["+" + "-" * across + "+"] if not blocks else [])]


def _cell(top: bool, bottom: bool, blocks: bool) -> str:
    if blocks:
        return {(True, True): _HALVES[0], (True, False): _HALVES[1], (False, True): _HALVES[2]}.get(
            (top, bottom), " "
        )
    return "#" if top else " "


def _grooved(groove: Groove | None, x: float, z: float, column: float) -> bool:
    """Whether a cell, mm from the lower edge and above the inside face, lies in the groove, which
    is at least a column wide.
    """
    if groove is None:
        return False
    middle, half = groove.at + groove.width / 2, max(groove.width, column) / 2
    return middle - half <= x < middle + half and z < groove.depth


def _solid(layout: Layout, x: float, z: float) -> bool:
    """Whether the pin board has wood at x from its edge, z above its inside face, mm."""
    if z > layout.height:
        return True
    half = layout.mouth / 2 + z * math.tan(layout.bit.theta)
    return not any(passes[0] - half < x < passes[-1] + half for passes in layout.sockets)
