"""What a sheet says beside its drawings: settings, particulars, trial cuts, how to do it again,
cautions.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ... import defaults
from ...advice import cautions
from ...advice.recipe import least_width
from ...domain import SetUp, Stock, TrialCut
from ...families.half_blind.layouts.job import Job
from ...families.half_blind.plan import dovetail
from ...families.telling import say
from ...language.units import Ruler, counted
from ..answer import told
from ..standing import said
from .paper import (
    Block,
    Line,
    Mark,
    Measure,
    Shape,
    Words,
    beside,
    fitted,
    paragraph,
    rise,
    set_lines,
    stacked,
    title,
    wrapped,
)

LAST_CUTS = 5
CARE = "Care"


def header(job: Job, width: float, measure: Measure) -> Block:
    """Return the number of the set-up, what it is of, and how it stands."""
    setup = job.setup
    stands = said(job.standing)
    word, more = stands.word, stands.below
    loud = not job.standing.settled or job.standing.more
    box = max(measure(word, 15, True), measure(more, 7.5, False)) + 8
    corners = ((width - box, 0.3), (width, 0.3), (width, 13.3), (width - box, 13.3))
    marks: list[Mark] = [
        Words(0.0, 8.0, f"Set-up {setup.number}", 24, True),
        Shape(corners, 0.0 if loud else 1.0, 0.5),
        Words(width - box / 2, 6.6, word, 15, True, "center", 1.0 if loud else 0.0),
        Words(width - box / 2, 11.0, more, 7.5, False, "center", 1.0 if loud else 0.0),
    ]
    named = paragraph(
        f"{setup.plan.joint}, {setup.plan.bit.name}", width - box - 5, 9, measure, most=2
    )
    return Block(max(15.0, 10.0 + named.height + 1), (*marks, *named.at(0.0, 9.8)))


def big_settings(job: Job, width: float, ruler: Ruler, measure: Measure) -> Block:
    """Return the three settings in the largest type that they fit in, each with how to
    measure it.
    """
    cell, gap = (width - 8) / 3, 4.0
    dial = job.settings.on_scale(job.setup.plan.machine)
    shown = {name: ruler.length(value) for name, value in dial.items()}
    size = fitted(shown.values(), cell - 6, 25, measure)
    notes = [wrapped(text, cell - 6, 6.8, measure) for text in _how_measured(job, ruler)]
    big = 6.2 + size * 0.28
    height = big + 2.8 + rise(6.8) * max(map(len, notes)) + 1.2
    marks: list[Mark] = []
    for n, (name, text) in enumerate(shown.items()):
        x = n * (cell + gap)
        marks.append(Shape(((x, 0.3), (x + cell, 0.3), (x + cell, height), (x, height)), 1.0, 0.45))
        marks += [
            Words(x + 3, 4.4, job.settings.family.setting(name).noun, 9, True),
            Words(x + 3, big, text, size, True),
        ]
        marks += set_lines(notes[n], 6.8).at(x + 3, big + 2.0)
    return Block(height + 0.3, tuple(marks))


def _how_measured(job: Job, ruler: Ruler) -> list[str]:
    """How each setting is measured, in the order of the settings."""
    plan, true = job.setup.plan, job.settings
    dial = true.on_scale(plan.machine)
    height, fence = "from the table", "puts a cut on the middle of the board"
    if (zero := ruler.length(job.stops.zero)) != ruler.length(dial["fence_offset"]):
        fence = f"as set; the middle of the board is cut at {zero}"
    if abs(dial["bit_height"] - true["bit_height"]) > 5e-3:
        height = f"on the machine's scale; from the table {ruler.length(true['bit_height'])}"
    if abs(dial["fence_offset"] - true["fence_offset"]) > 5e-3:
        fence += f", on the machine's scale; true {ruler.length(true['fence_offset'])}"
    far, deepest = (
        true["fence_offset"] + plan.bit.diameter / 2,
        true["socket_depth"] + job.layout.mouth / 2,
    )
    return [
        f"{height}; a new height means a new test piece",
        f"{fence}; caliper to the bit's far edge {ruler.length(far)}",
        "board's end to the bit's centre; caliper to the deepest point of the mouth "
        f"{ruler.length(deepest)}",
    ]


def facts(job: Job, ruler: Ruler) -> list[tuple[str, str]]:
    """Return the particulars of a set-up as label and value."""
    plan, layout = job.setup.plan, job.layout
    bit, pins = plan.bit, "pins in the same"
    tail_board = (
        f"{_wood(plan.stock)}, {ruler.size(plan.board_width)} wide, "
        f"{ruler.size(plan.tail_thickness)} thick"
    )
    if plan.pin_stock != plan.stock:
        pins = _wood(plan.pin_stock)
    tails = (
        f"{layout.tails}, {'wider than the pins' if layout.wide else 'like the pins'}, a "
        f"{layout.middle} in the middle"
    )
    return [
        ("bit", f"{bit.name}, {ruler.size(bit.diameter)}, {bit.angle:g} deg"),
        ("tail boards", tail_board),
        ("pin boards", f"{pins}, {ruler.size(plan.pin_thickness)} thick"),
        ("machine", plan.machine.name if plan.machine else "not named"),
        *(
            [("pitch", f"{ruler.length(dovetail(plan).pitch)}, of the passes that set the fit")]
            if layout.wide
            else []
        ),
        ("tails", tails),
        ("date", _dates(job.setup)),
    ]


def _wood(stock: Stock) -> str:
    return (
        stock.name
        if stock.species.casefold() in ("", stock.name.casefold())
        else f"{stock.name} ({stock.species})"
    )


def _dates(setup: SetUp) -> str:
    pieces = counted(len(setup.pieces()), "piece")
    last = max((cut.at for cut in setup.cuts if cut.at is not None), default=None)
    until = setup.ended or last
    return f"{setup.started:%Y-%m-%d}{f' to {until:%Y-%m-%d}' if until else ''}, {pieces}"


def particulars(
    letters: Sequence[tuple[str, str, str]],
    named: Sequence[tuple[str, str]],
    width: float,
    measure: Measure,
) -> Block:
    """Return what the letters of the drawing mean, then the particulars."""
    size, blocks = 7.5, []
    for letter, name, value in letters:
        words = (
            Words(0.0, 2.9, letter, 8, True),
            Words(5.0, 2.9, name, size),
            Words(width, 2.9, value, size, True, "right"),
        )
        blocks.append(Block(rise(size) + 0.15, words))
    blocks.append(Block(1.8, (Line(((0.0, 0.9), (width, 0.9)), 0.15),)))
    lead = max(measure(label, size, False) for label, _ in named) + 2.5
    for label, value in named:
        bold = label in ("bit", "pitch")
        blocks.append(
            beside(
                set_lines([label], size),
                paragraph(value, width - lead, size, measure, bold=bold, most=4),
                lead,
            )
        )
    return stacked(blocks)


def trial_cuts(job: Job, width: float, ruler: Ruler, measure: Measure) -> Block:
    """Return the last trial cuts: the settings used and what was said."""
    cuts, size = [cut for cut in job.setup.cuts if not cut.slot][-LAST_CUTS:], 7.0
    count = f"The last {len(cuts)} trial cuts" if len(cuts) > 1 else "The last trial cut"
    head = title(count if cuts else "Trial cuts", width)
    if not cuts:
        none = (
            "None yet: these settings are reckoned from the bit's figures and from earlier set-ups."
        )
        return stacked([head, paragraph(none, width, size, measure)])
    rows = [
        ["piece", "height", "fence", "depth", "said and measured"],
        *(_row(cut, job, ruler) for cut in cuts),
    ]
    wide = [max(measure(row[n], size, False) for row in rows) + 3.5 for n in range(4)]
    ends = [sum(wide[: n + 1]) for n in range(4)]
    blocks = []
    for row in rows:
        said = paragraph(row[4], width - ends[3] - 1, size, measure, x=ends[3] + 1, most=2)
        y = said.marks[0].y if isinstance(said.marks[0], Words) else 0.0
        numbers = tuple(
            Words(end - 2.5, y, text, size, align="right")
            for end, text in zip(ends, row, strict=False)
        )
        blocks.append(Block(said.height, (*numbers, *said.marks)))
    return stacked([head, *blocks])


def _row(cut: TrialCut, job: Job, ruler: Ruler) -> list[str]:
    dial = cut.settings.on_scale(job.setup.plan.machine)
    own = f" (a piece {ruler.size(cut.sizes['width'])} wide)" if "width" in cut.sizes else ""
    return [
        str(cut.piece),
        *(ruler.length(value) for value in dial.values()),
        told(cut, ruler) + own,
    ]


def again(job: Job, width: float, ruler: Ruler, measure: Measure) -> Block:
    """Return how the joint is made again, in a few lines."""
    plan, found = job.setup.plan, job.rabbet
    over = ruler.length(defaults.RABBET_OVER)
    how = (
        "a straight bit"
        if dovetail(plan).rabbet_bit == "straight"
        else "this bit at this height, the inside face to the fence"
    )
    zero = plan.machine.fence_zero if plan.machine else 0.0
    below = any(one.fence is not None and one.fence < zero for one in found)
    behind = (
        f" (below {ruler.length(zero)} the bit's centre lies behind the fence's face)"
        if below
        else ""
    )
    fences = [ruler.length(one.fence) for one in found if one.fence is not None]
    passes = (
        f"fence at {', '.join(fences)}{behind}"
        if fences
        else f"{', '.join(ruler.length(p.depth) for p in found)} deep"
    )
    deep, long = ruler.length(dovetail(plan).rabbet_depth), ruler.length(job.settings["bit_height"])
    lines = [
        f"Rabbet the tails' inside {deep} deep and {long} long (up to {over} more, never less) "
        f"with {how}: {passes}.",
        _test_piece(job, ruler),
        *(say(remark, ruler) for remark in job.notices),
    ]
    return stacked(
        [
            title("To make it again", width),
            *(paragraph(line, width, 7.0, measure) for line in lines),
        ],
        0.3,
    )


def _test_piece(job: Job, ruler: Ruler) -> str:
    """How to cut the piece that shows whether all is still as it was."""
    plan, fence = job.setup.plan, job.settings.on_scale(job.setup.plan.machine)["fence_offset"]
    least = least_width(plan)
    if plan.board_width < least:
        wide = ruler.size(math.ceil(least))
        return (
            f"Test piece first: these boards are too narrow for one; take a scrap {wide} wide, "
            "fitlog start --scrap-width."
        )
    turn = ", then turn it, pass again, look for the shaving" if "centre" in plan.in_play else ""
    wide, first = ruler.size(plan.board_width), ruler.length(fence + dovetail(plan).pitch)
    return (
        f"Test piece first: a scrap {wide} wide, rabbeted; fence at {first}, "
        f"then {ruler.length(fence)}, the same edge to the fence; one socket "
        f"{ruler.length(job.settings['socket_depth'])} deep; "
        f"judge fit and seat{turn}."
    )


def care(job: Job, width: float, ruler: Ruler, measure: Measure) -> Block:
    """Return the cautions in two columns."""
    column = (width - 6) / 2
    found = [
        paragraph(say(r, ruler), column, 6.2, measure) for r in cautions.opening(job.setup.plan)
    ]
    split = [
        beside(stacked(found[:n], 0.25), stacked(found[n:], 0.25), column + 6)
        for n in range(1, len(found))
    ]
    return stacked([title(CARE, width), min(split, key=lambda block: block.height)])
