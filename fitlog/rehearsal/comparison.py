"""Ways of working compared: many invented shops, each with one bit, one stock and one machine, a few set-ups in a row.

The first set-up of a season is made with a bit that nobody has used before, the later ones are on other days,
at other heights and pitches.
Every method meets the same shops, days and pieces (see `draws`), so that they are compared in pairs.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from .. import defaults
from ..advisor.history import History
from ..advisor.knowledge import know
from ..advisor.opening import check_wood, pitch_for, sensible_height
from ..domain import ASPECTS, Aspect, Bit, Machine, Plan, Settings, SetUp, Stock
from ..errors import Refused
from .draws import uniforms
from .methods import Advised, Habit, Knowing, Method, Notebook, Way, opening
from .person import Person
from .season import one_by_one
from .truth import Truth

MOST = 30  # pieces after which a set-up is given up
MANY = 3  # pieces that are still few
HEIGHT_SPREAD = 1.5  # mm by which a season's heights differ from the sensible one, either way
ROOM = 2.5  # sds of the height that is really needed, kept clear of its limits
# First moves of bit height, fence and depth, mm. Of 0.1 to 0.5 mm, 0.25 mm of height serves bits of 7 to 14 deg best
# together; the other two hardly matter, since a number said is used itself.
HABIT_STEPS = (0.25, 0.2, 0.2)
_SHOPS = 1_000_000  # seeds set aside for the shops of one comparison


def _habit() -> Method:
    return Habit(*HABIT_STEPS, uses_numbers=True, by_degree=True)


def _notebook() -> Method:
    return Notebook(*HABIT_STEPS, uses_numbers=True, by_degree=True, memory="mean of bit")


METHODS: Mapping[str, Callable[[], Method]] = {"fitlog": Advised, "habit": _habit, "notebook": _notebook}


@dataclass(frozen=True, slots=True)
class Mean:
    """A mean number of pieces with its standard error; None where there are too few to tell. n: set-ups."""

    mean: float | None
    se: float | None
    n: int


@dataclass(frozen=True, slots=True)
class Tally:
    """How one method did. seasons: the pieces of every set-up, season by season; a set-up given up counts `MOST`.

    at_once: set-ups whose first piece was good in everything.  unsolved: set-ups given up.
    """

    seasons: tuple[tuple[int, ...], ...]
    at_once: int
    unsolved: int

    @property
    def first(self) -> tuple[int, ...]:
        """Pieces of the first set-up of each season."""
        return tuple(season[0] for season in self.seasons)

    @property
    def later(self) -> tuple[int, ...]:
        """Pieces of all the others."""
        return tuple(chain.from_iterable(season[1:] for season in self.seasons))

    @property
    def counts(self) -> dict[int, int]:
        """Number of set-ups by the pieces they took, fewest first."""
        return dict(sorted(Counter(chain.from_iterable(self.seasons)).items()))

    @property
    def good_at_once(self) -> float:
        """Share of the set-ups whose first piece was good."""
        return self.at_once / sum(self.counts.values())

    def over(self, pieces: int = MANY) -> float:
        """Share of the set-ups that took more than `pieces`."""
        counts = self.counts
        return sum(n for taken, n in counts.items() if taken > pieces) / sum(counts.values())

    def shares(self, last: int, part: str = "all") -> list[float]:
        """Return the share of all set-ups that took 1, 2, ... `last` or more pieces. part: "first" or "later" ones only."""
        taken = {"first": self.first, "later": self.later}.get(part, self.first + self.later)
        total = len(self.first) + len(self.later)
        return [sum(min(n, last) == row for n in taken) / total for row in range(1, last + 1)]

    def mean_first(self) -> Mean:
        """Mean pieces of a first set-up."""
        return clustered([season[:1] for season in self.seasons])

    def mean_later(self) -> Mean:
        """Mean pieces of a later set-up."""
        return clustered([season[1:] for season in self.seasons])


@dataclass(frozen=True, slots=True)
class Comparison:
    """What a comparison found. plan: what all set-ups have in common."""

    plan: Plan
    setups: int
    in_a_row: int
    seed: int
    tallies: Mapping[str, Tally]


def compare(
    plan: Plan, setups: int, in_a_row: int, seed: int, methods: Mapping[str, Callable[[], Method]] = METHODS,
    done: Callable[[], object] = lambda: None,
) -> Comparison:  # fmt: skip
    """Work `setups` set-ups by every method, `in_a_row` in each shop (fewer in the last one), and count the pieces.

    done: called after every set-up of every method.  Raises `Refused` where the boards allow no joint.
    """
    check_wood(plan)
    found: dict[str, list[tuple[int, ...]]] = {name: [] for name in methods}
    at_once, unsolved = Counter[str](), Counter[str]()
    for shop, start in enumerate(range(0, setups, in_a_row)):
        own = seed * _SHOPS + shop
        plans = season_plans(plan, own, min(in_a_row, setups - start))
        truth, person = Truth(own), Person(own, words_only=plan.words_only, slip=defaults.SLIP)
        for name, make in methods.items():
            pieces = []
            for outcome in one_by_one(truth, person, Undeterred(make()), plans, MOST):
                pieces.append(outcome.pieces)
                at_once[name] += outcome.first_good
                unsolved[name] += not outcome.solved
                done()
            found[name].append(tuple(pieces))
    tallies = {name: Tally(tuple(found[name]), at_once[name], unsolved[name]) for name in methods}
    return Comparison(plan, setups, in_a_row, seed, tallies)


def plan_for(
    bit: Bit, stock: Stock, pin_stock: Stock, machine: Machine | None, in_play: tuple[Aspect, ...] = ASPECTS,
    words_only: bool = False,
) -> Plan:  # fmt: skip
    """Return the plan of a set-up at the sensible height, its sizes the stocks' own, its pitch as `start` takes it."""
    plan = Plan(
        bit, stock, pin_stock, machine, 2 * bit.diameter, stock.width, stock.thickness, pin_stock.thickness,
        bit.diameter / 2, in_play=in_play, words_only=words_only,
    )  # fmt: skip
    check_wood(plan)
    return replace(plan, pitch=pitch_for(plan, sensible_height(plan), History()))


def season_plans(plan: Plan, seed: int, setups: int) -> list[Plan]:
    """Return a season's plans: for each a height is drawn, and the pitch follows as `start` takes it, to 0.1 mm."""
    low, high = heights(plan)
    drawn = (low + uniforms(seed, "season", n)[0] * (high - low) for n in range(1, setups + 1))
    return [replace(plan, pitch=pitch_for(plan, height, History())) for height in drawn]


def heights(plan: Plan) -> tuple[float, float]:
    """Return the lowest and the highest bit height of a season, mm.

    Clear of the limits by `ROOM` sds of the height that will really be needed; half way where they lie too close.
    """
    middle = sensible_height(plan)
    laws = know(plan, (), History(), middle)
    limit, room = laws.joint.limit("fit"), ROOM * laws.cold["fit"].sd / abs(laws.joint.slope("fit"))
    low, high = max(limit.low + room, middle - HEIGHT_SPREAD), min(limit.high - room, middle + HEIGHT_SPREAD)
    return (low, high) if low <= high else ((limit.low + limit.high) / 2,) * 2


def clustered(seasons: Iterable[Sequence[int]]) -> Mean:
    """Return the mean over all set-ups and its standard error, which allows for what the set-ups of a season share.

    A ratio of sums over random seasons: se^2 = k / (k - 1) * sum over seasons (sum of (x - mean))^2 / n^2
    (Cochran, Sampling Techniques, single-stage cluster sampling); sd / sqrt(n) with one set-up a season.
    """
    held = [season for season in seasons if season]
    n, k = sum(map(len, held)), len(held)
    if n == 0:
        return Mean(None, None, 0)
    mean = sum(map(sum, held)) / n
    squares = sum((sum(season) - len(season) * mean) ** 2 for season in held)
    return Mean(mean, math.sqrt(squares * k / (k - 1)) / n if k > 1 else None, n)


class Undeterred(Knowing):
    """A method that goes on from the printed figures where it refuses a pitch that no height seems to serve."""

    def __init__(self, method: Method) -> None:
        self._method = method

    def first(self, plan: Plan) -> Settings:
        try:
            return self._method.first(plan)
        except Refused:
            return opening(plan, {})

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        return self._method.after(setup)

    def finished(self, setup: SetUp) -> None:
        self._method.finished(setup)

    def centre_by(self, setup: SetUp) -> Way:
        return self._method.centre_by(setup) if isinstance(self._method, Knowing) else "turn"

    def real(self, setup: SetUp) -> Settings:
        return self._method.real(setup) if isinstance(self._method, Knowing) else setup.cuts[-1].settings
