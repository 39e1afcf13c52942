"""Which page each part of a sheet goes to, and where the true-scale marks then lie. Lengths mm, y
from the page's top.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...families.half_blind.layouts.job import Job
from ...language.units import Ruler
from . import joint, parts, stick, stops_table
from .paper import MARGIN, PAPERS, Block, Mark, Measure, Words, beside, stacked

_GAP = 2.1
_FOOT = 4.2
_DRAWING = 0.46  # of the width
_SOUGHT = {"Story stick": stick.HEADING, "Cautions": parts.CARE}
_DRAWN = (
    60.0,
    54.0,
    50.0,
    46.0,
    42.0,
)  # heights that the drawing may have; the highest that costs no page


@dataclass(frozen=True)
class Page:
    """One page: its size and its marks."""

    width: float
    height: float
    marks: tuple[Mark, ...]


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
    return "".join(f" {what}: page {number}." for what, number in found.items() if number > 1)


def _flow(blocks: list[Block], height: float) -> list[list[Block]]:
    """Return the blocks of each page: every one goes to the first page that still has
    room for it.
    """
    flow: list[list[Block]] = []
    for block in blocks:
        page = next((page for page in flow if _filled([*page, block]) <= height), None)
        if page is None:
            flow.append([block])
        else:
            page.append(block)
    return flow


def _filled(blocks: list[Block]) -> float:
    return sum(block.height for block in blocks) + _GAP * (len(blocks) - 1)


def _blocks(
    job: Job, width: float, height: float, ruler: Ruler, measure: Measure
) -> tuple[list[Block], list[Block]]:
    """The parts before and after the drawing, in the order of their weight: what comes first finds
    its place first.
    """
    head = [parts.header(job, width, measure), parts.big_settings(job, width, ruler, measure)]
    return head, [
        *_story(job, width, height, ruler, measure),
        *stops_table.tables(job, width, height, ruler, measure),
        parts.trial_cuts(job, width, ruler, measure),
        parts.again(job, width, ruler, measure),
        parts.care(job, width, ruler, measure),
    ]


def _drawing(job: Job, height: float, width: float, ruler: Ruler, measure: Measure) -> Block:
    """The joint, and beside it what its letters mean and the particulars."""
    thick, drawn = job.setup.plan.pin_thickness, width * _DRAWING
    letters, named = joint.letters(job.layout, thick, ruler), parts.facts(job, ruler)
    told = parts.particulars(letters, named, width - drawn - 5, measure)
    return beside(
        joint.drawing(job.layout, thick, drawn, max(height, told.height), measure), told, drawn + 5
    )


def _story(job: Job, width: float, height: float, ruler: Ruler, measure: Measure) -> list[Block]:
    """The story stick with its bar: one block, or as many as it takes pages."""
    all_ = stick.strips(job.layout, width)
    found = [
        stick.strip_block(job.stops, job.setup.plan.pin_thickness, all_, n, measure)
        for n in range(len(all_))
    ]
    head = stick.head(width, len(all_), ruler)
    blocks, some = [], list[Block]()
    for block in found:
        if some and _filled([head, *some, block]) > height:
            blocks.append(stacked([head, *some], 1.0))
            some = []
        some.append(block)
    return [*blocks, stacked([head, *some], 1.0)]


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
        y += block.height + _GAP
    foot = high - MARGIN - 1.0
    marks.append(Words(MARGIN, foot, f"fitlog sheet, set-up {job.setup.number}", 6.5))
    told = f"Print at 100 %, not fitted to the page.{elsewhere if number == 1 else ''}"
    marks.append(Words(wide / 2, foot, told, 6.5, align="center"))
    marks.append(Words(wide - MARGIN, foot, f"page {number} of {count}", 6.5, align="right"))
    return Page(wide, high, tuple(marks))
