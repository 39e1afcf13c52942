"""How wide the boards of a box joint are sawn so that their fingers end alike."""

from __future__ import annotations

from collections.abc import Mapping

from ...texts import tell
from ..planning import Draft, Planned, up
from ..tables import Table
from ..typed import Figure
from .boards import FingerJob

FIGURES: Mapping[str, Figure] = {}
ENDS = {"alike": "finger and finger", "opposite": "finger and slot"}
COLUMNS = {
    "fingers": "fingers",
    "ends": "ends",
    "width": "width",
    "saw_to": "saw to",
    "trim": "trim off after",
    "waste": "waste",
}


def widths(draft: Draft) -> Planned:
    """The widths below and above the board at hand; the start takes the widest that it holds, or
    as many fingers as were asked for.
    """
    job = draft.job
    assert isinstance(job, FingerJob)
    board, rows = draft.plan.board_width, []
    for one in sorted(job.widths, key=lambda w: w.width):
        saw = up(one.width, draft.ruler)
        less = board - saw if board >= saw else None
        rows.append((one.fingers, ENDS[one.ends], one.width, saw, saw - one.width, less))
    asked = next(one for one in job.widths if one.asked and one.ends == "alike")
    ruler = draft.ruler
    notes = (
        tell(
            "A finger is {finger} wide, a slot {slot}, with {play} of play: cut from the "
            "reference edge, trim the other one after.",
            finger=ruler.length(job.slot - job.play),
            slot=ruler.length(job.slot),
            play=ruler.length(job.play),
        ),
        tell(
            "Where no waste is named, it takes a board wider than {width}.",
            width=ruler.size(board),
        ),
    )
    return Planned(
        (Table("widths", "Widths that end as told", COLUMNS, tuple(rows)),),
        {"first and second boards, width": up(asked.width, ruler)},
        notes,
        {"fingers": asked.fingers, "width": up(asked.width, ruler)},
    )
