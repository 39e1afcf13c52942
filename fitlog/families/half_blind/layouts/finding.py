"""Which layouts a board allows with the bits at hand, and which is the better one.

The marks that rank them are common practice, no source: each says in words what it rests on, and
the user chooses.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from .... import defaults
from ....errors import Refused
from ....language.units import Ruler, counted
from .. import figures
from .candidates import Asked, Reach, candidates
from .layout import MOST_EDGE_PASSES, Layout
from .marks import Rounding, on_marks, rounding

FEW_CUTS = 10  # passes a corner that nobody minds


@dataclass(frozen=True, slots=True)
class Mark:
    """One reason of a rank: points against the layout (next to nothing: it speaks for it) and the
    reason in words.
    """

    points: float
    text: str

    @property
    def against(self) -> bool:
        """Whether it counts."""
        return self.points >= 0.1


@dataclass(frozen=True)
class Found:
    """A layout with its lap and height's uncertainty, mm, and the reasons of its rank, the
    weightiest first.

    rounded: what rounding to the fence's step costs; None: the pitch is not set by marks.  true:
    all that sets the fit is on the marks.
    """

    layout: Layout
    lap: float
    height_sd: float
    marks: tuple[Mark, ...]
    rounded: Rounding | None = None
    true: bool = False

    @property
    def points(self) -> float:
        """All that speaks against it."""
        return sum(mark.points for mark in self.marks)


def find(reaches: Sequence[Reach], asked: Asked, ruler: Ruler) -> list[Found]:
    """Return the layouts that these bits allow, best first; raise `Refused` (code "no-layout") when
    there is none.
    """
    found = []
    told = len({reach.taught > 0 for reach in reaches}) > 1
    for reach in reaches:
        for layout in candidates(reach, asked):
            height, sd = reach.height_at(layout.pitch, layout.tails)
            made = replace(layout, height=height)
            if _sound(made, reach, asked):
                found.append(_judged(made, sd, reach, asked, ruler, told))
    if not found:
        raise _none(reaches, asked, ruler)
    return sorted(
        found, key=lambda one: (round(one.points, 6), one.layout.cuts, one.layout.bit.name)
    )


def _sound(layout: Layout, reach: Reach, asked: Asked) -> bool:
    """Whether a layout can be cut and holds, and is what was asked for."""
    if not reach.low <= layout.height <= reach.high or layout.mouth < defaults.LEAST_MOUTH:
        return False
    if (
        min(layout.pin[0], layout.tail[0]) < defaults.LEAST_PIN
        or layout.half_pin[0] < asked.least - 1e-6
    ):
        return False
    if asked.tail_thickness - layout.bit.diameter / 2 < defaults.LEAST_STRAIGHT_TAIL:
        return False
    middle, wide = asked.middle in (None, layout.middle), asked.wide in (None, layout.wide)
    return middle and wide and len(layout.edge_passes) <= MOST_EDGE_PASSES


def _judged(
    layout: Layout, sd: float, reach: Reach, asked: Asked, ruler: Ruler, known_or_not: bool
) -> Found:
    """Weigh a layout. known_or_not: some of the bits are known and some are not."""
    lap = asked.pin_thickness - layout.height
    cost = None if asked.mark is None or asked.step is None else rounding(layout, asked.step)
    true = asked.mark is not None and on_marks(layout, asked.mark)
    marks = (
        _lap(lap, asked.pin_thickness, ruler),
        _edges(layout, asked.least, ruler),
        _pins(layout, ruler),
        _room(layout.height, sd, reach, ruler),
        _work(layout, ruler),
        _knowledge(reach) if known_or_not else None,
        None if cost is None else _rounded(cost, layout, asked, true, ruler),
    )
    told = sorted((mark for mark in marks if mark is not None), key=lambda mark: -mark.points)
    return Found(layout, lap, sd, tuple(told), cost, true)


def _rounded(cost: Rounding, layout: Layout, asked: Asked, true: bool, ruler: Ruler) -> Mark:
    """What the fence's marks take: more than half the window of play is worse than
    anything else.
    """
    half, step = (
        figures.fit_window(layout.tails >= defaults.MANY_TAILS).half,
        ruler.length(asked.step or 0.0),
    )
    lost = ruler.length(abs(cost.lost))
    points = abs(cost.lost) / (2 * half) + cost.largest
    if true:
        return Mark(0.0, "every cut that sets the fit on the fence's marks")
    if lost == ruler.length(0.0):
        return Mark(
            points,
            f"rounding to the fence's {step} moves a cut by up to {ruler.length(cost.largest)}, "
            "the play stays",
        )
    takes = f"takes {lost} of the play" if cost.lost > 0 else f"adds {lost} to the play"
    return Mark(points, f"rounding to the fence's {step} {takes}")


def _lap(lap: float, thickness: float, ruler: Ruler) -> Mark:
    share, (low, high) = lap / thickness, defaults.GOOD_LAP
    if share < low:
        return Mark(12 * (low - share), f"a thin lap, {share:.0%} of the pin board")
    if share > high:
        return Mark(
            6 * (share - high),
            f"short tails, {ruler.length(thickness - lap)}, behind a lap of {share:.0%}",
        )
    return Mark(0.0, f"a sound lap, {share:.0%} of the pin board")


def _edges(layout: Layout, least: float, ruler: Ruler) -> Mark:
    thin = layout.half_pin[0]
    thick = ruler.length(thin)
    if layout.exact:
        return Mark(2 * max(0.0, 1.25 - thin / least), f"exact half-pins, {thick} at the thinnest")
    kind = "thicker" if layout.edge > 0 else "thinner"
    more = " and another pass to clear each edge" if len(layout.edge_passes) > 1 else ""
    return Mark(
        0.25 + 0.1 * abs(layout.edge), f"half-pins of {thick}, {kind} than half a pin{more}"
    )


def _pins(layout: Layout, ruler: Ruler) -> Mark | None:
    slender = min(layout.pin[0], layout.tail[0]) / layout.height
    if slender < defaults.SLENDER:
        return Mark(
            4 * (defaults.SLENDER - slender),
            f"slender at the root, {ruler.length(slender * layout.height)}",
        )
    return None


def _room(height: float, sd: float, reach: Reach, ruler: Ruler) -> Mark | None:
    """The height will still be moved by about its uncertainty: near a limit that may not be
    possible.
    """
    sds = (reach.high - height) / sd
    if sds >= 2:
        return None
    return Mark(
        2 - sds,
        f"little room to raise the bit: {ruler.length(reach.high - height)} to {reach.high_why}",
    )


def _work(layout: Layout, ruler: Ruler) -> Mark:
    passes, points = (
        counted(layout.cuts, "cut") + " a corner",
        0.06 * max(0, layout.cuts - FEW_CUTS),
    )
    if not layout.wide:
        return Mark(points, passes)
    return Mark(
        points,
        f"{passes}, the fit set by passes {ruler.length(layout.spacing - layout.pitch)} apart",
    )


def _knowledge(reach: Reach) -> Mark | None:
    return (
        Mark(0.0, f"a bit known from {counted(reach.taught, 'set-up')}")
        if reach.taught
        else Mark(0.2, "a bit not met yet")
    )


def _none(reaches: Sequence[Reach], asked: Asked, ruler: Ruler) -> Refused:
    board = f"a board {ruler.size(asked.width)} wide and {ruler.size(asked.pin_thickness)} thick"
    wishes = [
        *([f"{asked.tails} tails"] if asked.tails else []),
        *([f"a pitch of {ruler.length(asked.pitch)}"] if asked.pitch else []),
        *([f"a {asked.middle} in the middle"] if asked.middle else []),
        *([] if asked.wide is None else ["wide tails" if asked.wide else "tails and pins alike"]),
    ]
    with_ = f" with {', '.join(wishes)}" if wishes else ""
    bits = ", ".join(reach.bit.name for reach in reaches)
    span = " or ".join(
        f"{ruler.length(_pitch_at(reach, reach.high))} to "
        f"{ruler.length(_pitch_at(reach, reach.low))} ({reach.bit.name})"
        for reach in reaches[:3]
    )
    hint = (
        f"pitches within reach are {span}; change the width, the tails, --half-pin, or take "
        "another bit"
    )
    return Refused("no-layout", f"no layout ends alike on {board}{with_} with {bits}", hint)


def _pitch_at(reach: Reach, height: float) -> float:
    """The pitch that asks for about this height."""
    return reach.pitch + (reach.height_at(reach.pitch, 1)[0] - height) * 2 * math.tan(
        reach.bit.theta
    )
