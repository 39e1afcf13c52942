"""Which page each part of a sheet goes to, and where the true-scale marks then lie. Lengths mm, y
from the page's top.
"""

from __future__ import annotations

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
)

_FOOT = 4.2
_DRAWING = 0.46  # of the width
_SOUGHT = {tell("Story stick"): STICK, tell("Cautions"): parts.CARE}
_DRAWN = (
    60.0,
    54.0,
    50.0,
    46.0,
    42.0,
)  # heights that the drawing may have; the highest that costs no page


def sheet(job: Job, paper: str, ruler: Ruler, measure: Measure) -> tuple[Page, ...]:
    """Return the pages of a set-up's sheet. paper: one of PAPERS."""
    wide, high = PAPERS[paper]
    width, height = wide - 2 * MARGIN, high - 2 * MARGIN - _FOOT
    head, rest = _blocks(job, width, height, ruler, measure)
    tried = []
    for drawn in _DRAWN:
        joined = _drawing(job, drawn, width, ruler, measure)
        tried.append(_flow([*head, joined, *rest], height))
    flow = min(tried, key=len)
    return tuple(
        _page(job, blocks, n, len(flow), (wide, high), _elsewhere(flow))
        for n, blocks in enumerate(flow, 1)
    )


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
    job: Job, width: float, height: float, ruler: Ruler, measure: Measure
) -> tuple[list[Block], list[Block]]:
    """The parts before and after the drawing, in the order of their weight: what comes first finds
    its place first.
    """
    own = own_of(job.setup.plan)
    head = [parts.header(job, width, measure), parts.big_settings(job, width, ruler, measure)]
    return head, [
        *(own.blocks(job, width, height, ruler, measure) if own else []),
        parts.trial_cuts(job, width, ruler, measure),
        *(block for block in [parts.again(job, width, ruler, measure)] if block is not None),
        parts.care(job, width, ruler, measure),
    ]


def _drawing(job: Job, height: float, width: float, ruler: Ruler, measure: Measure) -> Block:
    """The joint, where its family draws one, and beside it what its letters mean and the
    particulars.
    """
    own, named = own_of(job.setup.plan), parts.facts(job, ruler)
    if own is None:
        return parts.particulars([], named, width, measure)
    drawn = width * _DRAWING
    told = parts.particulars(own.letters(job, ruler), named, width - drawn - 5, measure)
    return beside(own.drawing(job, drawn, max(height, told.height), measure), told, drawn + 5)


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
        Words(MARGIN, foot, tell("fitlog sheet, set-up {number}", number=job.setup.number), 6.5)
    )
    told = tell(
        "Print at 100 %, not fitted to the page.{elsewhere}",
        elsewhere=elsewhere if number == 1 else "",
    )
    marks.append(Words(wide / 2, foot, told, 6.5, align="center"))
    marks.append(
        Words(
            wide - MARGIN,
            foot,
            tell("page {number} of {count}", number=number, count=count),
            6.5,
            align="right",
        )
    )
    return Page(wide, high, tuple(marks))
