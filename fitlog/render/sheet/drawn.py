"""The sheet of a family that says what it is by data alone: its `Drawing`s at full size, what their
letters measure, its stops and what to do before each part. See `own.Own`.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...document import Document
from ...domain import Plan
from ...families.boards import Job
from ...families.drawing import drawings_of, in_order, labelled_of
from ...families.telling import say
from ...language.english.names import woods
from ...language.units import Ruler
from ...texts import tell
from ..drawing import Picture, legend, lettered, measures, picture
from ..tables import cells
from .bar import barred, bars_on
from .paper import Block, Line, Measure, Page, beside, paragraph, stacked, title
from .ticked import schedule

_BETWEEN = 5.0
_HIGHEST = 0.55  # of a page, that one drawing takes
_STEP = 8.0  # points
_LEGEND = 62.0  # mm, the least width that its measures are read in


def how_measured(job: Job, ruler: Ruler) -> list[str]:
    """Where each setting is in the drawings."""
    drawings = drawings_of(job)
    letters = lettered(drawings)
    named = {one.setting: letters[one.name] for d in drawings for one in d.dimensions}
    return [
        tell("{letter} in the drawing", letter=named[kind.name]) if kind.name in named else ""
        for kind in job.settings.family.settings
    ]


def facts(job: Job, ruler: Ruler) -> list[tuple[str, str]]:
    """The boards and the machine."""
    plan = job.setup.plan
    first, second = ruler.size(plan.tail_thickness), ruler.size(plan.pin_thickness)
    sizes = tell(
        "{width} wide, {thick} thick",
        width=ruler.size(plan.board_width),
        thick=first if first == second else tell("{one} and {two}", one=first, two=second),
    )
    machine = plan.machine.name if plan.machine else tell("not named")
    return [
        (tell("stock"), woods(plan.stock.name, plan.pin_stock.name)),
        (tell("boards"), sizes),
        (tell("machine"), machine),
    ]


def letters(job: Job, ruler: Ruler) -> list[tuple[str, str, str]]:
    """Nothing beside the particulars: the letters stand beside their drawings."""
    return []


def drawing(job: Job, width: float, height: float, measure: Measure) -> Block:
    """Nothing beside the particulars."""
    return Block(0.0, ())


def labelled(plan: Plan, ruler: Ruler) -> list[str]:
    """The figures by which the set-up is known again."""
    return [f"{tell(name)} {ruler.size(mm)}" for name, mm in labelled_of(plan).items()]


def hands(width: float, measure: Measure) -> Block:
    """No rule of edges."""
    return Block(0.0, ())


def minded(job: Job, ruler: Ruler) -> list[str]:
    """Nothing among the cautions: what is done before each part stands under its name."""
    return []


def scheduled(job: Job) -> tuple[Sequence[str], Sequence[Sequence[str]]]:
    """No order of boards but the stops', which stand in a table of their own."""
    return (), ()


def blocks(job: Job, width: float, height: float, ruler: Ruler, measure: Measure) -> list[Block]:
    """The drawings in rows, each row with what its letters measure: beside it where there is room,
    else below.
    """
    drawings = drawings_of(job)
    named = lettered(drawings)
    rows: list[list[tuple[int, Picture]]] = []
    room = 0.0
    for n, one in enumerate(drawings):
        made = picture(one, named, measure, width, height * _HIGHEST)
        if not rows or made.width > room:
            rows.append([])
            room = width
        rows[-1].append((n, made))
        room -= made.width + _BETWEEN
    found, told = list[Block](), set[str]()
    for row in rows:
        here = measures((drawings[n] for n, _ in row), named, ruler)
        new = [one for one in here if one[0] not in told]
        told |= {letter for letter, _, _ in new}
        found.append(_row([made for _, made in row], new, width, measure))
    if found:
        head = barred(tell("The joint and its cuts"), "", width, ruler)
        found[0] = stacked([head, found[0]], 1.0)
    if (table := in_order(job)) is not None:
        heads = [tell(head) for head in table.columns.values()]
        rows_of = [[*row, ""] for row in cells(table, ruler)]
        named_so = tell(table.heading)
        found += schedule(named_so, [*heads, ""], rows_of, width, height, measure)
    return [*found, *_steps(job, width, ruler, measure)]


def _steps(job: Job, width: float, ruler: Ruler, measure: Measure) -> list[Block]:
    """What to do before each part of the real boards, in two columns."""
    column = (width - 6.0) / 2
    parts = []
    for heading, remarks in getattr(job, "sections", ()):
        lines = [paragraph(say(remark, ruler), column, _STEP, measure) for remark in remarks]
        head = paragraph(tell(heading), column, _STEP, measure, bold=True)
        parts += [stacked([head, lines[0]], 0.3), *lines[1:]] if lines else []
    if len(parts) < 2:
        return []
    split = [
        beside(stacked(parts[:n], 0.5), stacked(parts[n:], 0.5), column + 6.0)
        for n in range(1, len(parts))
    ]
    shown = min(split, key=lambda block: block.height)
    return [stacked([title(tell("The real boards, in this order"), width), shown], 0.3)]


def _row(
    row: Sequence[Picture], rows: Sequence[tuple[str, str, str]], width: float, measure: Measure
) -> Block:
    shown, x = row[0].block, row[0].width + _BETWEEN
    for made in row[1:]:
        shown, x = beside(shown, made.block, x), x + made.width + _BETWEEN
    if not rows:
        return shown
    if width - x >= _LEGEND:
        return beside(shown, legend(rows, min(width - x, 1.5 * _LEGEND), measure), x)
    half, column = -(-len(rows) // 2), (width - _BETWEEN) / 2
    one, other = (legend(part, column, measure) for part in (rows[:half], rows[half:]))
    return stacked([shown, beside(one, other, column + _BETWEEN)], 1.0)


def marks(job: Job, pages: tuple[Page, ...]) -> Document:
    """The bar, and every dimension's line: its letter, its name, its true length, and from where to
    where it lies on which page, mm.
    """
    drawings = drawings_of(job)
    named = {letter: name for name, letter in lettered(drawings).items()}
    sizes = {one.name: one for drawing in drawings for one in drawing.dimensions}
    found = []
    for number, page in enumerate(pages, 1):
        for mark in page.marks:
            if isinstance(mark, Line) and mark.name.startswith("dim-"):
                letter = mark.name.removeprefix("dim-")
                one = sizes[named[letter]]
                ends = ([round(v, 4) for v in mark.points[n]] for n in (0, -1))
                own = {"letter": letter, "name": one.name, "setting": one.setting or None}
                where = dict(zip(("from", "to"), ends, strict=True))
                found.append({**own, "length": round(one.size, 4), "page": number, **where})
    nothing: Document = {"strips": [], "ticks": [], "matches": [], "widths": None}
    return {**nothing, "bars": bars_on(pages), "dimensions": found}
