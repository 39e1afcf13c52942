"""The ways of working that `bench_families` compares, for every joint: the tool, the habit of the
trade, the same with a notebook.

The habit begins at the printed figures, but for two joints. At a sled it holds a second key of the
same width between key and tooth, with a starter as wide as the cutter is called: its joint is first
as loose as the key is in its slot, `KEY_PLAY`, a guess. A sliding dovetail's first tongue is left
0.3 mm too thick, and is opened by what socket and tongue measure over rods, where there are some.
All readings but those come with the words: gaps, steps and plays, as the person reads them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from fitlog import defaults
from fitlog.domain import Aspect, Piece, Plan, Reading, Settings, SetUp, TrialCut
from fitlog.families import Joint
from fitlog.families.box.names import BOX
from fitlog.families.box.names import set_to as on_a_key
from fitlog.families.sliding import figures, geometry
from fitlog.families.sliding.names import EXPOSURE, FIT, HEIGHT, SLIDING, set_to
from fitlog.families.sliding.plan import sliding
from fitlog.simulation import Advised, Habit, Method, Notebook, Truth
from fitlog.simulation.draws import as_normal, normal, uniforms
from fitlog.simulation.reckoning import opening
from fitlog.simulation.season import _Season
from fitlog.simulation.simulated import simulated

KEY_PLAY = (0.10, 0.05, 0.02)  # mm: mean, sd and least play of a key in its slot
FIRST_PLAY, SHORTER, ROD = -0.3, 0.1, 4.0  # of a first tongue, mm; of the rods
LEAST_MOVE = 0.01  # mm: whatever is measured, a tongue that sticks is opened


class Stating(Advised):
    """The tool, with the chance that it states at the end of each set-up: that the real boards come
    out inside every window.
    """

    def __init__(self) -> None:
        super().__init__()
        self.said: dict[int, float] = {}

    def finished(self, setup: SetUp) -> None:
        """Note what was said, then remember the set-up."""
        said = self.decided(setup).chance_real["all"]
        assert said is not None
        self.said[setup.number] = said
        super().finished(setup)


@dataclass
class Usual(Habit):
    """The habit. seed: of its shop, whose key fills its slot so well."""

    seed: int = 0

    def first(self, plan: Plan) -> Settings:
        """The joint's usual beginning."""
        return usual_first(plan, self.seed) or opening(plan, {})

    def _next(self, joint: Joint, aspect: Aspect, pieces: Sequence[Piece]) -> float:
        found = over_rods(joint, pieces) if aspect == FIT else None
        return super()._next(joint, aspect, pieces) if found is None else found


@dataclass
class UsualNotebook(Notebook):
    """The same, from what was good before."""

    seed: int = 0

    def first(self, plan: Plan) -> Settings:
        """The first set-up begins as the habit does."""
        begun = None if self.notes else usual_first(plan, self.seed)
        return begun or super().first(plan)

    def _next(self, joint: Joint, aspect: Aspect, pieces: Sequence[Piece]) -> float:
        found = over_rods(joint, pieces) if aspect == FIT else None
        return super()._next(joint, aspect, pieces) if found is None else found


def way(joint: str, name: str, steps: Mapping[Aspect, float], words: bool, seed: int) -> Method:
    """Return a way of working, new for a shop. steps: a rival's first moves by aspect, mm."""
    if name == "fitlog":
        return Stating()
    options = {
        **{"uses_numbers": True, "marks": True, "by_degree": True, "together": True},
        **{"uses_gap": not words, "seed": seed},
    }
    if name == "habit":
        return Usual(steps, **options)  # type: ignore[arg-type]
    bias = simulated(joint).START_BIAS
    return UsualNotebook(steps, **options, memory="mean of bit", start_bias=bias)  # type: ignore[arg-type]


def usual_first(plan: Plan, seed: int) -> Settings | None:
    """Return where the habit begins at this joint, mm; None: at the printed figures."""
    if plan.joint == BOX.name:
        mean, sd, least = KEY_PLAY
        play = max(least, mean + sd * normal(seed, "key play", plan.bit.name))
        drawn = Truth(seed)._drawn(plan, 1)
        slot = simulated(BOX.name).slot(plan, drawn, on_a_key(1.0, 1.0, 1.0), 0.0).value
        return on_a_key(slot - play, plan.bit.diameter, plan.figures()["met"])
    if plan.joint == SLIDING.name:
        own, thick = sliding(plan), plan.figures()["thickness"]
        height, theta = own.socket_height, plan.bit.theta
        out = geometry.exposure_for(FIRST_PLAY, plan.bit.diameter, thick, height, theta)
        return set_to(height, height - SHORTER, out)
    return None


def over_rods(joint: Joint, pieces: Sequence[Piece]) -> float | None:
    """Return the exposure that a tongue asks for, by rods over it and its socket's mouth, mm; None
    where they were not measured, or its pulled gap was.
    """
    last = pieces[-1]
    mouth = next((r.value for p in pieces for r in p.readings if r.kind == "mouth"), None)
    over = next((r.value for r in last.readings if r.kind == "over_rods"), None)
    if mouth is None or over is None or joint.reading_of(FIT, last) is not None:
        return None
    root = over - ROD * geometry.rod_factor(joint.plan.bit.theta)
    move = (joint.window(FIT).middle - (mouth - root)) / joint.slope(FIT, last.settings)
    said = last.verdict.of(FIT)
    if said is not None and said.side and (move * said.side > 0 or abs(move) < LEAST_MOVE):
        move = -LEAST_MOVE * said.side  # the hand knows better on which side it is
    return last.settings[EXPOSURE] + move


class RodSeason(_Season):
    """A season whose tongues are measured over rods, and the mouth of its first socket."""

    def _cut(self, setup: SetUp, piece: int, settings: Settings) -> TrialCut:
        cut = super()._cut(setup, piece, settings)
        plan, real = setup.plan, self._really(settings)
        drawn = self.truth._drawn(plan, setup.number)
        off, theta = drawn.off, plan.bit.theta + drawn.off["angle"]
        noise = [
            defaults.CALIPER * as_normal(u)
            for u in uniforms(self.person.seed, "rods", setup.number, piece)[:2]
        ]
        own = piece if cut.end is None else cut.end
        thick = plan.figures()["thickness"] + off["shelf thickness"]
        thick += figures.THICKNESS * self.truth._own(setup.number, own)
        root = geometry.root(thick, real[EXPOSURE] + off["exposure zero"])
        over = geometry.over_rods(root, ROD, theta) + noise[0]
        read = [Reading("over_rods", over, rod=ROD)]
        if piece == 1:
            size, socket = plan.bit.diameter + off["diameter"], real[HEIGHT] + off["height zero"]
            read.append(Reading("mouth", geometry.mouth(size, socket, theta) + noise[1]))
        return replace(cut, readings=(*cut.readings, *read))
