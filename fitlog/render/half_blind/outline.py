"""The outline of a board's end with its cuts, and a polygon cut off at both sides. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterable

from ...families.half_blind.layouts import Groove, Layout
from ..sheet.paper import Point

TAIL_GREY, PIN_GREY = 0.82, 0.95
_BEYOND = 300.0  # how far an outline is drawn past the board's edges before it is cut off there


def tail_spans(layout: Layout) -> list[tuple[float, float]]:
    """Return the first and last centre of the passes that make each slot, those of both open edges
    included.
    """
    first = layout.edge_passes[0]
    inner = [(at, at) for at in layout.slots[1:-1]]
    return [(first, layout.edge), *inner, (layout.width - layout.edge, layout.width - first)]


def pin_spans(layout: Layout) -> list[tuple[float, float]]:
    """Return the first and last centre of the passes that make each socket."""
    return [(passes[0], passes[-1]) for passes in layout.sockets]


def outline(
    layout: Layout,
    spans: Iterable[tuple[float, float]],
    mouth_y: float,
    tip_y: float,
    back_y: float,
) -> list[Point]:
    """Return a board's outline with a cut for each span, before it is cut off at the edges.

    mouth_y: of the side that the bit came in by; tip_y: of the bit's tip; back_y: of the board's
    other side.
    """
    wide, narrow = layout.bit.diameter / 2, layout.mouth / 2
    points = [(-_BEYOND, back_y), (-_BEYOND, mouth_y)]
    for low, high in spans:
        points += [
            (low - narrow, mouth_y),
            (low - wide, tip_y),
            (high + wide, tip_y),
            (high + narrow, mouth_y),
        ]
    return [*points, (layout.width + _BEYOND, mouth_y), (layout.width + _BEYOND, back_y)]


def groove_outline(groove: Groove, layout: Layout | None = None) -> list[Point]:
    """Return a groove's outline in the pin board's inside face, y from that face into the wood. x
    from the lower edge; with a layout from the other one, as its boards are marked.
    """
    at = groove.at if layout is None else layout.width - groove.at - groove.width
    deep = groove.depth
    return [(at, 0.0), (at + groove.width, 0.0), (at + groove.width, deep), (at, deep)]


def cut_off(points: Iterable[Point], low: float, high: float) -> list[Point]:
    """Return the part of a polygon from x = low to x = high (Sutherland and Hodgman 1974)."""
    return _keep(_keep(list(points), low, 1.0), high, -1.0)


def _keep(points: list[Point], limit: float, side: float) -> list[Point]:
    kept: list[Point] = []
    for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1], strict=True):
        a_in, b_in = side * (ax - limit) >= 0, side * (bx - limit) >= 0
        if a_in != b_in:
            kept.append((limit, ay + (by - ay) * (limit - ax) / (bx - ax)))
        if b_in:
            kept.append((bx, by))
    return kept
