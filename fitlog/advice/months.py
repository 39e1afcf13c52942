"""How many pieces finished set-ups took, month by month; first ones with a bit and its boards apart
from repeats.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from ..domain import SetUp
from ..families import joint_of
from .history import History
from .settled import judged


@dataclass(frozen=True, slots=True)
class Taken:
    """What some set-ups took. pieces: of all of them together; at_once: those whose first piece was
    good in everything.
    """

    setups: int = 0
    pieces: int = 0
    at_once: int = 0

    @property
    def mean(self) -> float | None:
        """Pieces per set-up; None without a set-up."""
        return self.pieces / self.setups if self.setups else None

    @property
    def share(self) -> float | None:
        """Share of the set-ups that were good at the first piece; None without a set-up."""
        return self.at_once / self.setups if self.setups else None

    def plus(self, other: Taken) -> Taken:
        """Return both together."""
        return Taken(
            self.setups + other.setups, self.pieces + other.pieces, self.at_once + other.at_once
        )


@dataclass(frozen=True, slots=True)
class Split:
    """First set-ups with a bit and its boards, and repeats of those."""

    first: Taken = Taken()
    later: Taken = Taken()

    @property
    def every(self) -> Taken:
        """Both together."""
        return self.first.plus(self.later)

    def plus(self, other: Split) -> Split:
        """Return both together."""
        return Split(self.first.plus(other.first), self.later.plus(other.later))


@dataclass(frozen=True, slots=True)
class Months:
    """Every month from the first to the last finished set-up, as (year, month) in UTC; one without
    a set-up is empty.

    total: all of them.  pieceless: finished set-ups without a piece, which are not counted.
    """

    rows: tuple[tuple[tuple[int, int], Split], ...]
    total: Split
    pieceless: int


def by_month(
    finished: Iterable[SetUp],
    wanted: Callable[[SetUp], bool] = lambda setup: True,
    past: History | None = None,
) -> Months:
    """Return what finished set-ups took by the month they were finished in.

    finished: all of the log, oldest first; which is the first with a bit and its boards is told by
    these. wanted: those to be counted. Good at the first piece is judged as `advise` does, a
    person's own `good` by all that these set-ups teach, or by what `past` does: then they are gone
    through once, one at a time.
    """
    if past is None:
        finished = list(finished)
        past = History(finished)
    seen, pieceless = set(), 0
    found: dict[tuple[int, int], Split] = {}
    for setup in finished:
        plan, pieces = setup.plan, setup.tests()
        if not pieces:
            pieceless += wanted(setup)
            continue
        what = plan.joint, plan.bit.name, plan.stock.name, plan.pin_stock.name
        repeat = what in seen
        seen.add(what)
        if wanted(setup):
            taken = Taken(1, len(pieces), _at_once(setup, past))
            end = setup.ended or setup.started
            when = end.year, end.month
            found[when] = found.get(when, Split()).plus(
                Split(later=taken) if repeat else Split(first=taken)
            )
    rows = tuple((when, found.get(when, Split())) for when in _every_month(sorted(found)))
    total = Split()
    for _, split in rows:
        total = total.plus(split)
    return Months(rows, total, pieceless)


def month_text(when: Sequence[int]) -> str:
    """Return a (year, month) as ISO 8601 writes it."""
    return f"{when[0]:04d}-{when[1]:02d}"


def _at_once(setup: SetUp, past: History) -> bool:
    plan, piece = setup.plan, setup.tests()[0]
    joint = joint_of(plan, past.voices, piece.by, plan.wood(piece.scrap))
    return all(judged(joint, aspect, piece) for aspect in plan.in_play)


def _every_month(known: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    if not known:
        return []
    (year, month), (last_year, last_month) = known[0], known[-1]
    count = (last_year - year) * 12 + last_month - month + 1
    return [(year + (month - 1 + i) // 12, (month - 1 + i) % 12 + 1) for i in range(count)]
