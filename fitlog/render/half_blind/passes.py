"""A half-blind's real boards as a list to tick: each stop once, or, where the boards were named, in
the order of the batch with the ends that are cut at it; see `render.ticks`.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...families.half_blind.layouts.job import Job
from ...families.half_blind.layouts.schedule import Step
from ...families.half_blind.layouts.work import RabbetPass
from ...language.units import Ruler
from ...texts import tell
from ..ticks import Part, Tick, sectioned
from . import schedule
from .stops_table import named

BOARDS = {"Tail boards": "tail", "Pin boards": "pin"}  # of the stops, by their headings
_WORK = {"rabbet": "Rabbet", "edges": "Tail boards", "slots": "Tail boards"}


def parts(job: Job, ruler: Ruler) -> list[Part]:
    """See `render.ticks`."""
    if job.schedule.boards is not None:
        return list(_in_order(job, ruler))
    boards: dict[str, list[Tick]] = {
        heading: [
            Tick(ruler.length(stop.setting), f"{stop.number}: {named(stop)}")
            for stop in job.stops.stops
            if stop.cut.board == board
        ]
        for heading, board in BOARDS.items()
    }
    rabbet = [_rabbet(n, one, ruler) for n, one in enumerate(job.rabbet, 1)]
    return sectioned(job.sections, {**boards, "Rabbet": rabbet})


def _rabbet(number: int, one: RabbetPass, ruler: Ruler) -> Tick:
    return Tick(
        ruler.length(one.depth if one.fence is None else one.fence),
        tell(
            "pass {number}, depth" if one.fence is None else "pass {number}, {depth} deep",
            number=number,
            depth=ruler.length(one.depth),
        ),
    )


def _in_order(job: Job, ruler: Ruler) -> Iterator[Part]:
    """Yield the parts of a batch whose boards were named: what a heading says stands at the first
    step of its boards.
    """
    assert job.schedule.boards is not None
    said = dict(job.sections)
    marked = tuple(
        Tick(mark, f"{pin}; {tail}") for mark, pin, tail in schedule.marks(job.schedule.boards)
    )
    yield Part(tell("Mark the boards"), said.pop("Mark the boards"), (), marked)
    yield Part(tell("The fence"), said.pop("The fence"))
    for number, step in enumerate(job.schedule.steps, 1):
        heading = _WORK.get(step.work, "Pin boards")
        ends, told = schedule.ends_told(step), said.pop(heading, ())
        ticks = tuple(
            tick._replace(what=f"{tick.what}. {ends}") for tick in _ticks(step, job, ruler)
        )
        yield Part(f"{number}) {tell(heading)}", told, ticks)


def _ticks(step: Step, job: Job, ruler: Ruler) -> Iterator[Tick]:
    """Yield what is set in a step: its depth where there are several, then each stop."""
    if step.depth is not None and len(job.depths) > 1:
        hand = step.depth.hands[0]
        what = tell("socket depth, for the {hand} tail boards", hand=hand)
        yield Tick(ruler.length(step.depth.depth), what)
    for number, one in enumerate(step.rabbet, 1):
        yield _rabbet(number, one, ruler)
    for stop in step.stops:
        yield Tick(ruler.length(stop.setting), f"{stop.number}: {named(stop)}")
