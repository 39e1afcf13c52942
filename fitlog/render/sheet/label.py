"""The label of the sample itself, in the size that its owner has: all that finds it again, in the
largest type that it holds. Lengths mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ...errors import Least, Mm, Refused
from ...families.boards import Job
from ...language.english.names import woods
from ...language.units import MM_PER_INCH, Ruler
from ...texts import tell
from ..answer import told
from ..standing import said
from .own import own_of
from .paper import LEAST, MM_PER_POINT, Mark, Measure, Page, Words, wrapped

_EDGE = 1.5  # no label is printed closer to its edge
_LARGEST, _STEP = 14.0, 0.25  # points
_LEADING, _ASCENT = 1.2, 0.8  # from line to line, above the baseline, in sizes of the type
_APART = 1.4  # of two items on a line, in sizes of the type


class Item(NamedTuple):
    """What belongs together on a label."""

    text: str
    bold: bool = False


def label(
    job: Job, width: float, height: float, ruler: Ruler, measure: Measure, title: str = ""
) -> Page:
    """Return the label of a set-up's sample as a page of exactly this size. title: of the set-up.

    Raises Refused (label-too-small) where its type would be smaller than can be read.
    """
    items = list(_items(job, ruler, title))
    wide, high = width - 2 * _EDGE, height - 2 * _EDGE
    sizes = [LEAST + n * _STEP for n in reversed(range(math.floor((_LARGEST - LEAST) / _STEP) + 1))]
    for size in sizes:
        lines = _lines(items, wide, size, measure)
        deep = len(lines) * size * MM_PER_POINT * _LEADING
        if deep <= high + 1e-9 and _fits(lines, wide, size, measure):
            return Page(width, height, tuple(_set(lines, size, height, deep)))
    least = len(_lines(items, wide, LEAST, measure)) * LEAST * MM_PER_POINT * _LEADING
    step = 1.0 if ruler.units == "mm" else MM_PER_INCH / 8
    raise Refused(
        "label-too-small",
        "a label of {width} by {height} is too small to be read: its type would be below "
        "{points:g} points",
        "take one {least} high or more, or a wider one",
        width=Mm(width),
        height=Mm(height),
        points=LEAST,
        least=Least(step * math.ceil((max(least, high + 0.01) + 2 * _EDGE) / step)),
    )


def _items(job: Job, ruler: Ruler, title: str) -> Iterator[Item]:
    """What the label says, the most sought first."""
    setup, plan = job.setup, job.setup.plan
    stands, own = said(job.standing), own_of(job.setup.plan)
    yield Item(tell("Set-up {number}", number=setup.number), True)
    yield Item(stands.word, True)
    if title:
        yield Item(title)
    dial = job.settings.on_scale(plan.machine)
    for kind in plan.family.settings:
        shown, true = ruler.length(dial[kind.name]), ruler.length(job.settings[kind.name])
        scale = tell(" on the scale, {true} true", true=true) if shown != true else ""
        yield Item(
            tell("{part} {shown}{scale}", part=tell(kind.part), shown=shown, scale=scale), True
        )
    yield Item(plan.joint)
    yield Item(
        tell(
            "{bit}, {diameter}, {angle:g} deg",
            bit=plan.bit.name,
            diameter=ruler.size(plan.bit.diameter),
            angle=plan.bit.angle,
        )
    )
    for text in own.labelled(plan, ruler):
        yield Item(text)
    yield Item(woods(plan.stock.name, plan.pin_stock.name))
    yield Item(tell("boards {width} wide", width=ruler.size(plan.board_width)))
    when = setup.ended or max((c.at for c in setup.cuts if c.at is not None), default=None)
    yield Item(f"{when or setup.started:%Y-%m-%d}")
    cuts = [cut for cut in setup.cuts if not cut.slot and cut.after is None]
    if cuts:
        yield Item(told(cuts[-1], ruler))


def _lines(
    items: Sequence[Item], width: float, size: float, measure: Measure
) -> list[list[tuple[float, Item]]]:
    """The items in lines, each with where it begins; one that is wider than a line is broken."""
    lines: list[list[tuple[float, Item]]] = []
    x = math.inf
    for item in items:
        for part in wrapped(item.text, width, size, measure, item.bold):
            long = measure(part, size, item.bold)
            if x + long > width:
                lines.append([])
                x = 0.0
            lines[-1].append((x, Item(part, item.bold)))
            x += long + _APART * size * MM_PER_POINT
    return lines


def _fits(
    lines: Sequence[Sequence[tuple[float, Item]]], width: float, size: float, measure: Measure
) -> bool:
    """Whether no line is wider than the label: a single letter may be."""
    return all(
        x + measure(item.text, size, item.bold) <= width + 1e-9
        for line in lines
        for x, item in line
    )


def _set(
    lines: Sequence[Sequence[tuple[float, Item]]],
    size: float,
    height: float,
    deep: float,
) -> Iterator[Mark]:
    """The words, in the middle of the label's height."""
    step = size * MM_PER_POINT
    for n, line in enumerate(lines):
        y = (height - deep) / 2 + (n * _LEADING + _ASCENT + (_LEADING - 1.0) / 2) * step
        for x, item in line:
            yield Words(_EDGE + x, y, item.text, size, item.bold)
