"""Which layouts are worth judging: those that divide the width, those of a given pitch, those on
the fence's marks.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from ....domain import Bit
from ...family import Limit
from .. import figures
from .groove import Groove
from .layout import Layout, fitting_tails, regular, wide_tails
from .marks import pitches_on_marks, spacings_on_marks


@dataclass(frozen=True)
class Reach:
    """What one bit can do on these boards.

    limit: the heights it may be set to, mm.  pitch: the one
    that goes with a sensible height.  height_at: the height that fits a pitch with a number of
    tails, and its standard uncertainty, mm. taught: finished set-ups that told of the bit.
    """

    bit: Bit
    limit: Limit
    pitch: float
    height_at: Callable[[float, int], tuple[float, float]]
    taught: int = 0


@dataclass(frozen=True)
class Asked:
    """What a layout is asked for. least: the thinnest half-pin at an edge, mm; step: that of the
    fence; None: free.

    mark: the distance of the fence's marks, where the pitch is set by them, mm.  groove: the
    bottom's, which a tail is to cover.
    """

    width: float
    tail_thickness: float
    pin_thickness: float
    least: float = figures.LEAST_HALF_PIN
    step: float | None = None
    tails: int | None = None
    pitch: float | None = None
    middle: str | None = None
    wide: bool | None = None
    mark: float | None = None
    groove: Groove | None = None


def candidates(reach: Reach, asked: Asked) -> Iterable[Layout]:
    """Return layouts worth looking at, each once, at the sensible height: their own is worked out
    from their pitch.
    """
    found = (*_free(reach, asked), *_marked(reach, asked))
    return {(one.tails, round(one.pitch, 5), round(one.spacing, 5)): one for one in found}.values()


def _free(reach: Reach, asked: Asked) -> Iterator[Layout]:
    """Layouts that share the width, or of the pitch asked for, wherever the marks are."""
    bit, width = reach.bit, asked.width
    about = reach.height_at(asked.pitch or reach.pitch, asked.tails or 1)[0]
    counts = _counts(reach, asked)
    at_pitch = fitting_tails(bit, about, width, asked.pitch or reach.pitch, asked.least)
    yield from (
        one
        for one in at_pitch
        if one.tails in counts and (asked.pitch is not None or not one.exact)
    )
    for n in counts:
        if asked.pitch is None:
            yield _alike(bit, about, width, n, asked.least)
        pitch = asked.pitch or reach.pitch
        wide = wide_tails(bit, about, width, n, pitch)
        if _is_wide(wide):
            yield _even_spread(_room_at_edges(wide, asked.least), asked)


def _counts(reach: Reach, asked: Asked) -> Sequence[int]:
    """The numbers of tails worth a look."""
    return (
        range(1, math.floor(asked.width / reach.bit.diameter) + 1)
        if asked.tails is None
        else (asked.tails,)
    )


def _marked(reach: Reach, asked: Asked) -> Iterator[Layout]:
    """Layouts whose fit is set on the fence's marks, where it has any."""
    bit, width, mark = reach.bit, asked.width, asked.mark
    if mark is None:
        return
    own = [asked.pitch] if asked.pitch is not None else list(pitches_on_marks(reach.pitch, mark))
    about, counts = reach.height_at(own[0], asked.tails or 1)[0], _counts(reach, asked)
    for pitch in own:
        yield from (
            one
            for one in fitting_tails(bit, about, width, pitch, asked.least)
            if one.tails in counts
        )
    for n in counts:
        if asked.pitch is None:
            yield from (
                regular(bit, about, width, n, pitch) for pitch in pitches_on_marks(width / n, mark)
            )
        for spacing in spacings_on_marks(width / n, n, mark):
            made = (Layout(bit, about, width, n, pitch, spacing) for pitch in own)
            yield from (one for one in made if _is_wide(one))


def _is_wide(layout: Layout) -> bool:
    """Whether the tails are wider than one pass clears, by enough, and not too wide beside the
    pins.
    """
    return (
        layout.spacing - layout.pitch >= figures.LEAST_SPREAD
        and layout.tail[1] <= figures.MOST_TAIL * layout.pin[1]
    )


def _alike(bit: Bit, height: float, width: float, tails: int, least: float) -> Layout:
    """The pitch that gives exact half-pins, W = n P, or the one that makes them as thick as they
    must be at least.
    """
    exact = regular(bit, height, width, tails, width / tails)
    if exact.half_pin[0] >= least or tails == 1:
        return exact
    return regular(bit, height, width, tails, (width - 2 * least - bit.diameter) / (tails - 1))


def _room_at_edges(wide: Layout, least: float) -> Layout:
    """Move the outer slots in where half a pin would be too thin for an edge."""
    short = least - wide.half_pin[0]
    return wide if short <= 0 else replace(wide, spacing=(wide.width - 2 * short) / wide.tails)


def _even_spread(wide: Layout, asked: Asked) -> Layout:
    """Bring the two passes that set the fit a whole number of fence steps apart: rounding then
    moves both alike.
    """
    if asked.step is None or asked.pitch is not None:
        return wide
    spread = round((wide.spacing - wide.pitch) / asked.step) * asked.step
    return replace(wide, pitch=wide.spacing - spread)
