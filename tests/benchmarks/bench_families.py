"""The part `families` of bench_pieces: every joint by the tool, by its own habit and with a
notebook; pieces, ends and minutes until it is believed good, how often the real boards then are,
and what the tool said of that.

    python tests/benchmarks/bench_pieces.py --only families --joint tenon --seasons 20

A fresh end costs 10 minutes, another cut on one 3 (common practice, no source). Each shop makes a
first set-up and two later ones with the same cutter and boards, all aspects that have a setting in
play. Truth and people are drawn from the assumed priors, paired by seeds; everything is invented.
Whoever works, an end is cut again where it can be. A set-up that is given up has no boards inside.

Beside them stands one that is clairvoyant, the same for every joint: it knows all causes that were
drawn, puts each setting on the machine's mark whose piece, without what differs from piece to
piece, comes out nearest to the middle of the window, in the order in which a joint is tuned, and
cuts fresh ends there until one truly lies inside every window. So its pieces are what the pieces'
own scatter and the machine's steps spoil, and its share inside is the most that any way of working
may hope for; it is no floor of the minutes, for others take a piece's word.
"""

from __future__ import annotations

import fnmatch
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import count
from statistics import fmean, stdev

import beside  # noqa: F401
from joint_ways import RodSeason, Stating, way

from fitlog.domain import Aspect, Family, Machine, Part, Plan, Settings
from fitlog.errors import Refused
from fitlog.families import joint_of
from fitlog.families.names import FAMILIES, family_of
from fitlog.families.sliding.names import SLIDING
from fitlog.simulation import MOST, Conditions, Truth, Undeterred, one_joint
from fitlog.simulation.reckoning import opening
from fitlog.simulation.season import _Season
from fitlog.simulation.simulated import simulated
from fitlog.simulation.truth import BOARDS
from fitlog.simulation.tuned import first_moves

FRESH, AGAIN = 10.0, 3.0  # minutes
SETUPS = 3
TUNING = 10_000  # seeds from here on choose the rivals' first moves
FITTED = (0.5, 1.0, 2.0)  # first moves of the lead that are tried, of the joint's usual one
ZEROED = {"fence": Part(step=25.4 / 64)}  # where it need only be known how far off it is
MARKS = {"key": 0.08, "pass": 0.05, "exposure": 0.05, "stop": 0.5}  # mm; all others 0.1
WAYS = ("fitlog", "habit", "notebook", "clairvoyant")
BASES = {"fine": "fine mm", "coarse": "1/64 in"}  # for which a joint may have tuned moves
CELLS = [(m, r) for m in BASES for r in ("numbers", "words")]
HEAD = (
    "joint: machine, what is read",
    "way",
    *(f"{when}: pieces, ends, minutes" for when in ("first", "later")),
    "inside: first, later",
    "stated, came, apart",
    "ours of theirs: ends, minutes",
)
Cell = tuple[str, str, str]  # joint, machine, what is read
Spread = Callable[..., list[list["Told"]]]
Job = tuple[str, str, str, str, float, int]  # joint, machine, what is read, way, first move, seed


@dataclass(frozen=True)
class Told:
    """How a set-up went. within: the real boards come out inside every window; stated: the chance
    of that which the tool told, None where nobody did.
    """

    pieces: int
    ends: int
    within: bool
    stated: float | None = None

    @property
    def minutes(self) -> float:
        """What the pieces took."""
        return FRESH * self.ends + AGAIN * (self.pieces - self.ends)


def machine_of(kind: str, family: Family) -> Machine:
    """Return the machine of a cell, free or by marks."""
    if kind == "fine":
        return Machine("invented table")
    parts = {s.part: Part(step=MARKS.get(s.part, 0.1)) for s in family.settings}
    return Machine("coarse table", parts | (ZEROED if family.zeroed else {}))


def a_shop(job: Job) -> list[Told]:
    """Work the set-ups of one shop."""
    joint, kind, read, name, move, seed = job
    family, words = family_of(joint), read == "words"
    machine, tuned = machine_of(kind, family), tuple(family.setting_of)
    plans = [
        one_joint(seed, machine, tuned, words, joint=joint, nth=n) for n in range(1, SETUPS + 1)
    ]
    told = Conditions(readings=None if words else 0.0)
    truth, person = told.truth(seed), told.person(seed, words)
    if name == "clairvoyant":
        return [clairvoyant(truth, plan, number) for number, plan in enumerate(plans, 1)]
    made = RodSeason if joint == SLIDING.name and not words else _Season
    moves = {**_usual_moves((joint, kind, read), name), family.lead: move}
    method = way(joint, name, moves, words, seed)
    season = made(truth, person, Undeterred(method), MOST, True)
    try:
        found = [season.tuned(number, plan) for number, plan in enumerate(plans, 1)]
    except Refused as refused:  # which cannot be sent back from another process
        raise AssertionError(f"{job}: {refused}") from None
    said = method.said if isinstance(method, Stating) else {}
    return [
        Told(o.pieces, len({p.own_end for p in o.setup.pieces()}), o.within, said.get(n))
        for n, o in enumerate(found, 1)
    ]


# --- who knows the truth --------------------------------------------------------------------------


def clairvoyant(truth: Truth, plan: Plan, number: int) -> Told:
    """Cut at the best marks until a piece lies inside."""
    at, joint = best_marks(truth, plan, number), joint_of(plan)
    judged = [a for a in plan.in_play if a != plan.family.zeroed]  # a zero need only be known

    def inside(piece: int) -> bool:
        true = truth.misfits(plan, number, piece, at)
        return all(joint.window(a).holds(true[a]) for a in judged)

    pieces = next(n for n in count(1) if n == MOST or inside(n))
    return Told(pieces, pieces, inside(BOARDS))


def best_marks(truth: Truth, plan: Plan, number: int) -> Settings:
    """Return the settings that the machine can make whose misfits are nearest to the middles, one
    after the other, mm.
    """
    joint, at = joint_of(plan), opening(plan, {})
    drawn = truth._drawn(plan, number)

    def off(aspect: Aspect, settings: Settings) -> float:
        return (
            simulated(plan.joint).misfits(plan, drawn, settings, 0.0)[aspect]
            - joint.window(aspect).middle
        )

    for _ in range(2):  # an aspect may hang on the setting of a later one
        for aspect in plan.family.tuned:
            for _ in range(6):
                move = off(aspect, at) / joint.slope(aspect, at)
                at = at.moved(aspect, at.of(aspect) - move)
            can, free = plan.adjuster(aspect, at.of(aspect)), at
            marks = (can.below(free.of(aspect)), can.above(free.of(aspect)))
            at = min(
                (free.moved(aspect, mark) for mark in marks), key=lambda s: abs(off(aspect, s))
            )
    return at


# --- the table ------------------------------------------------------------------------------------


def families(
    seeds: int, spread: Spread, names: str | None = None, joint: str | None = None
) -> None:
    """Print a row a way of working, as it comes. names: patterns of cells, with ; between; joint:
    that one alone.
    """
    print("| " + " | ".join(HEAD) + " |\n|" + " --- |" * len(HEAD), flush=True)
    wanted = names.split(";") if names else ["*"]
    for one in [joint] if joint else FAMILIES:
        for machine, read in CELLS:
            cell = f"{one}: {machine}, {read}"
            if any(fnmatch.fnmatch(cell, pattern) for pattern in wanted):
                for row in _rows((one, machine, read), seeds, spread):
                    print(f"| {cell} | " + " | ".join(row) + " |", flush=True)


def _rows(cell: Cell, seeds: int, spread: Spread) -> Iterator[tuple[str, ...]]:
    ours: list[list[Told]] = []
    for name in WAYS:
        rival = name in ("habit", "notebook")
        move = _best_move(cell, name, seeds, spread) if rival else 0.0
        shops = spread(a_shop, [(*cell, name, move, seed) for seed in range(seeds)])
        ours = ours or shops
        first, later = [s[:1] for s in shops], [s[1:] for s in shops]
        yield (
            name,
            *(_took(part) for part in (first, later)),
            f"{_share(first)}, {_share(later)}",
            _honest(shops) if name == "fitlog" else "",
            f"{_ratio(ours, shops, 'ends')}, {_ratio(ours, shops, 'minutes')}" if rival else "",
        )


def _usual_moves(cell: Cell, name: str) -> Mapping[Aspect, float]:
    joint, machine, read = cell
    return first_moves(joint, name, BASES[machine], read == "words")


def _best_move(cell: Cell, name: str, seeds: int, spread: Spread) -> float:
    """The first move of the lead that takes the fewest minutes, on seeds of its own."""
    usual = _usual_moves(cell, name)[family_of(cell[0]).lead]
    some = range(TUNING, TUNING + max(10, seeds // 4))

    def cost(move: float) -> float:
        shops = spread(a_shop, [(*cell, name, move, seed) for seed in some])
        return fmean(one.minutes for shop in shops for one in shop)

    return min((times * usual for times in FITTED), key=cost)


def _values(shops: Sequence[Sequence[Told]], of: str) -> list[float]:
    """The mean of each shop."""
    return [fmean(float(getattr(one, of)) for one in shop) for shop in shops]


def _took(shops: Sequence[Sequence[Told]]) -> str:
    """Pieces, ends and minutes, these with their standard error by shops."""
    pieces, ends, minutes = (_values(shops, of) for of in ("pieces", "ends", "minutes"))
    return f"{fmean(pieces):.2f}, {fmean(ends):.2f}, {fmean(minutes):.1f} +- {_se(minutes):.1f}"


def _se(values: Sequence[float]) -> float:
    return stdev(values) / math.sqrt(len(values)) if len(values) > 1 else math.nan


def _share(shops: Sequence[Sequence[Told]]) -> str:
    return f"{fmean(_values(shops, 'within')):.0%}"


def _honest(shops: Sequence[Sequence[Told]]) -> str:
    """What was said of the boards of the set-ups that were called good, what came of them, and by
    how much that is more, with its standard error by shops.
    """
    said = [one for shop in shops for one in shop if one.stated is not None]
    stated, came = fmean(one.stated or 0.0 for one in said), fmean(one.within for one in said)
    apart = [
        sum(one.within - one.stated for one in shop if one.stated is not None) for shop in shops
    ]
    se = _se(apart) * len(shops) / len(said)
    return f"{stated:.0%}, {came:.0%}, {100 * (came - stated):+.0f} +- {100 * se:.0f}"


def _ratio(ours: Sequence[Sequence[Told]], theirs: Sequence[Sequence[Told]], of: str) -> str:
    """Ratio of two paired means with its standard error (delta method)."""
    mine, others = _values(ours, of), _values(theirs, of)
    ratio = fmean(mine) / fmean(others)
    off = [a - ratio * b for a, b in zip(mine, others, strict=True)]
    return f"{ratio:.2f} +- {_se(off) / fmean(others):.2f}"
