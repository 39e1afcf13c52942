"""The story stick: the board's end at full size with a tick at every cut's centre, in strips where
the page is narrower.

The tail board's ticks lie on the upper edge, the pin board's on the lower one; x runs from the
marked edge. Lengths mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ...families.half_blind.layouts import Layout, Stops
from ...families.half_blind.layouts.groove import Groove
from ...language.units import Ruler
from ...texts import tell
from ..sheet.bar import barred
from ..sheet.paper import AT_MACHINE, STICK, Block, Line, Mark, Measure, Point, Shape, Words, moved
from .outline import (
    PIN_GREY,
    TAIL_GREY,
    cut_off,
    groove_outline,
    outline,
    pin_spans,
    tail_spans,
)

OVERLAP = 20.0  # of neighbouring strips
_TICK, _ROW, _SIZE = 3.2, 4.0, AT_MACHINE  # a tick's length, a row of numbers, their type
_BODY, _LAP = 2.0, 2.5  # of the tail board above its slots; at most of the pin board's lap
_OUTER = 4.9  # above and below a strip, for what its ends are
_HIGHEST = 32.0  # of what is drawn: higher cuts have ticks alone


@dataclass(frozen=True, slots=True)
class Tick:
    """One tick: where the cut's centre lies from the marked edge; number: as the stops have it, *
    for the turned board.
    """

    at: float
    number: str
    name: str
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Strip:
    """A part of the stick, from `start` to `end` of the board; x of the board is x - start + left
    on the strip.
    """

    number: int
    start: float
    end: float
    left: float


def ticks(found: Stops) -> tuple[tuple[Tick, ...], tuple[Tick, ...]]:
    """Return the tail board's ticks and the pin board's, the far edge's included, from the marked
    edge on.
    """
    layout = found.layout
    tail = [Tick(s.cut.position, str(s.number), f"tail-{s.number}") for s in found.of("tail")]
    tail += [
        Tick(layout.width - s.cut.position, f"{s.number}*", f"turned-{s.number}", True)
        for s in found.of("tail")
        if s.cut.kind == "edge"
    ]
    pin = [Tick(s.cut.position, str(s.number), f"pin-{s.number}") for s in found.of("pin")]
    return tuple(sorted(tail, key=lambda t: t.at)), tuple(sorted(pin, key=lambda t: t.at))


def strips(layout: Layout, width: float) -> tuple[Strip, ...]:
    """Return the strips that a page of this width needs, all as long, overlapping by OVERLAP; one
    where the board fits.
    """
    off = -min(layout.edge_passes)
    outside = off + 4.0 if off > 0 else 1.0
    room = width - 2 * outside
    if layout.width <= room:
        return (Strip(0, 0.0, layout.width, (width - layout.width) / 2),)
    count = math.ceil((layout.width - OVERLAP) / (room - OVERLAP) - 1e-9)
    length = (layout.width + (count - 1) * OVERLAP) / count
    return tuple(
        Strip(k, k * (length - OVERLAP), k * (length - OVERLAP) + length, (width - length) / 2)
        for k in range(count)
    )


def head(width: float, count: int, ruler: Ruler) -> Block:
    """Return the heading of the story stick with the check bar beside it, and what to do about the
    bar.
    """
    where = (
        tell("the numbers are the stops'")
        if count == 1
        else tell("{count} strips: lay A on A, B on B", count=count)
    )
    return barred(STICK, where, width, ruler)


def strip_block(
    found: Stops,
    pin_thickness: float,
    all_: Sequence[Strip],
    number: int,
    measure: Measure,
    groove: Groove | None = None,
) -> Block:
    """Return one strip. number: which of them, from 0; groove: in the pin board, drawn dashed."""
    layout, strip = found.layout, all_[number]
    tail, pin = (_on(some, strip, layout) for some in ticks(found))
    tail_rows, pin_rows = staggered(tail, strip, measure), staggered(pin, strip, measure)
    drawn = layout.height if layout.height <= _HIGHEST else 0.0
    lap = min(pin_thickness - drawn, _LAP) if drawn else 0.0
    numbers, more = (_TICK + _ROW * (1 + max(rows)) + 0.6 for rows in (tail_rows, pin_rows))
    tip = numbers + _BODY
    deep = tip + drawn
    low = deep + lap + 0.2 + more
    marks: list[Mark] = []
    if drawn:
        for spans, ys, grey in (
            (pin_spans(layout), (tip, deep, deep + lap), PIN_GREY),
            (tail_spans(layout), (deep, tip, numbers), TAIL_GREY),
        ):
            shape = cut_off(
                outline(layout, spans, *ys), max(0.0, strip.start), min(layout.width, strip.end)
            )
            marks.append(Shape(tuple((x - strip.start, y) for x, y in shape), grey, 0.2))
        marks += _grooved(groove, layout, strip, tip)
    marks += _edges(strip, layout, low)
    for some, rows, edge, way in ((tail, tail_rows, 0.0, 1.0), (pin, pin_rows, low, -1.0)):
        marks += _ticks(some, rows, strip, edge, way, measure)
    marks += _ends(strip, all_, number, low, measure)
    every = [tick.at for side in ticks(found) for tick in side]
    for which in (number - 1, number):
        if 0 <= which < len(all_) - 1:
            marks += _match(
                match_at(all_[which + 1].start, every) - strip.start, which, number, low
            )
    return Block(low + 2 * _OUTER, tuple(moved(mark, strip.left, _OUTER) for mark in marks))


def _grooved(groove: Groove | None, layout: Layout, strip: Strip, tip: float) -> list[Mark]:
    """The groove's outline on a strip; tip: where the pin board's inside face lies."""
    if groove is None:
        return []
    shape = cut_off(groove_outline(groove, layout), strip.start, strip.end)
    around = tuple((x - strip.start, tip + y) for x, y in [*shape, *shape[:1]])
    return [Line(around, 0.3, dashed=True)] if around else []


def _on(some: Iterable[Tick], strip: Strip, layout: Layout) -> list[Tick]:
    """The ticks of a strip; those off the board belong to its first and its last."""
    low = -math.inf if strip.start <= 0 else strip.start
    high = math.inf if strip.end >= layout.width - 1e-9 else strip.end
    return [tick for tick in some if low - 1e-9 <= tick.at <= high + 1e-9]


def staggered(some: Sequence[Tick], strip: Strip, measure: Measure) -> list[int]:
    """Return for each tick the row of its number, 0 next to the edge, so that no number meets
    another or another's tick.
    """
    taken: list[float] = []
    rows = []
    for tick in some:
        half = _half(tick, measure)
        middle = centred(tick, strip, half)
        free = (
            r
            for r, end in enumerate(taken)
            if middle - half >= end and tick.at - 0.4 >= max(taken[:r], default=-9e9)
        )
        row = next(free, len(taken))
        taken += [-math.inf] * (row + 1 - len(taken))
        taken = [max(end, tick.at + 0.4) if r < row else end for r, end in enumerate(taken)]
        taken[row] = middle + half
        rows.append(row)
    return rows or [0]


def _half(tick: Tick, measure: Measure) -> float:
    """Half the room that a tick's number takes."""
    return measure(tick.number, _SIZE, False) / 2 + 0.35


def centred(tick: Tick, strip: Strip, half: float) -> float:
    """Return where the middle of a tick's number goes: on the tick, or beside the line at the
    strip's end.
    """
    for end, inwards in ((strip.start, 1), (strip.end, -1)):
        if abs(tick.at - end) < half + 0.2:
            side = inwards if (tick.at - end) * inwards > -1e-6 else -inwards
            return end + side * (half + 0.2)
    return tick.at


def _ticks(
    some: Sequence[Tick],
    rows: Sequence[int],
    strip: Strip,
    edge: float,
    way: float,
    measure: Measure,
) -> list[Mark]:
    marks: list[Mark] = []
    for tick, row in zip(some, rows, strict=False):
        x, reach = tick.at - strip.start, _TICK + _ROW * row
        name = f"{tick.name}-{strip.number + 1}"
        marks.append(Line(((x, edge), (x, edge + way * reach)), 0.2, tick.turned, name))
        middle = edge + way * (reach + _ROW / 2)
        at = centred(tick, strip, _half(tick, measure)) - strip.start
        marks.append(Words(at, middle + 0.36 * _SIZE * 0.353, tick.number, _SIZE, align="center"))
    return marks


def _edges(strip: Strip, layout: Layout, low: float) -> list[Mark]:
    """The stick's own outline: thick at the board's edges, open where the next strip goes on."""
    length = strip.end - strip.start
    marks: list[Mark] = [Line(((0.0, y), (length, y)), 0.25) for y in (0.0, low)]
    for x, last in ((0.0, strip.start <= 0), (length, strip.end >= layout.width - 1e-9)):
        marks.append(Line(((x, 0.0), (x, low)), 0.25, not last))
    return marks


def _ends(
    strip: Strip, all_: Sequence[Strip], number: int, low: float, measure: Measure
) -> list[Mark]:
    """What lies at the ends of a strip, and which board its ticks are of, in the room above and
    below it.
    """
    length, marks = strip.end - strip.start, list[Mark]()
    left = tell("MARKED EDGE") if number == 0 else ""
    right = tell("OTHER EDGE, * turned") if number == len(all_) - 1 else ""
    above, below = tell("tail board: slots"), tell("pin board: sockets")
    wide = measure(right, _SIZE, True)
    if left:
        marks.append(Words(0.0, -1.4, left, _SIZE, True))
    if right:
        marks.append(Words(max(length, wide - strip.left), low + 4.0, right, _SIZE, True, "right"))
    if len(all_) > 1:
        marks.append(Words(length / 2, -1.4, above, _SIZE, align="center"))
        fits = measure(below, _SIZE, False) / 2 + wide + 3 < length / 2
        below_it = Words(length / 2, low + 4.0, below, _SIZE, align="center")
        return [*marks, below_it] if fits else marks
    if measure(above, _SIZE, False) + measure(left, _SIZE, True) + 3 < length:
        marks.append(Words(length, -1.4, above, _SIZE, align="right"))
    if measure(below, _SIZE, False) + wide + 3 < length:
        marks.append(Words(0.0, low + 4.0, below, _SIZE))
    return marks


def match_at(start: float, every: Sequence[float]) -> float:
    """Return where the match mark of two strips goes, from the marked edge: in their overlap, clear
    of the ticks.

    start: of the second strip.  every: where the ticks lie.
    """
    places = [
        start + OVERLAP / 2 + sign * n / 2 for n in range(int(OVERLAP) - 8) for sign in (1, -1)
    ]
    return max(places, key=lambda x: min(4.0, min((abs(x - at) for at in every), default=4.0)))


def _match(x: float, which: int, number: int, low: float) -> list[Mark]:
    """The mark of one match on strip `number`."""
    name = chr(ord("A") + which % 26)
    arrows: list[tuple[Point, ...]] = [
        ((x, y), (x - 1.1, y + d), (x + 1.1, y + d)) for y, d in ((0.0, -2.2), (low, 2.2))
    ]
    return [
        Line(((x, 0.0), (x, low)), 0.15, True, f"match-{name}-{number + 1}"),
        *(Shape(points, 0.0, 0.0) for points in arrows),
        Words(x + 2.0, -1.4, name, _SIZE, True),
        Words(x + 2.0, low + 4.0, name, _SIZE, True),
    ]
