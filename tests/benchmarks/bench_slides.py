"""Sliding dovetails by the tool, by the habit of the trade and by a notebook: cuts, ends and
minutes until a shelf is good, and how often the real shelves then are.

    python tests/benchmarks/bench_slides.py --seeds 40

A fresh end costs 10 minutes, another cut on one 3 (common practice, no source). The habit is the
usual way: a first tongue thicker by 0.3 than wanted, then the exposure opened by half of what is
wanted, the root measured over rods where there are some; by words alone in steps that are halved
after each overshoot. The notebook begins where the last good tongue with the bit ended. Paired
seeds; the shop's truth is drawn from the stated priors. Everything is invented.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from statistics import fmean
from typing import Protocol

import beside  # noqa: F401

from fitlog import defaults
from fitlog.advice.ends import can_go_on
from fitlog.domain import Machine, Piece, Plan, Reading, Settings, SetUp, TrialCut
from fitlog.domain.machines import Part
from fitlog.families import joint_of
from fitlog.families.sliding import figures, geometry
from fitlog.families.sliding.names import EXPOSURE, FIT, HEIGHT, SHOULDER, SLIDING, TONGUE, set_to
from fitlog.families.sliding.plan import SlidingPlan, sliding
from fitlog.simulation import Advised, Person, Truth, one_joint
from fitlog.simulation.draws import as_normal, uniforms
from fitlog.simulation.season import _OPENING_DAY
from fitlog.simulation.truth import BOARDS

FRESH, AGAIN = 10.0, 3.0  # minutes
MOST, ROD = 15, 4.0  # cuts of one set-up; mm
FIRST_PLAY = -0.3
STEPS = {"very tight": 0.1, "tight": 0.05, "slightly tight": 0.025, "good": 0.0}
STEPS |= {"slightly loose": -0.025, "loose": -0.05, "very loose": -0.1}


class Way(Protocol):
    """A way of working."""

    def first(self, plan: Plan) -> Settings:
        """Return the settings of the first piece."""

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        """Return the next ones, and whether all is good instead."""

    def finished(self, setup: SetUp) -> None:
        """Remember a set-up that ended well."""


@dataclass
class Habit:
    """The usual way. notes: of a notebook, by bit, what the printed figures gave where it was
    good; None: nothing is written down.
    """

    notes: dict[str, float] | None = None

    def first(self, plan: Plan) -> Settings:
        own = sliding(plan)
        wanted = FIRST_PLAY if self.notes is None else self.notes.get(plan.bit.name, FIRST_PLAY)
        height, thick = own.socket_height, own.figures()["thickness"]
        out = geometry.exposure_for(wanted, plan.bit.diameter, thick, height, plan.bit.theta)
        return set_to(height, height - 0.1, out)

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        plan, pieces = sliding(setup.plan), setup.pieces()
        last, now = pieces[-1], pieces[-1].settings
        fit, shoulder = last.verdict.of(FIT), last.verdict.of(SHOULDER)
        assert fit is not None
        if shoulder is not None and not shoulder.settles:
            now = now.with_(TONGUE, now[TONGUE] - (shoulder.size or 0.1) - 0.1)
        elif fit.settles:
            return now, True
        move = 0.0 if fit.settles else _measured(plan, pieces)
        if move is None:
            sides = [s.side for p in pieces if (s := p.verdict.of(FIT)) is not None and s.side]
            turns = sum(a != b for a, b in pairwise(sides))
            move = STEPS[fit.word] * 0.5**turns
        if move * fit.side > 0 or (fit.side and abs(move) < 0.01):
            move = -0.01 * fit.side  # never against the hand
        return now.with_(EXPOSURE, now[EXPOSURE] + move), False

    def finished(self, setup: SetUp) -> None:
        if self.notes is not None:
            joint, last = joint_of(setup.plan), setup.pieces()[-1]
            figured = joint.nominal(FIT, last.settings, setup.plan.figures())
            self.notes[setup.plan.bit.name] = figured


def _measured(plan: SlidingPlan, pieces: Sequence[Piece]) -> float | None:
    """Half of what the last tongue lacks, by its pulled gap, else by rods and the mouth."""
    joint, last = joint_of(plan), pieces[-1]
    middle = joint.window(FIT).middle
    read = joint.reading_of(FIT, last)
    mouth = next((r.value for p in pieces for r in p.readings if r.kind == "mouth"), None)
    over = next((r.value for r in last.readings if r.kind == "over_rods"), None)
    if read is not None:
        return (middle - read[0]) / 2
    if mouth is None or over is None:
        return None
    root = over - ROD * geometry.rod_factor(plan.bit.theta)
    return (middle - (mouth - root)) / 2


@dataclass
class Shop:
    """One shop's truth and its person. rods: whether tongue and socket are measured."""

    seed: int
    plan: SlidingPlan
    rods: bool
    truth: Truth = field(init=False)
    person: Person = field(init=False)

    def __post_init__(self) -> None:
        self.truth = Truth(self.seed)
        noise = defaults.CALIPER if self.rods else None
        self.person = Person(self.seed, words_only=not self.rods, rule=noise)

    def tuned(self, number: int, way: Way) -> tuple[SetUp, bool, bool, float]:
        """Tune one set-up: the set-up, whether it was called good, whether real shelves are, and
        what the tool says of that before it learns from it.
        """
        plan = self.plan
        at = self._set(way.first(plan), None)
        setup = SetUp(number, plan, at, at, _OPENING_DAY)
        ready, off = False, 0.0
        while not ready and len(setup.cuts) < MOST:
            piece, last = len(setup.cuts) + 1, setup.last_piece()
            if last is None or abs(at[EXPOSURE] - last.settings[EXPOSURE]) > 1e-9:
                off = self.truth.dialled(number, piece, FIT, plan.adjuster(FIT).sd)
            end = last.own_end if last is not None and can_go_on(at, last) else None
            cut = self._cut(number, piece, at, off, end)
            setup = replace(setup, cuts=(*setup.cuts, cut))
            following, ready = way.after(setup)
            at = at if ready else self._set(following, at)
            setup = replace(setup, shown=at)
        setup = replace(setup, outcome="finished" if ready else "abandoned", ended=_OPENING_DAY)
        told = way.decided(setup).chance_real["all"] if isinstance(way, Advised) else None
        if ready:
            way.finished(setup)
        real = at.with_(EXPOSURE, at[EXPOSURE] + off)
        true = self.truth.misfits(plan, number, BOARDS, real)
        joint = joint_of(plan)
        inside = all(joint.window(a).holds(true[a]) for a in SLIDING.aspects)
        return setup, ready, inside, told or 0.0

    def _cut(self, number: int, piece: int, at: Settings, off: float, end: int | None) -> TrialCut:
        plan, real = self.plan, at.with_(EXPOSURE, at[EXPOSURE] + off)
        own = piece if end is None else end
        true = self.truth.misfits(plan, number, own, real)
        stands = self.truth.stands_for(plan, number)
        home = self.person.judge(plan, number, piece, true, stands, (FIT,)).of(FIT)
        assert home is not None
        seen = (FIT, SHOULDER) if home.index >= 2 else (FIT,)  # what sticks shows no shoulder
        verdict = self.person.judge(plan, number, piece, true, stands, seen)
        readings = tuple(self._read(number, piece, own, real)) if self.rods else ()
        return TrialCut(piece, piece, at, verdict, readings, advised=at, end=end)

    def _read(self, number: int, piece: int, own: int, real: Settings) -> Iterator[Reading]:
        plan, drawn = self.plan, self.truth._drawn(self.plan, number)
        off, theta = drawn.off, plan.bit.theta + drawn.off["angle"]
        noise = [defaults.CALIPER * as_normal(u) for u in uniforms(self.seed, number, piece)[:2]]
        thick = plan.figures()["thickness"] + off["shelf thickness"]
        thick += figures.THICKNESS * self.truth._own(number, own)
        root = geometry.root(thick, real[EXPOSURE] + off["exposure zero"])
        yield Reading("over_rods", geometry.over_rods(root, ROD, theta) + noise[0], rod=ROD)
        if piece == 1:
            size, socket = plan.bit.diameter + off["diameter"], real[HEIGHT] + off["height zero"]
            yield Reading("mouth", geometry.mouth(size, socket, theta) + noise[1])

    def _set(self, wanted: Settings, last: Settings | None) -> Settings:
        """What can be set, inside the limits."""
        joint = joint_of(self.plan)
        for aspect in SLIDING.aspects:
            can, value = self.plan.adjuster(aspect), wanted.of(aspect)
            if last is not None and abs(value - last.of(aspect)) < 1e-9:
                continue
            limit = joint.limit(SLIDING.setting_of[aspect], wanted)
            wanted = wanted.moved(aspect, can.nearest(min(max(value, limit.low), limit.high)))
        return wanted


COARSE = Machine("marks", {"exposure": Part(step=0.05), "tongue": Part(step=0.1)})
FREE = Machine("dial")
CELLS = (
    ("dial, rods", FREE, True),
    ("dial, words alone", FREE, False),
    ("marks of 0.05 mm, rods", COARSE, True),
    ("marks of 0.05 mm, words alone", COARSE, False),
)


def measured(seeds: int, setups: int, machine: Machine, rods: bool) -> None:
    """Print one cell: first set-ups and later ones with the same bit, shelf and machine."""
    ways: dict[str, Callable[[], Way]] = {
        "fitlog": Advised,
        "habit": Habit,
        "notebook": lambda: Habit({}),
    }
    for name, make in ways.items():
        rows: list[list[tuple[float, ...]]] = [[], []]
        for seed in range(seeds):
            plan = one_joint(seed, machine, SLIDING.aspects, not rods, joint=SLIDING.name)
            shop, way = Shop(seed, sliding(plan), rods), make()
            for number in range(1, setups + 1):
                setup, ready, within, told = shop.tuned(number, way)
                cuts = len(setup.cuts)
                ends = len({p.own_end for p in setup.pieces()})
                minutes = FRESH * ends + AGAIN * (cuts - ends)
                rows[number > 1].append((cuts, ends, minutes, ready, within, told))
        for when, found in zip(("first", "later"), rows, strict=True):
            cuts, ends, minutes, ready, within, told = (fmean(x) for x in zip(*found, strict=True))
            print(
                f"  {name:9} {when}: {cuts:5.2f} cuts {ends:5.2f} ends {minutes:5.1f} min, "
                f"called good {ready:4.0%}, real shelves inside {within:4.0%}"
                + (f" (said {told:.0%})" if told else ""),
                flush=True,
            )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=40)
    parser.add_argument("--setups", type=int, default=3)
    parser.add_argument("--only", default="")
    given = parser.parse_args()
    for name, machine, rods in CELLS:
        if given.only in name:
            print(f"{name}, {given.seeds} shops of {given.setups} set-ups", flush=True)
            measured(given.seeds, given.setups, machine, rods)


if __name__ == "__main__":
    main()
