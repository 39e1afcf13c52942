"""The real boards as a list to tick at the machine: what is set and what is cut, in the order of
the work, as data. A family's own part of it is `parts` in its module `stops`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from ..domain import Remark
from ..families.boards import Job
from ..language.units import Ruler
from ..texts import tell
from .own import own_room


class Tick(NamedTuple):
    """One thing to tick. length: as the user's scale reads it; what: is set, sawn or cut there."""

    length: str
    what: str


class Part(NamedTuple):
    """A part of the work. told: what to do before it; beside: what belongs to it and is no task,
    each a name with its length.
    """

    heading: str
    told: tuple[Remark, ...]
    ticks: tuple[Tick, ...] = ()
    beside: tuple[Tick, ...] = ()


def parts(job: Job, ruler: Ruler) -> list[Part]:
    """Return what is set, then each part of the work; of a family that tells no more of its boards
    what is set alone.
    """
    plan = job.setup.plan
    dial = job.settings.on_scale(plan.machine)
    kinds = plan.family.settings
    to_set = tuple(Tick(ruler.length(dial[kind.name]), tell(kind.noun)) for kind in kinds)
    own = own_room(plan.joint, "stops")
    return [Part(tell("Set"), (), to_set), *(own.parts(job, ruler) if own is not None else ())]


def sectioned(
    sections: Iterable[tuple[str, tuple[Remark, ...]]],
    ticks: Mapping[str, Iterable[Tick]] | None = None,
) -> list[Part]:
    """Return a job's sections as parts. ticks: of each heading that has some."""
    known = ticks or {}
    return [Part(tell(head), told, tuple(known.get(head, ()))) for head, told in sections]
