"""Paper, and the marks on it. Lengths mm, x from the left and y from the top; sizes of type in
points (1/72 in).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ...texts import tell

Point = tuple[float, float]
Measure = Callable[[str, float, bool], float]  # text, points, bold -> its width, mm
PAPERS = {
    "a4": (210.0, 297.0),
    "letter": (215.9, 279.4),
}  # ISO 216; ANSI/ASME Y14.1 size A, 8 1/2 by 11 in
STICK = tell("Story stick, full size")  # the heading of a stick, sought on the pages
AT_MACHINE = 10.0  # points: the least size of what a maker reads at the machine, standing
LEAST = 6.0  # points: smaller type nobody reads
GAP = 1.5  # between blocks, mm
MARGIN = 10.3  # any printer leaves less than 10 mm white; a line at the margin has a thickness, too
MM_PER_POINT = 25.4 / 72
LEADING = 1.28  # from line to line, in sizes of the type
_TIE = "\u00a0"  # a space at which no line ends
ASCENT, DESCENT = (
    0.78,
    0.24,
)  # above and below the baseline, in sizes of the type: of the letters used here


@dataclass(frozen=True, slots=True)
class Line:
    """A line through points; weight: its thickness, mm; name: what measures it later knows it by,
    once on a page.
    """

    points: tuple[Point, ...]
    weight: float = 0.2
    dashed: bool = False
    name: str = ""
    grey: float = 0.0


@dataclass(frozen=True, slots=True)
class Shape:
    """A filled polygon. grey: 0 black to 1 white; weight: of its outline, 0 none."""

    points: tuple[Point, ...]
    grey: float = 1.0
    weight: float = 0.25


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text; x, y: of its baseline at the end or the middle that `align` names. grey: 0
    black to 1 white.
    """

    x: float
    y: float
    text: str
    size: float
    bold: bool = False
    align: Literal["left", "center", "right"] = "left"
    grey: float = 0.0


Mark = Line | Shape | Words


@dataclass(frozen=True)
class Block:
    """Marks that stay together on a page, from its own top at y = 0."""

    height: float
    marks: tuple[Mark, ...]

    def at(self, x: float, y: float) -> tuple[Mark, ...]:
        """Return the marks with the block's corner at x, y."""
        return tuple(moved(mark, x, y) for mark in self.marks)


def moved(mark: Mark, x: float, y: float) -> Mark:
    """Return a mark moved by x, y."""
    if isinstance(mark, Words):
        return replace(mark, x=mark.x + x, y=mark.y + y)
    return replace(mark, points=tuple((a + x, b + y) for a, b in mark.points))


def stacked(blocks: Iterable[Block], gap: float = 0.0) -> Block:
    """Return blocks one below the other as one."""
    marks: list[Mark] = []
    height = 0.0
    for number, block in enumerate(blocks):
        height += gap if number else 0.0
        marks += block.at(0.0, height)
        height += block.height
    return Block(height, tuple(marks))


def beside(left: Block, right: Block, x: float) -> Block:
    """Return two blocks side by side, the right one from x."""
    return Block(max(left.height, right.height), (*left.marks, *right.at(x, 0.0)))


def rise(size: float) -> float:
    """From one line of text to the next, mm."""
    return size * MM_PER_POINT * LEADING


def wrapped(
    text: str, width: float, size: float, measure: Measure, bold: bool = False
) -> list[str]:
    """Return text as lines no wider than `width`; a word that is wider alone is broken, a length is
    not.
    """
    text = re.sub(
        r"(?<= in) (?=\(-?\d*\.\d+\))|(?<=\d) (?=(?:mm|in|thou|\d+/\d+)\b)",
        lambda m: m[0].replace(" ", _TIE),
        text,
    )
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if measure(longer, size, bold) <= width:
            lines[-1] = longer
            continue
        lines += [word] if lines[-1] else []
        lines[-1] = word
        while measure(lines[-1], size, bold) > width and len(lines[-1]) > 1:
            fits = max(
                (
                    n
                    for n in range(1, len(lines[-1]))
                    if measure(lines[-1][:n], size, bold) <= width
                ),
                default=1,
            )
            lines[-1:] = [lines[-1][:fits], lines[-1][fits:]]
    return [line.replace(_TIE, " ") for line in lines]


def clipped(
    lines: Sequence[str], most: int, width: float, size: float, measure: Measure
) -> list[str]:
    """Return at most so many lines; what is left out shows as "..."."""
    if len(lines) <= most:
        return list(lines)
    last = lines[most - 1]
    while last and measure(f"{last} ...", size, False) > width:
        last = last[:-1]
    return [*lines[: most - 1], f"{last} ..."]


def fitted(
    texts: Iterable[str], width: float, size: float, measure: Measure, bold: bool = True
) -> float:
    """Return the size, up to `size`, at which each of the texts is no wider than `width`."""
    widest = max(measure(text, size, bold) for text in texts)
    return size * min(1.0, width / widest) if widest > 0 else size


def paragraph(
    text: str,
    width: float,
    size: float,
    measure: Measure,
    *,
    x: float = 0.0,
    bold: bool = False,
    most: int = 99,
) -> Block:
    """Return text set in lines from x."""
    lines = clipped(wrapped(text, width, size, measure, bold), most, width, size, measure)
    return set_lines(lines, size, x=x, bold=bold)


def set_lines(lines: Sequence[str], size: float, *, x: float = 0.0, bold: bool = False) -> Block:
    """Return lines of text below each other."""
    step = rise(size)
    first = size * MM_PER_POINT * (ASCENT + (LEADING - ASCENT - DESCENT) / 2)
    return Block(
        step * len(lines),
        tuple(Words(x, first + n * step, line, size, bold) for n, line in enumerate(lines)),
    )


def title(text: str, width: float) -> Block:
    """Return the heading of a part, ruled above."""
    return Block(4.7, (Line(((0.0, 0.0), (width, 0.0)), 0.3), Words(0.0, 3.6, text, 8.5, True)))


@dataclass(frozen=True)
class Page:
    """One page: its size and its marks."""

    width: float
    height: float
    marks: tuple[Mark, ...]


def filled(blocks: list[Block]) -> float:
    """Return the height of blocks below one another on a page, mm."""
    return sum(block.height for block in blocks) + GAP * (len(blocks) - 1)
