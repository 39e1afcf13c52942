"""Which layouts a board allows with the bits at hand, and which is the better one.

The marks that rank them are common practice, no source: each says in words what it rests on, and
the user chooses.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import reduce

from ....domain import Remark, remark
from ....errors import Refused
from ....language.units import Ruler
from ....texts import tell
from .. import figures
from .candidates import Asked, Reach, candidates
from .groove import Covered
from .layout import MOST_EDGE_PASSES, Layout
from .marks import Rounding, on_marks, rounding

FEW_CUTS = 10  # passes a corner that nobody minds
_ALIKE = {True: "wide tails", False: "tails and pins alike"}


@dataclass(frozen=True, slots=True)
class Mark:
    """One reason of a rank: points against the layout (next to nothing: it speaks for it) and the
    reason itself.
    """

    points: float
    told: Remark

    @property
    def against(self) -> bool:
        """Whether it counts."""
        return self.points >= 0.1


@dataclass(frozen=True)
class Found:
    """A layout with its lap and height's uncertainty, mm, and the reasons of its rank, the
    weightiest first.

    rounded: what rounding to the fence's step costs; None: the pitch is not set by marks.  true:
    all that sets the fit is on the marks.  groove: what covers the bottom's, if one was named.
    """

    layout: Layout
    lap: float
    height_sd: float
    marks: tuple[Mark, ...]
    rounded: Rounding | None = None
    true: bool = False
    groove: Covered | None = None

    @property
    def points(self) -> float:
        """All that speaks against it."""
        return sum(mark.points for mark in self.marks)


def find(reaches: Sequence[Reach], asked: Asked, ruler: Ruler) -> list[Found]:
    """Return the layouts that these bits allow, best first: those that hide the groove, where some
    do. Raises `Refused` (code "no-layout") when there is none.
    """
    found = []
    told = len({reach.taught > 0 for reach in reaches}) > 1
    for reach in reaches:
        for layout in candidates(reach, asked):
            height, sd = reach.height_at(layout.pitch, layout.tails)
            made = replace(layout, height=height)
            if _sound(made, reach, asked):
                found.append(_judged(made, sd, reach, asked, told))
    if not found:
        raise _none(reaches, asked, ruler)
    found = [one for one in found if one.groove is not None and one.groove.enough] or found
    return sorted(
        found, key=lambda one: (round(one.points, 6), one.layout.cuts, one.layout.bit.name)
    )


def _sound(layout: Layout, reach: Reach, asked: Asked) -> bool:
    """Whether a layout can be cut and holds, and is what was asked for."""
    if (
        not reach.limit.low <= layout.height <= reach.limit.high
        or layout.mouth < figures.LEAST_MOUTH
    ):
        return False
    if (
        min(layout.pin[0], layout.tail[0]) < figures.LEAST_PIN
        or layout.half_pin[0] < asked.least - 1e-6
    ):
        return False
    if asked.tail_thickness - layout.bit.diameter / 2 < figures.LEAST_STRAIGHT_TAIL:
        return False
    middle, wide = asked.middle in (None, layout.middle), asked.wide in (None, layout.wide)
    return middle and wide and len(layout.edge_passes) <= MOST_EDGE_PASSES


def _judged(layout: Layout, sd: float, reach: Reach, asked: Asked, known_or_not: bool) -> Found:
    """Weigh a layout. known_or_not: some of the bits are known and some are not."""
    lap = asked.pin_thickness - layout.height
    cost = None if asked.mark is None or asked.step is None else rounding(layout, asked.step)
    true = asked.mark is not None and on_marks(layout, asked.mark)
    groove = None if asked.groove is None else asked.groove.covered(layout)
    marks = (
        _lap(lap, asked.pin_thickness),
        _edges(layout, asked.least),
        _pins(layout),
        _room(layout.height, sd, reach),
        _work(layout),
        _knowledge(reach) if known_or_not else None,
        None if cost is None else _rounded(cost, layout, asked, true),
        None if groove is None or groove.enough else _groove(groove),
    )
    told = sorted((mark for mark in marks if mark is not None), key=lambda mark: -mark.points)
    return Found(layout, lap, sd, tuple(told), cost, true, groove)


def _rounded(cost: Rounding, layout: Layout, asked: Asked, true: bool) -> Mark:
    """What the fence's marks take: more than half the window of play is worse than
    anything else.
    """
    if true:
        return Mark(0.0, remark("on-marks"))
    half = figures.fit_window(layout.tails >= figures.MANY_TAILS_FROM).half
    return Mark(
        abs(cost.lost) / (2 * half) + cost.largest,
        remark("off-marks", step=asked.step or 0.0, lost=cost.lost, largest=cost.largest),
    )


def _lap(lap: float, thickness: float) -> Mark:
    share, (low, high) = lap / thickness, figures.GOOD_LAP
    points, how = 0.0, "sound"
    if share < low:
        points, how = 12 * (low - share), "thin"
    elif share > high:
        points, how = 6 * (share - high), "thick"
    return Mark(points, remark("lap", share=share, how=how, tails=thickness - lap))


def _edges(layout: Layout, least: float) -> Mark:
    thin, exact = layout.half_pin[0], layout.exact
    points = 2 * max(0.0, 1.25 - thin / least) if exact else 0.25 + 0.1 * abs(layout.edge)
    passes = len(layout.edge_passes)
    return Mark(
        points, remark("half-pins", exact=exact, thin=thin, edge=layout.edge, passes=passes)
    )


def _pins(layout: Layout) -> Mark | None:
    slender = min(layout.pin[0], layout.tail[0]) / layout.height
    if slender >= figures.SLENDER:
        return None
    root = slender * layout.height
    return Mark(4 * (figures.SLENDER - slender), remark("slender", root=root))


def _room(height: float, sd: float, reach: Reach) -> Mark | None:
    """The height will still be moved by about its uncertainty: near a limit that may not be
    possible.
    """
    sds = (reach.limit.high - height) / sd
    if sds >= 2:
        return None
    limit = reach.limit
    room = remark(
        "little-room", room=limit.high - height, why=limit.high_why, figures=limit.figures
    )
    return Mark(2 - sds, room)


def _work(layout: Layout) -> Mark:
    apart = layout.spacing - layout.pitch if layout.wide else None
    points = 0.06 * max(0, layout.cuts - FEW_CUTS)
    return Mark(points, remark("corner-cuts", cuts=layout.cuts, apart=apart))


def _groove(covered: Covered) -> Mark:
    points = figures.GROOVE_POINTS * covered.short
    return Mark(points, remark("groove-short", short=covered.short))


def _knowledge(reach: Reach) -> Mark:
    return Mark(0.0 if reach.taught else 0.2, remark("bit-known", setups=reach.taught))


def _none(reaches: Sequence[Reach], asked: Asked, ruler: Ruler) -> Refused:
    wishes = [
        *([tell("{tails} tails", tails=asked.tails)] if asked.tails else []),
        *([tell("a pitch of {pitch}", pitch=ruler.length(asked.pitch))] if asked.pitch else []),
        *([tell("a {middle} in the middle", middle=asked.middle)] if asked.middle else []),
        *([] if asked.wide is None else [tell(_ALIKE[asked.wide])]),
    ]
    spans = [
        tell(
            "{low} to {high} ({bit})",
            low=ruler.length(_pitch_at(reach, reach.limit.high)),
            high=ruler.length(_pitch_at(reach, reach.limit.low)),
            bit=reach.bit.name,
        )
        for reach in reaches[:3]
    ]
    return Refused(
        "no-layout",
        "no layout ends alike on a board {width} wide and {thickness} thick with {wishes} with "
        "{bits}"
        if wishes
        else "no layout ends alike on a board {width} wide and {thickness} thick with {bits}",
        "pitches within reach are {spans}; change the width, the tails, --half-pin, or take "
        "another bit",
        width=ruler.size(asked.width),
        thickness=ruler.size(asked.pin_thickness),
        wishes=", ".join(wishes),
        bits=", ".join(reach.bit.name for reach in reaches),
        spans=reduce(lambda one, other: tell("{one} or {other}", one=one, other=other), spans),
    )


def _pitch_at(reach: Reach, height: float) -> float:
    """The pitch that asks for about this height."""
    return reach.pitch + (reach.height_at(reach.pitch, 1)[0] - height) * 2 * math.tan(
        reach.bit.theta
    )
