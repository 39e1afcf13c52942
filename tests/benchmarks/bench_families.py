"""The part `families` of bench_pieces: each further joint by the tool, by its own habit and with a
notebook; pieces, ends and minutes until it is believed good, and how often the real boards are.

A fresh end costs 10 minutes, another cut on one 3 (common practice, no source). Each shop makes a
first set-up and two later ones with the same cutter and boards. The habit of a sled is a second key
of the same width held between key and tooth, a starter as wide as the cutter, the height by the
board: so its joint is first as loose as the key is in its slot, here 0.10 +- 0.05 mm and at least
0.02 (a guess). The other habits begin at the printed figures. All is paired by seeds and invented.
"""

from __future__ import annotations

import fnmatch
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from statistics import fmean, stdev

import beside  # noqa: F401

from fitlog.domain import Aspect, Machine, Part, Plan, Settings
from fitlog.families.box.names import BOX
from fitlog.families.box.names import set_to as on_a_key
from fitlog.families.box_steps.names import BOX_STEPS
from fitlog.families.names import family_of
from fitlog.simulation import Advised, Conditions, Habit, Method, Notebook, Truth, one_joint, run
from fitlog.simulation.draws import normal
from fitlog.simulation.simulated import simulated

FRESH, AGAIN = 10.0, 3.0  # minutes
SETUPS = 3
TUNING = 10_000  # seeds from here on choose the rivals' first moves
KEY_PLAY = (0.10, 0.05, 0.02)  # mm: mean, sd and least play of a key in its slot
FITTED = (0.05, 0.1, 0.2)  # first moves of the fit that are tried, mm
MACHINES = {
    "fine": Machine("invented table"),
    "coarse": Machine(
        "coarse table",
        {
            **{"key": Part(step=0.08), "starter": Part(step=0.1), "pass": Part(step=0.05)},
            **{"fence": Part(step=25.4 / 64), "height": Part(step=0.1)},
        },
    ),
}
READ = {"numbers": 0.0, "words": None}
Spread = Callable[..., list[list["Told"]]]


@dataclass(frozen=True)
class Told:
    """How a set-up went. within: the real boards come out inside every window."""

    pieces: int
    ends: int
    within: bool

    @property
    def minutes(self) -> float:
        """What the pieces took."""
        return FRESH * self.ends + AGAIN * (self.pieces - self.ends)


@dataclass
class KeyHabit(Habit):
    """The habit at a sled. seed: of its shop, whose key fills its slot so well."""

    seed: int = 0

    def first(self, plan: Plan) -> Settings:
        """A second key between key and tooth, a starter as wide as the cutter is called."""
        mean, sd, least = KEY_PLAY
        play = max(least, mean + sd * normal(self.seed, "key play", plan.bit.name))
        slot = simulated(BOX.name).slot
        truth = Truth(self.seed)._drawn(plan, 1)
        true = slot(plan, truth, on_a_key(1.0, 1.0, 1.0), 0.0).value
        return on_a_key(true - play, plan.bit.diameter, plan.figures()["met"])


@dataclass
class KeyNotebook(Notebook):
    """The same, from what was good before with that cutter."""

    seed: int = 0
    opened: bool = field(default=False, init=False)

    def first(self, plan: Plan) -> Settings:
        """The first set-up begins as the habit does."""
        if self.opened:
            return super().first(plan)
        self.opened = True
        return KeyHabit(self.steps, seed=self.seed).first(plan)


Job = tuple[str, str, str, str, float, int]  # joint, machine, what is read, way, first move, seed


def a_shop(job: Job) -> list[Told]:
    """Work the set-ups of one shop."""
    joint, machine, read, way, move, seed = job
    family, words = family_of(joint), read == "words"
    told = Conditions(readings=READ[read])
    plans = [
        one_joint(seed, MACHINES[machine], family.aspects, words, joint=joint, nth=n)
        for n in range(1, SETUPS + 1)
    ]
    method = _method(joint, way, {**simulated(joint).STEPS, family.lead: move}, words, seed)
    found = run(told.truth(seed), told.person(seed, words), method, plans)
    return [Told(o.pieces, len({p.own_end for p in o.setup.pieces()}), o.within) for o in found]


def _method(joint: str, way: str, steps: Mapping[Aspect, float], words: bool, seed: int) -> Method:
    if way == "fitlog":
        return Advised()
    usual = {"uses_numbers": True, "marks": True, "by_degree": True, "together": True}
    own = {"seed": seed} if joint == BOX.name else {}
    if way == "habit":
        made = KeyHabit if joint == BOX.name else Habit
        return made(steps, **usual, uses_gap=not words, **own)  # type: ignore[arg-type]
    noted = KeyNotebook if joint == BOX.name else Notebook
    bias = simulated(joint).START_BIAS
    return noted(  # type: ignore[call-overload,no-any-return]
        steps, **usual, uses_gap=not words, memory="mean of bit", start_bias=bias, **own
    )


def families(seeds: int, spread: Spread, names: str | None = None) -> None:
    """Print a table of every joint's cells. names: patterns of cells, with ; between."""
    print(
        "| cell | way | first: pieces, minutes | later: pieces, ends, minutes | inside | minutes, "
        "ours of theirs |"
    )
    print("| --- | --- | --- | --- | --- | --- |")
    wanted = names.split(";") if names else ["*"]
    for joint in (BOX.name, BOX_STEPS.name):
        for machine in MACHINES:
            for read in READ:
                cell = f"{joint}: {machine}, {read}"
                if any(fnmatch.fnmatch(cell, one) for one in wanted):
                    _cell(cell, (joint, machine, read), seeds, spread)


def _cell(cell: str, of: tuple[str, str, str], seeds: int, spread: Spread) -> None:
    ours: list[float] = []
    for way in ("fitlog", "habit", "notebook"):
        move = 0.0 if way == "fitlog" else _best_move(of, way, seeds, spread)
        shops = spread(a_shop, [(*of, way, move, seed) for seed in range(seeds)])
        minutes = [fmean(one.minutes for one in shop) for shop in shops]
        ours = ours or minutes
        first, later = [s[0] for s in shops], [one for s in shops for one in s[1:]]
        inside = fmean(one.within for s in shops for one in s)
        print(
            f"| {cell} | {way} | {_mean(first, 'pieces')}, {_mean(first, 'minutes')} | "
            f"{_mean(later, 'pieces')}, {_mean(later, 'ends')}, {_mean(later, 'minutes')} | "
            f"{inside:.0%} | {_ratio(ours, minutes) if way != 'fitlog' else ''} |",
            flush=True,
        )


def _best_move(of: tuple[str, str, str], way: str, seeds: int, spread: Spread) -> float:
    """The first move of the fit that takes the fewest minutes, on seeds of its own."""
    some = range(TUNING, TUNING + max(20, seeds // 4))
    costs = {
        move: fmean(
            one.minutes
            for shop in spread(a_shop, [(*of, way, move, s) for s in some])
            for one in shop
        )
        for move in FITTED
    }
    return min(costs, key=lambda move: costs[move])


def _mean(found: Sequence[Told], what: str) -> str:
    values = [float(getattr(one, what)) for one in found]
    return f"{fmean(values):.2f} +- {stdev(values) / math.sqrt(len(values)):.2f}"


def _ratio(ours: Sequence[float], theirs: Sequence[float]) -> str:
    """Ratio of two paired means with its standard error (delta method)."""
    ratio = fmean(ours) / fmean(theirs)
    off = [a - ratio * b for a, b in zip(ours, theirs, strict=True)]
    return f"{ratio:.2f} +- {stdev(off) / math.sqrt(len(off)) / fmean(theirs):.2f}"
