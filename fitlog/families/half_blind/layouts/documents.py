"""The machine-readable form of layouts and stops: lengths in mm, every key always there."""

from __future__ import annotations

from typing import Any

from ....language.units import Ruler
from ...telling import say
from .finding import Found
from .layout import Layout
from .stops import Stops


def layout_document(layout: Layout) -> dict[str, Any]:
    """Return one layout. pin, tail, half_pin: their least and greatest widths; passes: of each
    socket.
    """
    return {
        "bit": layout.bit.name,
        "board_width": round(layout.width, 4),
        "tails": layout.tails,
        "middle": layout.middle,
        "wide_tails": layout.wide,
        "pitch": round(layout.pitch, 4),
        "spacing": round(layout.spacing, 4),
        "bit_height": round(layout.height, 4),
        "mouth": round(layout.mouth, 4),
        "pin": _pair(layout.pin),
        "tail": _pair(layout.tail),
        "half_pin": _pair(layout.half_pin),
        "exact_half_pins": layout.exact,
        "cuts": layout.cuts,
        "passes": [[round(at, 4) for at in passes] for passes in layout.sockets],
    }


def found_document(one: Found, ruler: Ruler) -> dict[str, Any]:
    """Return a layout that `plan` found, with its rank's reasons; fewer points are better. Height:
    true, by what is known.

    play_lost, largest_rounding: by rounding to the fence's step, the zero on a mark; null where no
    marks set the pitch.
    """
    marks = [{"points": round(mark.points, 3), "text": say(mark.told, ruler)} for mark in one.marks]
    own = {
        "lap": round(one.lap, 4),
        "bit_height_sd": round(one.height_sd, 4),
        "points": round(one.points, 3),
        "marks": marks,
    }
    cost = one.rounded
    fence = {
        "on_marks": one.true,
        "play_lost": None if cost is None else round(cost.lost, 4),
        "largest_rounding": None if cost is None else round(cost.largest, 4),
    }
    return {**layout_document(one.layout), **own, **fence}


def stops_list(found: Stops) -> list[dict[str, Any]]:
    """Return every stop. fence_exact, fence: as the user's scale reads it, before and after
    rounding.
    """
    return [
        {
            "stop": stop.number,
            "board": stop.cut.board,
            "cut": stop.cut.kind,
            "part": stop.cut.part,
            "from_edge": round(stop.cut.position, 4),
            "fence_exact": round(stop.exact, 4),
            "fence": round(stop.setting, 4),
            "rounding": round(stop.error, 4),
            "edges": "both" if stop.cut.kind == "edge" else "as marked",
        }
        for stop in found.stops
    ]


def _pair(sizes: tuple[float, float]) -> list[float]:
    return [round(size, 4) for size in sizes]
