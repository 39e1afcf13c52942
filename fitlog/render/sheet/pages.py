"""Which page each part of a sheet goes to, and where the true-scale marks then lie. Lengths mm, y
from the page's top.
"""

from __future__ import annotations

from typing import NamedTuple

from ...families.boards import Job
from ...language.units import Ruler
from ...texts import tell
from . import parts
from .own import own_of
from .paper import (
    GAP,
    MARGIN,
    PAPERS,
    STICK,
    Block,
    Mark,
    Measure,
    Page,
    Words,
    beside,
    filled,
    stacked,
)
from .ticked import schedule
from .written import NOTHING, Written

_FOOT = 4.2
_DRAWING = 0.35  # of the width
_SOUGHT = {tell("Story stick"): STICK, tell("Cautions"): parts.CARE}


class _Room(NamedTuple):
    """How much room parts may take that can do with less.

    drawn: the joint's height, mm.  cuts: how many are listed; 0: the last one's words alone.
    small: the type of the cautions, points.  apart: the rule of the edges lies by itself, with what
    else is read at the machine.
    """

    drawn: float
    cuts: int
    small: float
    apart: bool = False


# The roomiest that takes one page; else that takes the fewest, the cautions on the first if it can.
_ROOMS = (
    _Room(52.0, parts.LAST_CUTS, 7.5),
    _Room(44.0, parts.LAST_CUTS, 7.0),
    _Room(36.0, parts.LAST_CUTS, 7.0),
    _Room(34.0, parts.LAST_CUTS, 6.5),
    _Room(34.0, 3, 6.2),
    _Room(32.0, 0, 6.2),
    _Room(60.0, parts.LAST_CUTS, 7.5, apart=True),
    _Room(60.0, parts.LAST_CUTS, 7.0, apart=True),
    _Room(52.0, parts.LAST_CUTS, 6.5, apart=True),
)


def sheet(
    job: Job, paper: str, ruler: Ruler, measure: Measure, written: Written = NOTHING
) -> tuple[Page, ...]:
    """Return the pages of a set-up's sheet. paper: one of PAPERS; written: what a person wrote of
    it.
    """
    wide, high = PAPERS[paper]
    width, height = wide - 2 * MARGIN, high - 2 * MARGIN - _FOOT
    tried = []
    for room in _ROOMS:
        flow = _flow(_blocks(job, (width, height), room, ruler, measure, written), height)
        tried.append((_rank(flow, room), flow))
        if len(flow) == 1:
            break
    _, flow = min(tried, key=lambda one: one[0])
    return tuple(
        _page(job, blocks, n, len(flow), (wide, high), _elsewhere(flow))
        for n, blocks in enumerate(flow, 1)
    )


def _rank(flow: list[list[Block]], room: _Room) -> tuple[int, bool, bool]:
    """The lower the better: few pages, what is read at the machine on one, the cautions on the
    first.
    """
    first = {mark.text for block in flow[0] for mark in block.marks if isinstance(mark, Words)}
    return len(flow), not room.apart, parts.CARE not in first


def _elsewhere(flow: list[list[Block]]) -> str:
    """Where on other pages than the first the story stick and the cautions are; "" where it has
    both.
    """
    found: dict[str, int] = {}
    for number, blocks in enumerate(flow, 1):
        texts = {mark.text for block in blocks for mark in block.marks if isinstance(mark, Words)}
        found |= {
            what: number for what, text in _SOUGHT.items() if text in texts and what not in found
        }
    return "".join(
        tell(" {what}: page {number}.", what=what, number=number)
        for what, number in found.items()
        if number > 1
    )


def _flow(blocks: list[Block], height: float) -> list[list[Block]]:
    """Return the blocks of each page: every one goes to the first page that still has
    room for it.
    """
    flow: list[list[Block]] = []
    for block in blocks:
        page = next((page for page in flow if filled([*page, block]) <= height), None)
        if page is None:
            flow.append([block])
        else:
            page.append(block)
    return flow


def _blocks(
    job: Job,
    size: tuple[float, float],
    room: _Room,
    ruler: Ruler,
    measure: Measure,
    written: Written,
) -> list[Block]:
    """The parts in the order of their weight: what comes first finds its place first, what is read
    at the machine before what is read at the desk.
    """
    (width, height), own = size, own_of(job.setup.plan)
    drawing = _drawing(job, room, width, ruler, measure)
    care = parts.care(job, width, ruler, measure, room.small)
    found = [
        parts.header(job, width, measure, written),
        parts.big_settings(job, width, ruler, measure),
        parts.warnings(job, width, ruler, measure),
        *own.blocks(job, width, height, ruler, measure),
        *([own.hands(width, measure)] if room.apart else []),
        *([care, drawing] if room.apart or not own.letters(job, ruler) else [drawing, care]),
        *([parts.trial_cuts(job, width, ruler, measure, room.cuts)] if room.cuts else []),
        *schedule(
            tell("The boards: every end at one stop first, then the fence out to the next"),
            written.columns,
            written.rows,
            width,
            height,
            measure,
        ),
    ]
    return [block for block in found if block.height]


def _drawing(job: Job, room: _Room, width: float, ruler: Ruler, measure: Measure) -> Block:
    """The joint and its letters, where its family draws one, and beside them the particulars, below
    the rule of its edges where that does not lie apart.
    """
    own = own_of(job.setup.plan)
    named = [*parts.facts(job, ruler), *([] if room.cuts else parts.last_said(job, ruler))]
    drawn, lettered = width * _DRAWING, own.letters(job, ruler)
    if not lettered:
        return parts.particulars(named, width, measure)
    letters = parts.letters(lettered, drawn, measure)
    right = width - drawn - 5
    hands = [] if room.apart else [own.hands(right, measure)]
    beside_it = stacked([*hands, parts.particulars(named, right, measure)], 1.0)
    high = max(room.drawn, beside_it.height - letters.height - 1.0)
    shown = own.drawing(job, drawn, high, measure)
    return beside(stacked([shown, letters], 1.0), beside_it, drawn + 5)


def _page(
    job: Job,
    blocks: list[Block],
    number: int,
    count: int,
    size: tuple[float, float],
    elsewhere: str,
) -> Page:
    wide, high = size
    marks: list[Mark] = []
    y = MARGIN
    for block in blocks:
        marks += block.at(MARGIN, y)
        y += block.height + GAP
    foot = high - MARGIN - 1.0
    marks.append(
        Words(MARGIN, foot, tell("fitlog sheet, set-up {number}", number=job.setup.number), 7)
    )
    told = tell(
        "Print at 100 %, not fitted to the page.{elsewhere}",
        elsewhere=elsewhere if number == 1 else "",
    )
    marks.append(Words(wide / 2, foot, told, 7, align="center"))
    marks.append(
        Words(
            wide - MARGIN,
            foot,
            tell("page {number} of {count}", number=number, count=count),
            7,
            align="right",
        )
    )
    return Page(wide, high, tuple(marks))
