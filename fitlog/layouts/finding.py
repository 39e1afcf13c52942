"""Which layouts a board allows with the bits at hand, and which is the better one.

The marks that rank them are common practice, no source: each says in words what it rests on, and the user chooses.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from .. import defaults
from ..domain import Bit
from ..errors import Refused
from ..units import Ruler, counted
from .layout import MOST_EDGE_PASSES, Layout, fitting_tails, regular, wide_tails

FEW_CUTS = 10  # passes a corner that nobody minds


@dataclass(frozen=True)
class Reach:
    """What one bit can do on these boards.

    low, high: the heights it may be set to, mm; high_why: what sets the upper one.  pitch: the one that goes with a sensible
    height.  height_at: the height that fits a pitch with a number of tails, and its standard uncertainty, mm.
    taught: finished set-ups that told of the bit.
    """

    bit: Bit
    low: float
    high: float
    high_why: str
    pitch: float
    height_at: Callable[[float, int], tuple[float, float]]
    taught: int = 0


@dataclass(frozen=True)
class Asked:
    """What a layout is asked for. least: the thinnest half-pin at an edge, mm; step: that of the fence; None: free."""

    width: float
    tail_thickness: float
    pin_thickness: float
    least: float = defaults.LEAST_HALF_PIN
    step: float | None = None
    tails: int | None = None
    pitch: float | None = None
    middle: str | None = None
    wide: bool | None = None


@dataclass(frozen=True, slots=True)
class Mark:
    """One reason of a rank: points against the layout (next to nothing: it speaks for it) and the reason in words."""

    points: float
    text: str

    @property
    def against(self) -> bool:
        """Whether it counts."""
        return self.points >= 0.1


@dataclass(frozen=True)
class Found:
    """A layout with its lap and height's uncertainty, mm, and the reasons of its rank, the weightiest first."""

    layout: Layout
    lap: float
    height_sd: float
    marks: tuple[Mark, ...]

    @property
    def points(self) -> float:
        """All that speaks against it."""
        return sum(mark.points for mark in self.marks)


def find(reaches: Sequence[Reach], asked: Asked, ruler: Ruler) -> list[Found]:
    """Return the layouts that these bits allow, best first; raise `Refused` (code "no-layout") when there is none."""
    found = []
    told = len({reach.taught > 0 for reach in reaches}) > 1
    for reach in reaches:
        for layout in _candidates(reach, asked):
            height, sd = reach.height_at(layout.pitch, layout.tails)
            made = replace(layout, height=height)
            if _sound(made, reach, asked):
                found.append(_judged(made, sd, reach, asked, ruler, told))
    if not found:
        raise _none(reaches, asked, ruler)
    return sorted(found, key=lambda one: (round(one.points, 6), one.layout.cuts, one.layout.bit.name))


def _candidates(reach: Reach, asked: Asked) -> Iterator[Layout]:
    """Layouts worth looking at, at the sensible height: their own height is worked out from their pitch."""
    bit, width = reach.bit, asked.width
    about = reach.height_at(asked.pitch or reach.pitch, asked.tails or 1)[0]
    counts = range(1, math.floor(width / bit.diameter) + 1) if asked.tails is None else (asked.tails,)
    at_pitch = fitting_tails(bit, about, width, asked.pitch or reach.pitch, asked.least)
    yield from (one for one in at_pitch if one.tails in counts and (asked.pitch is not None or not one.exact))
    for n in counts:
        if asked.pitch is None:
            yield _alike(bit, about, width, n, asked.least)
        pitch = asked.pitch or reach.pitch
        wide = wide_tails(bit, about, width, n, pitch)
        if wide.spacing - pitch >= defaults.LEAST_SPREAD and wide.tail[1] <= defaults.MOST_TAIL * wide.pin[1]:
            yield _even_spread(_room_at_edges(wide, asked.least), asked)


def _alike(bit: Bit, height: float, width: float, tails: int, least: float) -> Layout:
    """The pitch that gives exact half-pins, W = n P, or the one that makes them as thick as they must be at least."""
    exact = regular(bit, height, width, tails, width / tails)
    if exact.half_pin[0] >= least or tails == 1:
        return exact
    return regular(bit, height, width, tails, (width - 2 * least - bit.diameter) / (tails - 1))


def _room_at_edges(wide: Layout, least: float) -> Layout:
    """Move the outer slots in where half a pin would be too thin for an edge."""
    short = least - wide.half_pin[0]
    return wide if short <= 0 else replace(wide, spacing=(wide.width - 2 * short) / wide.tails)


def _even_spread(wide: Layout, asked: Asked) -> Layout:
    """Bring the two passes that set the fit a whole number of fence steps apart: rounding then moves both alike."""
    if asked.step is None or asked.pitch is not None:
        return wide
    spread = round((wide.spacing - wide.pitch) / asked.step) * asked.step
    return replace(wide, pitch=wide.spacing - spread)


def _sound(layout: Layout, reach: Reach, asked: Asked) -> bool:
    """Whether a layout can be cut and holds, and is what was asked for."""
    if not reach.low <= layout.height <= reach.high or layout.mouth < defaults.LEAST_MOUTH:
        return False
    if min(layout.pin[0], layout.tail[0]) < defaults.LEAST_PIN or layout.half_pin[0] < asked.least - 1e-6:
        return False
    if asked.tail_thickness - layout.bit.diameter / 2 < defaults.LEAST_STRAIGHT_TAIL:
        return False
    middle, wide = asked.middle in (None, layout.middle), asked.wide in (None, layout.wide)
    return middle and wide and len(layout.edge_passes) <= MOST_EDGE_PASSES


def _judged(layout: Layout, sd: float, reach: Reach, asked: Asked, ruler: Ruler, known_or_not: bool) -> Found:
    """Weigh a layout. known_or_not: some of the bits are known and some are not."""
    lap = asked.pin_thickness - layout.height
    marks = (
        _lap(lap, asked.pin_thickness, ruler), _edges(layout, asked.least, ruler), _pins(layout, ruler),
        _room(layout.height, sd, reach, ruler), _work(layout, ruler),
        _knowledge(reach) if known_or_not else None,
    )  # fmt: skip
    told = sorted((mark for mark in marks if mark is not None), key=lambda mark: -mark.points)
    return Found(layout, lap, sd, tuple(told))


def _lap(lap: float, thickness: float, ruler: Ruler) -> Mark:
    share, (low, high) = lap / thickness, defaults.GOOD_LAP
    if share < low:
        return Mark(12 * (low - share), f"a thin lap, {share:.0%} of the pin board")
    if share > high:
        return Mark(6 * (share - high), f"short tails, {ruler.length(thickness - lap)}, behind a lap of {share:.0%}")
    return Mark(0.0, f"a sound lap, {share:.0%} of the pin board")


def _edges(layout: Layout, least: float, ruler: Ruler) -> Mark:
    thin = layout.half_pin[0]
    thick = ruler.length(thin)
    if layout.exact:
        return Mark(2 * max(0.0, 1.25 - thin / least), f"exact half-pins, {thick} at the thinnest")
    kind = "thicker" if layout.edge > 0 else "thinner"
    more = " and another pass to clear each edge" if len(layout.edge_passes) > 1 else ""
    return Mark(0.25 + 0.1 * abs(layout.edge), f"half-pins of {thick}, {kind} than half a pin{more}")


def _pins(layout: Layout, ruler: Ruler) -> Mark | None:
    slender = min(layout.pin[0], layout.tail[0]) / layout.height
    if slender < defaults.SLENDER:
        return Mark(4 * (defaults.SLENDER - slender), f"slender at the root, {ruler.length(slender * layout.height)}")
    return None


def _room(height: float, sd: float, reach: Reach, ruler: Ruler) -> Mark | None:
    """The height will still be moved by about its uncertainty: near a limit that may not be possible."""
    sds = (reach.high - height) / sd
    if sds >= 2:
        return None
    return Mark(2 - sds, f"little room to raise the bit: {ruler.length(reach.high - height)} to {reach.high_why}")


def _work(layout: Layout, ruler: Ruler) -> Mark:
    passes, points = counted(layout.cuts, "cut") + " a corner", 0.06 * max(0, layout.cuts - FEW_CUTS)
    if not layout.wide:
        return Mark(points, passes)
    return Mark(points, f"{passes}, the fit set by passes {ruler.length(layout.spacing - layout.pitch)} apart")


def _knowledge(reach: Reach) -> Mark | None:
    return Mark(0.0, f"a bit known from {counted(reach.taught, 'set-up')}") if reach.taught else Mark(0.2, "a bit not met yet")


def _none(reaches: Sequence[Reach], asked: Asked, ruler: Ruler) -> Refused:
    board = f"a board {ruler.size(asked.width)} wide and {ruler.size(asked.pin_thickness)} thick"
    wishes = [
        *([f"{asked.tails} tails"] if asked.tails else []),
        *([f"a pitch of {ruler.length(asked.pitch)}"] if asked.pitch else []),
        *([f"a {asked.middle} in the middle"] if asked.middle else []),
        *([] if asked.wide is None else ["wide tails" if asked.wide else "tails and pins alike"]),
    ]  # fmt: skip
    with_ = f" with {', '.join(wishes)}" if wishes else ""
    bits = ", ".join(reach.bit.name for reach in reaches)
    span = " or ".join(
        f"{ruler.length(_pitch_at(reach, reach.high))} to {ruler.length(_pitch_at(reach, reach.low))} ({reach.bit.name})"
        for reach in reaches[:3]
    )
    hint = f"pitches within reach are {span}; change the width, the tails, --half-pin, or take another bit"
    return Refused("no-layout", f"no layout ends alike on {board}{with_} with {bits}", hint)


def _pitch_at(reach: Reach, height: float) -> float:
    """The pitch that asks for about this height."""
    return reach.pitch + (reach.height_at(reach.pitch, 1)[0] - height) * 2 * math.tan(reach.bit.theta)
