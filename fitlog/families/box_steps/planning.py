"""What is decided before the first cut of a box joint by steps: the pitch that ends alike on the
board as it is, or a width for the pitch at hand; see `families.planning`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import NamedTuple

from ...texts import tell
from ..fingers.boards import FingerJob
from ..fingers.planning import FIGURES, widths
from ..planning import Draft, Planned
from ..tables import Table
from .names import SECOND
from .plan import StepsPlan

__all__ = ["FIGURES", "pitches", "planned"]

MOST_SECOND = 0.5  # of the bit: a planned second pass is no wider; common practice, no source
COLUMNS: Mapping[str, str] = {
    "fingers": "fingers",
    "pitch": "pitch",
    "second": "second pass",
    "finger": "finger",
}


class Pitched(NamedTuple):
    """A pitch with which so many fingers end alike, its second pass and its fingers, mm."""

    fingers: int
    pitch: float
    second: float
    finger: float


def pitches(width: float, bit: float, play: float) -> Iterator[Pitched]:
    """Yield what ends alike on a board of this width with a bit that cuts so wide, the least second
    pass first.

    A board of n fingers is W = (n - 1) P + (P - c) / 2, each slot (P + c) / 2 = b + d.
    """
    most = int((width + play / 2) / (2 * bit - play) + 0.5)
    for fingers in range(most, 0, -1):
        pitch = (width + play / 2) / (fingers - 0.5)
        second = (pitch + play) / 2 - bit
        if second > MOST_SECOND * bit:
            return
        if second >= 0:
            yield Pitched(fingers, pitch, second, (pitch - play) / 2)


def planned(draft: Draft) -> Planned:
    """Both tables; the start takes the pitch for the board as it is, unless one was said."""
    job, plan, found = draft.job, draft.plan, widths(draft)
    assert isinstance(job, FingerJob) and isinstance(plan, StepsPlan)
    bit = job.slot - job.settings[SECOND]
    fits = tuple(pitches(plan.board_width, bit, job.play))
    if "pitch" in draft.said:
        return found
    meant = next(one.fingers for one in job.widths if one.asked)
    asked = next((one for one in fits if one.fingers == meant), None)
    if asked is None:
        return found
    told = tell(
        "With {fingers} fingers at a pitch of {pitch} the board stays {width} wide.",
        fingers=asked.fingers,
        pitch=draft.ruler.length(asked.pitch),
        width=draft.ruler.size(plan.board_width),
    )
    table = Table("pitches", "Pitches for the board as it is", dict(COLUMNS), fits)
    return replace(
        found,
        tables=(table, *found.tables),
        lengths={"first and second boards, width": plan.board_width},
        notes=(told, *found.notes[1:]),
        figures={"fingers": asked.fingers, "pitch": asked.pitch},
    )
