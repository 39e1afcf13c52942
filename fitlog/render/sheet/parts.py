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
from ..standing import pieces_of, said
from .own import own_of
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
CARE = tell("Care")


def header(job: Job, width: float, measure: Measure) -> Block:
    """Return the number of the set-up, what it is of, and how it stands."""
    setup = job.setup
    stands = said(job.standing)
    word, more = stands.word, stands.below
    loud = not job.standing.settled or job.standing.more
    box = max(measure(word, 15, True), measure(more, 7.5, False)) + 8
    corners = ((width - box, 0.3), (width, 0.3), (width, 13.3), (width - box, 13.3))
    marks: list[Mark] = [
        Words(0.0, 8.0, tell("Set-up {number}", number=setup.number), 24, True),
        Shape(corners, 0.0 if loud else 1.0, 0.5),
        Words(width - box / 2, 6.6, word, 15, True, "center", 1.0 if loud else 0.0),
        Words(width - box / 2, 11.0, more, 7.5, False, "center", 1.0 if loud else 0.0),
    ]
    named = paragraph(
        f"{setup.plan.joint}, {setup.plan.bit.name}", width - box - 5, 9, measure, most=2
    )
    return Block(max(15.0, 10.0 + named.height + 1), (*marks, *named.at(0.0, 9.8)))


def big_settings(job: Job, width: float, ruler: Ruler, measure: Measure) -> Block:
    """Return the settings in the largest type that they fit in, each with how to measure it."""
    gap, own = 4.0, own_of(job.setup.plan)
    cell = (width - gap * (len(job.settings.lengths) - 1)) / len(job.settings.lengths)
    dial = job.settings.on_scale(job.setup.plan.machine)
    shown = {name: ruler.length(value) for name, value in dial.items()}
    size = fitted(shown.values(), cell - 6, 25, measure)
    told = own.how_measured(job, ruler) if own else [""] * len(shown)
    notes = [wrapped(text, cell - 6, 6.8, measure) for text in told]
    big = 6.2 + size * 0.28
    height = big + 2.8 + rise(6.8) * max(map(len, notes)) + 1.2
    marks: list[Mark] = []
    for n, (name, text) in enumerate(shown.items()):
        x = n * (cell + gap)
        marks.append(Shape(((x, 0.3), (x + cell, 0.3), (x + cell, height), (x, height)), 1.0, 0.45))
        marks += [
            Words(x + 3, 4.4, tell(job.settings.family.setting(name).noun), 9, True),
            Words(x + 3, big, text, size, True),
        ]
        marks += set_lines(notes[n], 6.8).at(x + 3, big + 2.0)
    return Block(height + 0.3, tuple(marks))


def facts(job: Job, ruler: Ruler) -> list[tuple[str, str]]:
    """Return the particulars of a set-up as label and value."""
    plan, own = job.setup.plan, own_of(job.setup.plan)
    bit, machine = plan.bit, plan.machine.name if plan.machine else tell("not named")
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
        *(
            own.facts(job, ruler)
            if own
            else [(tell("stock"), wood(plan.stock)), (tell("machine"), machine)]
        ),
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
    pieces = pieces_of(setup)
    last = max((cut.at for cut in setup.cuts if cut.at is not None), default=None)
    begun, until = setup.started, setup.ended or last
    return (
        tell("{start:%Y-%m-%d} to {end:%Y-%m-%d}, {pieces}", start=begun, end=until, pieces=pieces)
        if until
        else f"{begun:%Y-%m-%d}, {pieces}"
    )


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
        bold = label in (tell("bit"), tell("pitch"))
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


def again(job: Job, width: float, ruler: Ruler, measure: Measure) -> Block | None:
    """Return how the joint is made again, in a few lines; None where nothing is to be said."""
    own = own_of(job.setup.plan)
    lines = [
        *(own.again(job, ruler) if own else []),
        *(say(remark, ruler) for remark in job.notices),
    ]
    if not lines:
        return None
    return stacked(
        [
            title(tell("To make it again"), width),
            *(paragraph(line, width, 7.0, measure) for line in lines),
        ],
        0.3,
    )


def care(job: Job, width: float, ruler: Ruler, measure: Measure) -> Block:
    """Return the cautions in two columns."""
    column = (width - 6) / 2
    found = [
        paragraph(say(r, ruler), column, 6.2, measure)
        for r in craft_of(job.setup.plan).cautions(job.setup.plan, None)
    ]
    split = [
        beside(stacked(found[:n], 0.25), stacked(found[n:], 0.25), column + 6)
        for n in range(1, len(found))
    ]
    return stacked([title(CARE, width), min(split, key=lambda block: block.height)])
