"""What the sheet of a half-blind dovetail has of its own: how its settings are measured, the joint
and the story stick, the stops, and how it is made again. See `sheet.own`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ...domain import Plan
from ...families.bits import radius
from ...families.half_blind import figures
from ...families.half_blind.layouts.job import Job
from ...families.half_blind.plan import dovetail
from ...families.half_blind.recipe import least_width
from ...families.half_blind.widths import Widths, widths
from ...families.telling import say
from ...language.numbers import content
from ...language.units import Ruler
from ...texts import tell
from ..sheet.paper import (
    AT_MACHINE,
    Block,
    Measure,
    filled,
    paragraph,
    stacked,
)
from ..sheet.parts import wood
from . import joint, schedule, stick, stops_table
from .hands import picture as hands_picture
from .marks import marks as marks

# Of the steps before each part, those that say what is dangerous or what spoils the joint.
_MINDED = (
    *("rabbet-size", "rabbet-passes", "tails-first", "open-edges", "pin-depth", "socket-passes"),
    *("fence-out", "shim-edge"),
)


def how_measured(job: Job, ruler: Ruler) -> list[str]:
    """How each setting is measured, in the order of the settings."""
    plan, true = job.setup.plan, job.settings
    dial = true.on_scale(plan.machine)
    height, fence = tell("the bit above the table"), ""
    if (zero := ruler.length(job.stops.zero)) != ruler.length(dial["fence_offset"]):
        fence = tell("as set; the middle of the board is cut at {zero}; ", zero=zero)
    if abs(dial["bit_height"] - true["bit_height"]) > 5e-3:
        height = tell(
            "from the table {bit_height}",
            bit_height=ruler.length(true["bit_height"]),
        )
    if abs(dial["fence_offset"] - true["fence_offset"]) > 5e-3:
        fence += tell(
            "true {fence_offset}; ",
            fence_offset=ruler.length(true["fence_offset"]),
        )
    far, deepest = (
        true["fence_offset"] + radius(plan.bit),
        true["socket_depth"] + job.layout.mouth / 2,
    )
    return [
        height,
        tell("{fence}far edge of the bit {far}", fence=fence, far=ruler.length(far)),
        tell("deepest point {deepest}", deepest=ruler.length(deepest)),
    ]


def facts(job: Job, ruler: Ruler) -> list[tuple[str, str]]:
    """Return the boards, the machine and the layout as label and value."""
    plan, layout = job.setup.plan, job.layout
    tail_board = tell(
        "{wood}, {board_width} wide, {tail_thickness} thick, {moisture}",
        wood=wood(plan.stock),
        board_width=ruler.size(plan.board_width),
        tail_thickness=ruler.size(plan.tail_thickness),
        moisture=_moisture(plan.moisture),
    )
    pins = wood(plan.pin_stock) if plan.pin_stock != plan.stock else tell("the same")
    tails = tell(
        "{tails}, {how}, a {middle} in the middle",
        tails=layout.tails,
        how="wider than the pins" if layout.wide else "like the pins",
        middle=layout.middle,
    )
    return [
        (tell("tail boards"), tail_board),
        (
            tell("pin boards"),
            tell(
                "{pins}, {pin_thickness} thick, {moisture}",
                pins=pins,
                pin_thickness=ruler.size(plan.pin_thickness),
                moisture=_moisture(plan.pin_moisture),
            ),
        ),
        (tell("machine"), plan.machine.name if plan.machine else tell("not named")),
        *(
            [
                (
                    tell("pitch"),
                    tell(
                        "{pitch}, of the passes that set the fit",
                        pitch=ruler.length(dovetail(plan).pitch),
                    ),
                )
            ]
            if layout.wide
            else []
        ),
        (tell("tails"), tails),
        (tell("M, T, K"), known_by(_widths(job), ruler)),
    ]


def _moisture(share: float | None) -> str:
    """A board's moisture on the day of `start`; where it was not measured, room to write it."""
    return tell("moisture {share}", share="_____ %" if share is None else content(share))


def _widths(job: Job) -> Widths:
    return widths(job.setup, job.past, job.layout, job.settings)


def known_by(found: Widths, ruler: Ruler) -> str:
    """Return what the widths of mouth and tail are known by, and how well where that is worse than
    the window of the fit.
    """
    how = {
        "measured": tell("M measured, the others by it and the log"),
        "log": tell("by what the log knows of the bit"),
        "figures": tell("by the bit's figures less what bits usually lack"),
    }[found.by]
    if not found.rough:
        return how
    doubt, window = ruler.doubt(found.doubt), ruler.doubt(found.window)
    text = tell(
        "{how}, to +-{doubt} (90 %); the window is +-{window}",
        how=how,
        doubt=doubt,
        window=window,
    )
    if found.by == "measured":
        return text
    return tell("{text}. Better: measure one, fitlog sheet --mouth L", text=text)


def letters(job: Job, ruler: Ruler) -> list[tuple[str, str, str]]:
    """Return the letters of the drawing."""
    return joint.letters(job.layout, job.setup.plan.pin_thickness, _widths(job), ruler)


def labelled(plan: Plan, ruler: Ruler) -> list[str]:
    """Return the pitch, and what the slots are apart where that is another."""
    own = dovetail(plan)
    found = [tell("pitch {pitch}", pitch=ruler.length(own.pitch))]
    if own.spacing is not None and own.spacing - own.pitch > 1e-6:
        found.append(tell("spacing {spacing}", spacing=ruler.length(own.spacing)))
    return found


def hands(width: float, measure: Measure) -> Block:
    """Return the hand rule as a picture."""
    return hands_picture(width, measure)


def minded(job: Job, ruler: Ruler) -> list[str]:
    """Return what is to be minded at each step, as the stops' screen does."""
    return [
        say(remark, ruler, short=True)
        for _, remarks in job.sections
        for remark in remarks
        if remark.code in _MINDED
    ]


def scheduled(job: Job) -> tuple[Sequence[str], Sequence[Sequence[str]]]:
    """Return the columns and the rows of the order of the boards; none where none were named."""
    return schedule.HEADS[1:], [row[1:] for row in schedule.rows(job.schedule)]


def drawing(job: Job, width: float, height: float, measure: Measure) -> Block:
    """Return the section along the pin board's end."""
    thick = job.setup.plan.pin_thickness
    return joint.drawing(job.layout, thick, width, height, measure, job.groove)


def blocks(job: Job, width: float, height: float, ruler: Ruler, measure: Measure) -> list[Block]:
    """Return the stops with rabbet and test piece, and the story stick."""
    lines = (_rabbet(job, ruler), _test_piece(job, ruler))
    told = stacked([paragraph(line, width, AT_MACHINE, measure) for line in lines], 0.4)
    first, *more = stops_table.tables(job, width, height - told.height - 0.8, ruler, measure)
    story = _story(job, width, height, ruler, measure)
    return [stacked([first, told], 0.8), *more, *story]


def _rabbet(job: Job, ruler: Ruler) -> str:
    """The rabbet's size, and which bit cuts it."""
    plan = dovetail(job.setup.plan)
    how = tell("a straight bit" if plan.rabbet_bit == "straight" else "this bit at this height")
    return tell(
        "Rabbet the tails' inside {deep} deep, {long} to {longest} long, with {how}.",
        deep=ruler.length(plan.rabbet_depth),
        long=ruler.length(job.settings["bit_height"], bare=True),
        longest=ruler.length(job.settings["bit_height"] + figures.RABBET_OVER),
        how=how,
    )


def _test_piece(job: Job, ruler: Ruler) -> str:
    """How to cut the piece that shows whether all is still as it was."""
    plan, fence = job.setup.plan, job.settings.on_scale(job.setup.plan.machine)["fence_offset"]
    least = least_width(plan)
    if plan.board_width < least:
        wide = ruler.size(math.ceil(least))
        return tell(
            "Test piece first: these boards are too narrow for one; take a scrap {wide} wide, "
            "fitlog start --scrap-width.",
            wide=wide,
        )
    # The fence may have moved since: a second pass could shave the wall at it.
    walls = tell(", then measure both walls, no turn")
    shown = walls if "centre" in plan.in_play else ""
    wide, first = ruler.size(plan.board_width), ruler.length(fence + dovetail(plan).pitch)
    return tell(
        "Test piece first: a scrap {wide} wide, rabbeted; fence at {first}, then {fence}, the same "
        "edge to it; one socket {socket_depth} deep; judge fit and seat{shown}.",
        wide=wide,
        first=first,
        fence=ruler.length(fence),
        socket_depth=ruler.length(job.settings["socket_depth"]),
        shown=shown,
    )


def _story(job: Job, width: float, height: float, ruler: Ruler, measure: Measure) -> list[Block]:
    """The story stick with its bar: one block, or as many as it takes pages."""
    all_ = stick.strips(job.layout, width)
    found = [
        stick.strip_block(job.stops, job.setup.plan.pin_thickness, all_, n, measure, job.groove)
        for n in range(len(all_))
    ]
    head = stick.head(width, len(all_), ruler)
    blocks, some = [], list[Block]()
    for block in found:
        if some and filled([head, *some, block]) > height:
            blocks.append(stacked([head, *some], 1.0))
            some = []
        some.append(block)
    return [*blocks, stacked([head, *some], 1.0)]
