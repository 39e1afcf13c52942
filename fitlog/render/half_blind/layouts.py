"""Layouts as a table, with a drawing of the end of the best one to scale."""

from __future__ import annotations

import math
import shlex

from ...document import Document, remarks_document
from ...families.half_blind.boards import Planned
from ...families.half_blind.layouts import Found, Layout
from ...families.telling import say
from ...language.units import MM_PER_INCH, Ruler, counted
from ...texts import tell
from ..blocks import has_blocks
from ..screen import Screen, plain

_CHAR_TALL = 2.0  # a character is about twice as tall as it is wide
_PIPE_WIDTH, _WIDEST = 80, 100
_HALVES = "\u2588\u2580\u2584"  # a whole block, its upper half, its lower half


def layouts(screen: Screen, told: Planned, ruler: Ruler) -> None:
    """Print layouts, best first, and draw the first."""
    found, thickness = told.layouts, told.asked.pin_thickness
    best = found[0]
    screen.line()
    screen.head(
        "1. {named} with {bit}, the end of the joint to scale (dark: pins and lap)",
        named=_named(best.layout),
        bit=best.layout.bit.name,
    )
    screen.line()
    width = min(screen.width, _WIDEST) if screen.terminal else _PIPE_WIDTH
    for row in drawing(
        best.layout, thickness, width - 1, blocks=screen.terminal and has_blocks(screen, _HALVES)
    ):
        print(plain(row), file=screen.stream)
    screen.line()
    heads = [
        "",
        "bit",
        "tails",
        "pitch",
        "height",
        "lap",
        "pins",
        "tails wide",
        "half-pins",
        "cuts",
    ]
    rows = [_row(number, one, ruler) for number, one in enumerate(found, 1)]
    screen.table(heads, rows, right=(0, 2, 3, 4, 5, 9))
    sizes = tell(
        "Pitch: of pins alike, which the fit is tuned for; of: the slots' own spacing where tails "
        "are wider. Pins and tails "
        "from the root to the widest; half-pins at the thinnest; cuts: passes a corner."
    )
    screen.line(f"{_unit(ruler)}{sizes}")
    screen.line()
    screen.head("Why in this order")
    for number, one in enumerate(found, 1):
        screen.line(f"{number}. {why(one, ruler)}.", indent="   ")
    if told.more:
        screen.line("{more} more: see them with --all.", more=told.more)
    if told.notes:
        screen.line()
        screen.head("Note")
    for note in told.notes:
        screen.line(f"- {say(note, ruler)}", indent="  ")
    screen.line()
    screen.line("Go on with the first: {command}", command=start_command(told, ruler))


def start_command(told: Planned, ruler: Ruler) -> str:
    """Return the command that opens a set-up for the best layout, as this person would type it."""
    boards, asked, best = told.wish, told.asked, told.layouts[0]
    layout, mm = best.layout, ruler.units == "mm"

    def size(length: float, more: int = 0) -> str:
        if ruler.units == "fraction":
            return ruler.exact(length)
        number = f"{length:.{3 + more}f}" if mm else f"{length / MM_PER_INCH:.{4 + more}f}"
        return number.rstrip("0").rstrip(".") + ("" if mm else "in")

    parts = ["fitlog", "start", "--bit", layout.bit.name, "--stock", boards.stock.name]
    parts += ["--pin-stock", boards.pin_stock.name] if boards.pin_stock is not boards.stock else []
    parts += ["--machine", boards.machine.name] if boards.machine is not None else []
    finer = 3 if best.true else 0  # a pitch on the marks is one exactly
    parts += ["--pitch", size(layout.pitch, finer), "--tails", str(layout.tails)]
    parts += ["--spacing", size(layout.spacing, finer)] if layout.wide else []
    for option, value, usual in (
        ("--width", asked.width, boards.stock.width),
        ("--thickness", asked.tail_thickness, boards.stock.thickness),
        ("--pin-thickness", asked.pin_thickness, boards.pin_stock.thickness),
    ):
        parts += [option, size(value)] if abs(value - usual) > 1e-9 else []
    return shlex.join([*parts, *(["--spacer"] if boards.spaced else [])])


def why(one: Found, ruler: Ruler) -> str:
    """Return what ranks a layout: what speaks for it and what against it."""
    sides = ((tell("For"), False), (tell("Against"), True))
    told = {
        side: "; ".join(say(mark.told, ruler) for mark in one.marks if mark.against == against)
        for side, against in sides
    }
    return ". ".join(f"{side}: {texts}" for side, texts in told.items() if texts)


def _named(layout: Layout) -> str:
    kind = tell("wide tails" if layout.wide else "tails and pins alike")
    return tell(
        "{tails}, {kind}, a {middle} in the middle",
        tails=counted(layout.tails, "tail"),
        kind=kind,
        middle=layout.middle,
    )


def _unit(ruler: Ruler) -> str:
    return {"mm": tell("In mm. "), "inch": tell("In inches. ")}.get(ruler.units, "")


def _row(number: int, one: Found, ruler: Ruler) -> list[str]:
    layout = one.layout

    def dial(value: float) -> str:
        return ruler.length(value, bare=True)

    def size(
        value: float,
    ) -> str:  # nobody dials it: to the nearest 64th where fractions are preferred
        nearest = round(value / MM_PER_INCH * 64) / 64 * MM_PER_INCH
        return ruler.length(nearest if ruler.units == "fraction" else value, bare=True)

    pitch = dial(layout.pitch) + (
        tell(" of {dial}", dial=dial(layout.spacing)) if layout.wide else ""
    )
    return [
        str(number),
        layout.bit.name,
        str(layout.tails),
        pitch,
        dial(layout.height),
        size(one.lap),
        " to ".join(map(size, layout.pin)),
        " to ".join(map(size, layout.tail)),
        size(layout.half_pin[0]),
        str(layout.cuts),
    ]


def drawing(layout: Layout, thickness: float, columns: int, *, blocks: bool) -> list[str]:
    """Return the end of the pin board with the tails in it, to scale, inside face down; pins and
    lap are dark.

    thickness: of the pin board, mm.  columns: the most to use.  blocks: half blocks double the
    height's resolution.
    """
    across = max(20, min(columns, _WIDEST)) - 2
    scale = layout.width / across  # mm per column
    per_row = scale * _CHAR_TALL
    count = max(3, round(thickness / per_row))
    rows = ["+" + "-" * across + "+"] if not blocks else []
    for row in range(count):
        top, bottom = (thickness * (1 - (row + part) / count) for part in (0.25, 0.75))
        cells = [
            _cell(
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


def _solid(layout: Layout, x: float, z: float) -> bool:
    """Whether the pin board has wood at x from its edge, z above its inside face, mm."""
    if z > layout.height:
        return True
    half = layout.mouth / 2 + z * math.tan(layout.bit.theta)
    return not any(passes[0] - half < x < passes[-1] + half for passes in layout.sockets)


def planned_document(told: Planned, ruler: Ruler) -> Document:
    """Return the JSON of `plan`."""
    return {
        "layouts": [found_document(one, ruler) for one in told.layouts],
        "more": told.more,
        "notices": remarks_document(told.notes, ruler),
    }


def layout_document(layout: Layout) -> Document:
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


def found_document(one: Found, ruler: Ruler) -> Document:
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


def _pair(sizes: tuple[float, float]) -> list[float]:
    return [round(size, 4) for size in sizes]
