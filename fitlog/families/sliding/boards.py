"""The real boards of a sliding dovetail: how long shelves and tongues are, and in which order all
is cut.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ...advice.history import History
from ...domain import Advice, Remark, SetUp, remark
from ...domain.standing import Standing, for_real_boards, standing
from ...errors import Mm, Refused
from .. import boards
from . import figures
from .cautions import cautions
from .geometry import mouth
from .names import EXPOSURE, HEIGHT, TONGUE
from .plan import SlidingPlan, sliding

Section = tuple[str, tuple[Remark, ...]]  # a heading and what to do under it


@dataclass(frozen=True)
class Job(boards.Job):
    """The real boards of a set-up, lengths in mm. shelf: from end to end, None where the clear
    width is not known; tongue: across the shelf; axis: where the bit's axis stops before the front
    edge, None for a socket that is cut right through. sections: what to do before each part.
    """

    shelf: float | None
    tongue: float
    axis: float | None
    sections: tuple[Section, ...]

    def lengths(self) -> dict[str, float]:
        """Return what is measured off on the boards, by name."""
        known = {"shelf": self.shelf, "tongue": self.tongue, "axis_stop": self.axis}
        return {name: length for name, length in known.items() if length is not None}


def real_boards(setup: SetUp, advice: Advice, past: History, tails: int | None) -> Job:
    """See `families.boards.Boarded`. tails: there are none."""
    if tails is not None:
        raise Refused("no-layout", "a sliding dovetail has no tails to count", "leave --tails out")
    plan, settings = sliding(setup.plan), for_real_boards(setup, advice)
    axis = None if plan.stopped is None else plan.stopped + plan.bit.diameter / 2
    tongue = plan.board_width - (axis or 0.0)
    if tongue <= 0:
        raise Refused(
            "no-layout",
            "a socket that ends {stopped} before the front leaves a {width} shelf no tongue",
            "start it again with another --given stopped=L",
            "start another, with a smaller figure for stopped",
            stopped=Mm(plan.stopped or 0.0),
            width=Mm(plan.board_width),
        )
    shelf = None if plan.clear_width is None else plan.clear_width + 2 * settings[TONGUE]
    how = standing(setup, advice)
    dial = settings.on_scale(plan.machine)
    sections = (
        ("Panels", tuple(_panels(plan, dial[HEIGHT], settings[HEIGHT], axis))),
        ("Shelves", tuple(_shelves(plan, settings[TONGUE], shelf, axis, tongue))),
        ("Tongues", _tongues(plan, settings[HEIGHT] - settings[TONGUE], dial[EXPOSURE])),
    )
    care, notices = cautions(plan, None), tuple(_doubts(how))
    return Job(setup, advice.status, settings, notices, care, how, shelf, tongue, axis, sections)


def _panels(
    plan: SlidingPlan, dialled: float, height: float, axis: float | None
) -> Iterator[Remark]:
    yield remark("sand-first")
    narrow = mouth(plan.bit.diameter, height, plan.bit.theta)
    yield remark("all-sockets", height=dialled, narrow=narrow, waste=height - figures.SHALLOWER)
    if axis is not None:
        yield remark("stop-socket", axis=axis, visible=plan.stopped or 0.0)


def _shelves(
    plan: SlidingPlan, tongue: float, shelf: float | None, axis: float | None, across: float
) -> Iterator[Remark]:
    yield remark("shelf-length", shelf=shelf, clear=plan.clear_width, tongue=tongue)
    if axis is not None:
        yield remark("cut-back", axis=axis, across=across)


def _tongues(plan: SlidingPlan, packing: float, exposure: float) -> tuple[Remark, ...]:
    return (
        remark("all-tongues", exposure=exposure, both=not plan.one_face, packing=packing),
        remark("sort-shelves"),
    )


def _doubts(how: Standing) -> Iterator[Remark]:
    """What speaks against cutting real boards at these settings."""
    if how.ended in ("abandoned", "as it is") or how.code in ("tuning", "doubted"):
        yield remark("boards-unsure", ended=how.ended, code=how.code)
