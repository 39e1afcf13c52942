"""What a sheet says beside its drawings: settings, particulars, trial cuts, how to do it again,
cautions.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...advice.craft import craft_of
from ...domain import SetUp, Stock, TrialCut
from ...families.boards import Job
from ...families.telling import say
from ...language.units import Ruler
from ...texts import tell
from ..answer import told
from ..standing import pieces_of, said, unsettled
from .own import own_of
from .paper import (
    AT_MACHINE,
    Block,
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
from .written import NOTHING, Written, noted

LAST_CUTS = 5
_SMALL = 7.5  # points: what is read at the desk
CARE = tell("Care")


def header(job: Job, width: float, measure: Measure, written: Written = NOTHING) -> Block:
    """Return the number of the set-up, what it is of, what was written of it (lines to write on
    without), and how it stands.
    """
    setup = job.setup
    stands = said(job.standing)
    word, more = stands.word, stands.below
    loud = not job.standing.settled or job.standing.more
    box = max(measure(word, 15, True), measure(more, 7.5, False)) + 8
    corners = ((width - box, 0.3), (width, 0.3), (width, 13.3), (width - box, 13.3))
    number = tell("Set-up {number}", number=setup.number)
    after = max(measure(number, 24, True), 48.0) + 4
    marks: list[Mark] = [
        Words(0.0, 8.0, number, 24, True),
        Shape(corners, 0.0 if loud else 1.0, 0.5),
        Words(width - box / 2, 6.6, word, 15, True, "center", 1.0 if loud else 0.0),
        Words(width - box / 2, 11.0, more, 7.5, False, "center", 1.0 if loud else 0.0),
    ]
    named = paragraph(f"{setup.plan.joint}, {setup.plan.bit.name}", after - 4, 9, measure, most=2)
    fields = noted(written, width - box - after - 4, measure)
    height = max(14.0, 10.2 + named.height, fields.height)
    return Block(height, (*marks, *named.at(0.0, 10.2), *fields.at(after, 0.0)))


def big_settings(job: Job, width: float, ruler: Ruler, measure: Measure) -> Block:
    """Return the settings in the largest type that they fit in, each with how to measure it."""
    gap, own = 4.0, own_of(job.setup.plan)
    cell = (width - gap * (len(job.settings.lengths) - 1)) / len(job.settings.lengths)
    dial = job.settings.on_scale(job.setup.plan.machine)
    shown = {name: ruler.length(value) for name, value in dial.items()}
    size = fitted(shown.values(), cell - 5, 25, measure)
    told = own.how_measured(job, ruler)
    notes = [wrapped(text, cell - 5, AT_MACHINE, measure) for text in told]
    big = 5.6 + size * 0.28
    height = big + 2.2 + rise(AT_MACHINE) * max(map(len, notes)) + 0.8
    marks: list[Mark] = []
    for n, (name, text) in enumerate(shown.items()):
        x = n * (cell + gap)
        marks.append(Shape(((x, 0.3), (x + cell, 0.3), (x + cell, height), (x, height)), 1.0, 0.45))
        noun = tell(job.settings.family.setting(name).noun)
        marks.append(Words(x + 2.5, 4.6, noun, AT_MACHINE, True))
        marks.append(Words(x + 2.5, big, text, size, True))
        marks += set_lines(notes[n], AT_MACHINE).at(x + 2.5, big + 1.6)
    return Block(height + 0.3, tuple(marks))


def warnings(job: Job, width: float, ruler: Ruler, measure: Measure) -> Block:
    """Return what must be read before these settings are used; no height where there is nothing."""
    lines = [say(remark, ruler) for remark in job.notices]
    if first := unsettled(job.standing):
        lines.insert(0, first)
    found = [paragraph(line, width - 4, AT_MACHINE, measure, x=2.0) for line in lines]
    if not found:
        return Block(0.0, ())
    told = stacked(found, 0.4)
    frame = ((0.0, 0.2), (width, 0.2), (width, told.height + 1.0), (0.0, told.height + 1.0))
    return Block(told.height + 1.2, (Shape(frame, 0.94, 0.4), *told.at(0.0, 0.5)))


def facts(job: Job, ruler: Ruler) -> list[tuple[str, str]]:
    """Return the particulars of a set-up as label and value."""
    bit = job.setup.plan.bit
    return [
        (
            tell("bit"),
            tell(
                "{bit}, {diameter}, {angle:g} deg",
                bit=bit.name,
                diameter=ruler.size(bit.diameter),
                angle=bit.angle,
            ),
        ),
        *own_of(job.setup.plan).facts(job, ruler),
        (tell("date"), _dates(job.setup)),
    ]


def wood(stock: Stock) -> str:
    """Return a stock with its species."""
    return (
        stock.name
        if stock.species.casefold() in ("", stock.name.casefold())
        else f"{stock.name} ({stock.species})"
    )


def _dates(setup: SetUp) -> str:
    pieces = pieces_of(len(setup.tests()), len(setup.checks()))
    last = max((cut.at for cut in setup.cuts if cut.at is not None), default=None)
    begun, until = setup.started, setup.ended or last
    return (
        tell("{start:%Y-%m-%d} to {end:%Y-%m-%d}, {pieces}", start=begun, end=until, pieces=pieces)
        if until
        else f"{begun:%Y-%m-%d}, {pieces}"
    )


def particulars(named: Sequence[tuple[str, str]], width: float, measure: Measure) -> Block:
    """Return the particulars, label and value."""
    lead = max(measure(label, _SMALL, False) for label, _ in named) + 2.5
    blocks = []
    for label, value in named:
        bold = label in (tell("bit"), tell("pitch"))
        told = paragraph(value, width - lead, _SMALL, measure, bold=bold, most=4)
        blocks.append(beside(set_lines([label], _SMALL), told, lead))
    return stacked(blocks)


def letters(found: Sequence[tuple[str, str, str]], width: float, measure: Measure) -> Block:
    """Return what the letters of the drawing mean, with its size, below one another."""
    blocks = []
    for letter, name, value in found:
        words = [Words(0.0, 2.9, letter, 8, True), Words(5.0, 2.9, name, _SMALL)]
        room = width - 7.0 - measure(name, _SMALL, False) >= measure(value, _SMALL, True)
        y = 2.9 if room else 2.9 + rise(_SMALL)
        words.append(Words(width, y, value, _SMALL, True, "right"))
        blocks.append(Block(rise(_SMALL) * (1 if room else 2) + 0.15, tuple(words)))
    return stacked(blocks)


def trial_cuts(
    job: Job, width: float, ruler: Ruler, measure: Measure, most: int = LAST_CUTS
) -> Block:
    """Return the last trial cuts, at most so many: the settings used and what was said."""
    cuts, size = [cut for cut in job.setup.cuts if not cut.slot][-most:], 7.0
    count = (
        tell("The last {count} trial cuts", count=len(cuts))
        if len(cuts) > 1
        else tell("The last trial cut")
    )
    head = title(count if cuts else tell("Trial cuts"), width)
    if not cuts:
        none = tell(
            "None yet: these settings are reckoned from the bit's figures and from earlier set-ups."
        )
        return stacked([head, paragraph(none, width, size, measure)])
    kinds = job.setup.plan.family.settings
    columns = len(kinds) + 1
    rows = [
        [tell("piece"), *(tell(kind.part) for kind in kinds), tell("said and measured")],
        *(_row(cut, job, ruler) for cut in cuts),
    ]
    wide = [max(measure(row[n], size, False) for row in rows) + 3.5 for n in range(columns)]
    ends = [sum(wide[: n + 1]) for n in range(columns)]
    blocks = []
    for row in rows:
        said = paragraph(row[-1], width - ends[-1] - 1, size, measure, x=ends[-1] + 1, most=2)
        y = said.marks[0].y if isinstance(said.marks[0], Words) else 0.0
        numbers = tuple(
            Words(end - 2.5, y, text, size, align="right")
            for end, text in zip(ends, row, strict=False)
        )
        blocks.append(Block(said.height, (*numbers, *said.marks)))
    return stacked([head, *blocks])


def last_said(job: Job, ruler: Ruler) -> list[tuple[str, str]]:
    """Return what was said of the last piece, with its label; nothing before the first."""
    cuts = [cut for cut in job.setup.cuts if not cut.slot]
    return [(tell("last said"), told(cuts[-1], ruler))] if cuts else []


def _row(cut: TrialCut, job: Job, ruler: Ruler) -> list[str]:
    dial = cut.settings.on_scale(job.setup.plan.machine)
    own = (
        tell(" (a piece {width} wide)", width=ruler.size(cut.sizes["width"]))
        if "width" in cut.sizes
        else ""
    )
    return [
        str(cut.piece),
        *(ruler.length(value) for value in dial.values()),
        told(cut, ruler) + own,
    ]


def care(job: Job, width: float, ruler: Ruler, measure: Measure, size: float = 7.0) -> Block:
    """Return what is to be minded at each step, and the cautions, in two columns. size: of the
    type, points.
    """
    column, own = (width - 6) / 2, own_of(job.setup.plan)
    cautions = craft_of(job.setup.plan).cautions(job.setup.plan, None)
    more = [remark for remark in job.cautions if remark not in cautions]
    steps = own.minded(job, ruler)
    lines = [*steps, *(say(remark, ruler) for remark in (*cautions, *more))]
    found = [paragraph(line, column, size, measure) for line in lines]
    split = [
        beside(stacked(found[:n], 0.25), stacked(found[n:], 0.25), column + 6)
        for n in range(1, len(found))
    ]
    return stacked([title(CARE, width), min(split, key=lambda block: block.height)])
