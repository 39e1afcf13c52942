"""What a maker decides before the first cut of a joint, worked out from a set-up that is not begun:
a family's module `planning`. The real boards come from its own `boards`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from typing import Protocol, cast

from ..domain import Plan
from ..errors import Refused
from ..language.limits import Limit
from ..language.units import MM_PER_INCH, Ruler
from . import offered
from .boards import Job
from .tables import Table
from .typed import Figure, Size

# What a rule or a tape shows that a board is marked out by, mm or to an inch; common practice, no
# source.
_MARK_MM, _MARK_IN, _MARKS = 0.5, 0.01, 64


@dataclass(frozen=True)
class Draft:
    """A set-up as it would begin. sizes: what was said for the plan alone, by name, lengths in mm;
    said: which fields of its plan were said. others: the same with the other bits that would do.
    anew: the same with other figures of its plan, and so many fingers, housings.
    """

    job: Job
    sizes: Mapping[str, float]
    said: Collection[str]
    ruler: Ruler
    others: tuple[Job, ...]
    anew: Callable[[Mapping[str, float], int | None], Job]

    @property
    def plan(self) -> Plan:
        """The plan that it would have."""
        return self.job.setup.plan


@dataclass(frozen=True)
class Planned:
    """What was found. lengths: what is sawn, mm by what it is in English; notes: sentences;
    figures: what `start` is told of it beside what was said, mm or a number by the names there.
    """

    tables: tuple[Table, ...]
    lengths: Mapping[str, float]
    notes: tuple[str, ...]
    figures: Mapping[str, float] = field(default_factory=dict)


class Planning(Protocol):
    """A family's module `planning`. FIGURES: what is said for the plan alone, by its names."""

    FIGURES: Mapping[str, Figure]

    def planned(self, draft: Draft) -> Planned:
        """Return what there is to decide. Raises Refused (no-layout) where nothing is."""


class Ranking(Planning, Protocol):
    """Such a module of a family whose bit is chosen by the boards."""

    def rank(self, job: Job) -> float:
        """Return how well a bit suits the boards, the less the better."""


def planning_of(joint: str) -> Planning:
    """Return what is planned of a joint; raise `Refused` ("other-joint") without."""
    return cast(Planning, offered(joint, "planning", "plan"))


def ranked(joint: str) -> Callable[[Job], float] | None:
    """Return how the bits of a joint are compared; None where only one would do."""
    own = planning_of(joint)
    return cast(Ranking, own).rank if hasattr(own, "rank") else None


def mark_of(ruler: Ruler) -> float:
    """Return from one mark to the next, mm, of the rule that this person marks boards out by."""
    inches = {"inch": _MARK_IN, "fraction": 1 / _MARKS}.get(ruler.units)
    return _MARK_MM if inches is None else inches * MM_PER_INCH


def up(length: float, ruler: Ruler) -> float:
    """Return a length rounded up to a mark: what is over is trimmed off, what lacks is not."""
    mark = mark_of(ruler)
    return math.ceil(length / mark - 1e-6) * mark


def nearest(length: float, ruler: Ruler) -> float:
    """Return a length rounded to the nearest mark."""
    mark = mark_of(ruler)
    return round(length / mark) * mark


def size(field: str, what: str, high: float, why: str, low: float = 20.0) -> Size:
    """Return a length that is said for a plan alone. field: as `Draft.sizes` calls it."""
    return Size(field, lambda _: Limit(what, low, high, why))


def nothing(joint: str, lacks: str, remedy: str) -> Refused:
    """Return the refusal of a plan that has nothing to work out. lacks: what nobody said."""
    return Refused(
        "no-layout",
        "nothing can be planned of the joint {joint} without {lacks}",
        "{remedy}",
        joint=joint,
        lacks=lacks,
        remedy=remedy,
    )


# Of whatever is put together from two parts of each length.
OUTSIDE: Mapping[str, Figure] = {
    "outside-length": size("outside_length", "the outside length", 5000.0, "any box"),
    "outside-width": size("outside_width", "the outside width", 5000.0, "any box"),
}
PARTS = {"part": "part", "count": "pieces", "length": "saw to"}  # the columns


def parts(
    draft: Draft, lacks: str, long: tuple[str, str, float], short: tuple[str, str, float]
) -> Table:
    """Return the parts of a box or a frame. long, short: of each length what the parts are called,
    which outside size they follow, and what is added to it, mm. Raises Refused (no-layout).
    """
    rows = tuple(
        (called, 2, draft.sizes[size] + added)
        for called, size, added in (long, short)
        if size in draft.sizes
    )
    if not rows:
        raise nothing(
            draft.plan.joint,
            lacks,
            "give --given outside-length=L, --given outside-width=L or both",
        )
    return Table("parts", "The parts, before the joint", PARTS, rows)
