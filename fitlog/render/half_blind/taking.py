"""Which widths take a set-up's pitch: a line a layout, and how far the others miss."""

from __future__ import annotations

from ...document import Document
from ...families.half_blind.layouts import Layout
from ...families.half_blind.layouts.other import Miss, Taking, Width, told_miss
from ...language.units import Ruler, counted
from ...texts import tell
from ..screen import Screen
from .layouts import layout_document

_SHOWN = 2  # layouts of a width


def taking(screen: Screen, told: Taking, ruler: Ruler, *, every: bool) -> None:
    """Print what each width takes, and the command that gives its stops. every: all layouts, not
    only the best.
    """
    plan = told.plan
    screen.line()
    screen.head(
        "Like set-up {number}: {bit}, pitch {pitch}, bit height {height}",
        number=told.number,
        bit=plan.bit.name,
        pitch=ruler.length(plan.pitch),
        height=ruler.length(told.settings.on_scale(plan.machine)["bit_height"]),
    )
    for one in told.widths:
        _width(screen, one, ruler, None if every else _SHOWN)
    best = next((one for one in told.widths if one.found), None)
    if best is not None:
        screen.line()
        screen.line(
            "Go on: fitlog stops --setup {number} --width {width} --tails {tails}",
            number=told.number,
            width=ruler.exact(best.width),
            tails=best.found[0].tails,
        )


def _width(screen: Screen, one: Width, ruler: Ruler, most: int | None) -> None:
    lead = ruler.size(one.width)
    if one.miss is not None:
        screen.line(
            "{width}: not with tails and pins alike; {miss}.",
            width=lead,
            miss=told_miss(one.miss).told(ruler.size if ruler.units == "mm" else ruler.told),
            indent="  ",
        )
    for each in one.found[:most]:
        screen.line("{width}: {layout}", width=lead, layout=_told(each, ruler), indent="  ")
    if not one.found and one.miss is None:
        screen.line("{width}: no layout of this pitch.", width=lead, indent="  ")


def _told(layout: Layout, ruler: Ruler) -> str:
    tails, thin = counted(layout.tails, "tail"), ruler.size(layout.half_pin[0])
    if layout.wide:
        return tell(
            "{tails}, wide ({wide}), half-pins {thin}",
            tails=tails,
            wide=ruler.size(layout.tail[1]),
            thin=thin,
        )
    return tell("{tails} like the pins, half-pins {thin}", tails=tails, thin=thin)


def taking_document(told: Taking, ruler: Ruler) -> Document:
    """Return it as JSON, lengths mm, the bit height on the user's own scale. misses: null where
    tails and pins alike go; else the nearest widths that take them, narrower null for none.
    """
    height = told.settings.on_scale(told.plan.machine)["bit_height"]
    return {
        "setup": told.number,
        "bit": told.plan.bit.name,
        "pitch": round(told.plan.pitch, 4),
        "bit_height": round(height, 4),
        "widths": [
            {
                "board_width": round(one.width, 4),
                "misses": None if one.miss is None else _miss_document(one.miss),
                "layouts": [layout_document(each) for each in one.found],
            }
            for one in told.widths
        ],
    }


def _miss_document(found: Miss) -> Document:
    def near(width: float, tails: int) -> Document:
        return {"width": round(width, 4), "tails": tails}

    return {
        "narrower": None if found.narrower is None else near(*found.narrower),
        "wider": near(*found.wider),
    }
