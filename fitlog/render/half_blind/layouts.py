"""Layouts as a table, with a drawing of the end of the best one to scale."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Sequence

from ...document import Document, remarks_document
from ...domain import Remark
from ...families.half_blind.boards import Planned
from ...families.half_blind.layouts import Covered, Found, Groove, Layout
from ...families.telling import say
from ...language.units import MM_PER_INCH, Ruler, counted
from ...texts import tell
from ..blocks import has_blocks
from ..screen import Screen, plain
from .end import SIGNS, WIDEST, drawing

_PIPE_WIDTH = 80


def layouts(screen: Screen, told: Planned, ruler: Ruler) -> None:
    """Print layouts, best first, and draw the first."""
    found = told.layouts
    _draw_first(screen, told)
    for remark in _on_groove(told):
        screen.line(say(remark, ruler))
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
    heads += [] if told.asked.groove is None else [_covering(found[0])]
    rows = [_row(number, one, ruler) for number, one in enumerate(found, 1)]
    reasons = [f"{why(one, ruler)}." for one in found]
    sizes = tell(
        "Pitch: of pins alike, which the fit is tuned for; of: the slots' own spacing where tails "
        "are wider. Pins and tails "
        "from the root to the widest; half-pins at the thinnest; cuts: passes a corner."
    )
    if screen.terminal and not screen.holds(heads, rows):
        _list(screen, heads, rows, reasons)
        screen.line(f"{_unit(ruler)}{sizes}")
    else:
        screen.table(heads, rows, right=(0, 2, 3, 4, 5, 9))
        screen.line(f"{_unit(ruler)}{sizes}")
        screen.line()
        screen.head("Why in this order")
        for number, reason in enumerate(reasons, 1):
            screen.line(f"{number}. {reason}", indent="   ")
    if told.more:
        screen.line("{more} more: see them with --all.", more=told.more)
    if told.notes:
        screen.line()
        screen.head("Note")
    for note in told.notes:
        screen.line(f"- {say(note, ruler)}", indent="  ")
    screen.line()
    screen.line("Go on with the first: {command}", command=start_command(told, ruler))


def _list(
    screen: Screen, heads: Sequence[str], rows: Sequence[Sequence[str]], reasons: Sequence[str]
) -> None:
    """Print each layout with its reasons where a table is too wide."""
    for row, reason in zip(rows, reasons, strict=True):
        sizes = (f"{tell(head)} {cell}" for head, cell in zip(heads[1:], row[1:], strict=True))
        screen.line(f"{row[0]}. {', '.join(sizes)}.", indent="   ")
        screen.line(f"   {reason}", indent="   ")
    screen.line()


def _draw_first(screen: Screen, told: Planned) -> None:
    """The end of the best layout's joint, with the groove if one was named."""
    best, groove = told.layouts[0].layout, told.asked.groove
    screen.line()
    screen.head(
        "1. {named} with {bit}, the end of the joint to scale (dark: pins and lap)"
        if groove is None
        else "1. {named} with {bit}, the end of the joint to scale, the lower edge at the left "
        "(dark: pins and lap; dotted: the groove)",
        named=_named(best),
        bit=best.bit.name,
    )
    screen.line()
    width = min(screen.width, WIDEST) if screen.terminal else _PIPE_WIDTH
    blocks = screen.terminal and has_blocks(screen, SIGNS)
    for row in drawing(best, told.asked.pin_thickness, width - 1, blocks=blocks, groove=groove):
        print(plain(row), file=screen.stream)
    screen.line()


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


def _on_groove(told: Planned) -> list[Remark]:
    """What is said of the bottom's groove, if one was named."""
    groove = told.asked.groove
    return [] if groove is None else [groove.told([one.layout for one in told.layouts])]


def _covering(best: Found) -> str:
    """What the column on the groove is called: in a list either every layout hides it or none."""
    return "groove covered by" if best.groove and best.groove.enough else "groove missed by"


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
        *([] if one.groove is None else [_cover(one.groove, size)]),
    ]


def _cover(groove: Covered, size: Callable[[float], str]) -> str:
    """What a tail covers below and above the groove, or how far it misses what it should."""
    if not groove.enough:
        return size(groove.short)
    return tell("{below} and {above}", below=size(groove.below), above=size(groove.above))


def planned_document(told: Planned, ruler: Ruler) -> Document:
    """Return the JSON of `plan`."""
    return {
        "layouts": [found_document(one, ruler) for one in told.layouts],
        "more": told.more,
        "groove": groove_document(told.asked.groove),
        "notices": remarks_document((*_on_groove(told), *told.notes), ruler),
    }


def groove_document(groove: Groove | None) -> Document | None:
    """Return a groove; at: from the lower edge to its own."""
    return (
        None
        if groove is None
        else {
            "width": round(groove.width, 4),
            "at": round(groove.at, 4),
            "depth": round(groove.depth, 4),
        }
    )


def _covered_document(found: Covered | None) -> Document | None:
    """Return what covers a groove; ground: over it, to the tail's end; missed_by: of the cover that
    is wanted.
    """
    return (
        None
        if found is None
        else {
            "tail": found.tail,
            "below": round(found.below, 4),
            "above": round(found.above, 4),
            "ground": round(found.ground, 4),
            "missed_by": round(found.short, 4),
        }
    )


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
        "groove": _covered_document(one.groove),
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
