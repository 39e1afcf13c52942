"""What nobody would mean by a play that was said with its word: see `families.doubting`."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from ... import defaults
from ...domain import Piece, Plan, Reading, Verdict
from ...errors import Refused
from ...language.doubts import Doubt, remedy
from ...language.units import MM_PER_INCH, Ruler
from .. import Joint
from ..doubting import Unknowing
from ..wanted import Wanted
from .figures import PLAY
from .names import FIT

_SDS = 5.0  # a play so many sds off its word's band belongs to another word
_PLAIN = Unknowing()


def far(plan: Plan) -> Mapping[str, float]:
    """As for any family."""
    return _PLAIN.far(plan)


def hears(verdict: Verdict, readings: Sequence[Reading]) -> bool:
    """What was learnt of words is read only where a play meets one."""
    said = verdict.of(FIT)
    return said is not None and said.size is not None


def said(
    joint: Joint, ruler: Ruler, verdict: Verdict, readings: Sequence[Reading], heard: str
) -> Iterator[Doubt]:
    """Yield a play that its word cannot have."""
    fit = verdict.of(FIT)
    if fit is None or fit.size is None:
        return
    sd = math.hypot(PLAY, joint.word_noise(FIT), defaults.BAND_EDGES)
    ((low, high, _),) = joint.word_bands(FIT)[fit.index]

    def stray(play: float) -> bool:
        return max(low - play, play - high) > _SDS * sd

    if not stray(fit.size):
        return
    ways = (fit.size / 10, fit.size / MM_PER_INCH)
    meant = next((way for way in ways if not stray(way)), None)
    shown = "" if meant is None else ruler.size(meant)
    yield Doubt(
        Refused(
            "word-and-gap",
            '"{word}" and a play of {play} don\'t go together',
            "{advised}",
            word=fit.word,
            play=ruler.size(fit.size),
            advised=remedy(shown),
        ),
        shown,
        {} if meant is None else {FIT: meant},
    )


def read(joint: Joint, ruler: Ruler, reading: Reading, piece: Piece) -> Iterator[Doubt] | None:
    """As for any family."""
    return _PLAIN.read(joint, ruler, reading, piece)


def start(wanted: Wanted, ruler: Ruler) -> Iterator[Doubt]:
    """As for any family."""
    return _PLAIN.start(wanted, ruler)
