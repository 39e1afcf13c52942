"""The use cases of what is printed beside the real boards' own: a mouth measured for the sheet
alone, and the label of the sample. Nothing is logged.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..advice import advise
from ..domain import Piece, Reading, SetUp, TrialCut, Verdict
from ..domain.standing import for_real_boards, standing
from ..errors import Mm, Refused
from ..estimator.history import Lessons, suspect
from ..families import joint_of
from ..families.boards import Job
from .bench import Workbench


def measured(job: Job, readings: Sequence[Reading]) -> Job:
    """Return a job whose set-up has a slot at its settings with these readings, which the log need
    not have.

    Raises Refused (bad-reading) for one that the bit cannot have there.
    """
    if not readings:
        return job
    joint = joint_of(job.setup.plan)
    for one in readings:
        slot = Piece(0, job.settings, Verdict(), (one,), ())
        for told in joint.term_readings([slot]):
            if suspect(told):
                about = one.value - told.value + Lessons().law(told.terms).mean
                raise Refused(
                    "bad-reading",
                    "a {kind} of {value} is not to be had with this bit at these settings",
                    "measure it again: about {about} is to be expected",
                    kind=one.kind.replace("_", " "),
                    value=Mm(one.value),
                    about=Mm(round(about, 2)),
                )
    slot_cut = TrialCut(0, 0, job.settings, Verdict(), tuple(readings), slot=True)
    return replace(job, setup=replace(job.setup, cuts=(*job.setup.cuts, slot_cut)))


def for_label(bench: Workbench, setup: SetUp) -> Job:
    """Return what a sample's label tells: the settings and how they stand, without any layout."""
    if setup.undone:
        raise Refused(
            "undone-setup",
            "set-up {number} was undone",
            "start a new one with fitlog start",
            "start another",
            number=setup.number,
        )
    made = advise(setup, bench.past(setup))
    settings = for_real_boards(setup, made)
    return Job(setup, made.status, settings, (), (), standing(setup, made))
