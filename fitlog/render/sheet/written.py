"""What a person has written of a set-up, as a block of a sheet: ruled blanks, to be filled in by
pen, where nothing is known.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ...families.boards import Job
from ...texts import tell
from .own import own_of
from .paper import (
    AT_MACHINE,
    Block,
    Line,
    Measure,
    Words,
    clipped,
    set_lines,
    stacked,
    wrapped,
)

_SIZE, _LABEL = AT_MACHINE, 7.5
_BLANK = 5.4  # mm: a line to write on


class Written(NamedTuple):
    """title, note: of the set-up; kept: where its sample is; "": not said. columns, rows: of a
    schedule of the boards, each row the texts of its columns; none: no schedule.
    """

    title: str = ""
    note: str = ""
    kept: str = ""
    columns: Sequence[str] = ()
    rows: Sequence[Sequence[str]] = ()


NOTHING = Written()


def of(job: Job) -> Written:
    """Return what is written down about a job's set-up, and the order of its boards."""
    setup, own = job.setup, own_of(job.setup.plan)
    order = own.scheduled(job)
    return Written(setup.noted("title"), setup.noted("note"), setup.noted("kept"), *order)


def noted(written: Written, width: float, measure: Measure) -> Block:
    """Return title, note and where the sample is kept, below one another."""
    told = {
        tell("title"): written.title,
        tell("sample kept"): written.kept,
        tell("note"): written.note,
    }
    lead = max(measure(label, _LABEL, False) for label in told) + 2.0
    return stacked(_field(label, text, lead, width, measure) for label, text in told.items())


def _field(label: str, text: str, lead: float, width: float, measure: Measure) -> Block:
    """A label with its text, at most two lines of it, or with a line to write on."""
    if not text:
        low = _BLANK - 0.8
        ruled = Line(((lead, low), (width, low)), 0.15)
        return Block(_BLANK, (Words(0.0, low - 0.2, label, _LABEL), ruled))
    lines = wrapped(text, width - lead, _SIZE, measure)
    told = set_lines(clipped(lines, 2, width - lead, _SIZE, measure), _SIZE, x=lead)
    return Block(told.height + 0.6, (Words(0.0, 3.4, label, _LABEL), *told.marks))
