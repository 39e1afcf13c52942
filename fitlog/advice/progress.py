"""How a set-up converged: what was known before each piece and after the last, by replay of its own
cuts.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from ..domain import Aspect, Misfit, Piece, Settings, SetUp, Window
from ..families import Joint
from .chances import Outlook
from .decision import Decision, decide
from .history import History
from .settled import SAME, judged, nominal

# Of a replay, in pieces weighed: a step costs about as much as weighing so many, beside its own.
# Each of its laws has a grid that all of its pieces ask for, so that no step can begin with what
# the one before it found.
STEP, BUDGET = 50, 4000
_FIRST = 10  # pieces that are always replayed one by one: most of what is learnt is learnt there


@dataclass(frozen=True, slots=True)
class Belief:
    """Where an aspect's good setting was believed to lie, true mm on the set-up's own test piece.

    middle: the setting expected to bring the misfit to the middle of its window.  interval90: where
    that setting lay with a chance of 90 %.  reach: how far from it a setting is still good, half
    the window over the slope.
    """

    middle: float
    interval90: tuple[float, float]
    reach: float


@dataclass(frozen=True, slots=True)
class View:
    """What was expected of a piece at settings, true mm on the set-up's own test piece; aspects in
    play only.

    chance_good: as `Advice.chance_good`.  misfit: mean, sd and 90 % interval, mm.  belief: of
    what is coupled, at this setting of its driver.
    """

    settings: Settings
    chance_good: Mapping[str, float | None]
    misfit: Mapping[Aspect, Misfit]
    belief: Mapping[Aspect, Belief]


@dataclass(frozen=True, slots=True)
class Step:
    """What was known when so many pieces were cut, and the piece cut next.

    proposed: at the settings that the advice gives then.  settled: aspects that were.  piece: the
    one cut next, None after the last.  cut: at the settings it was cut with.  judged: whether it
    was good, None for an aspect that it did not show.
    """

    known: int
    proposed: View
    settled: tuple[Aspect, ...]
    window: Mapping[Aspect, Window]
    piece: Piece | None = None
    cut: View | None = None
    judged: Mapping[Aspect, bool | None] | None = None

    @property
    def view(self) -> View:
        """At the settings of the piece cut next, or those proposed where there is none."""
        return self.cut or self.proposed

    def moved(self, aspect: Aspect) -> bool:
        """Tell whether the piece was cut at another setting than the one proposed."""
        return abs(self.view.settings.of(aspect) - self.proposed.settings.of(aspect)) > SAME

    def holds(self, aspect: Aspect) -> bool:
        """Tell whether an aspect was settled and is, at the settings of `view`; what is coupled
        hangs on its driver's setting as well.
        """
        driver = self.view.settings.family.kind(aspect).driver
        still = not self.moved(aspect) and not (driver and self.moved(driver))
        return aspect in self.settled and still


def steps(setup: SetUp, past: History, budget: float = math.inf) -> tuple[Step, ...]:
    """Return one step before each piece and one after the last: a set-up of n pieces has n + 1, of
    which a budget may leave some out (`chosen`).

    past: what was known when the set-up began. Each step is what `advise` says of the set-up with
    the pieces so far.
    """
    pieces = setup.pieces()
    return tuple(_step(setup, past, pieces, known) for known in chosen(len(pieces), budget))


def chosen(pieces: int, budget: float) -> tuple[int, ...]:
    """Return how many pieces are known at each step that is replayed: all of them where the budget
    is enough for that; else the first ones, ever fewer of those that follow, since what a piece can
    tell falls with those before it, and the last two.
    """
    kept, ratio = set(range(pieces + 1)), 1.0
    few = {*range(min(_FIRST, pieces) + 1), max(pieces - 1, 0), pieces}
    while sum(STEP + known for known in kept) > budget and kept != few:
        ratio *= 1.02
        rising = (int(ratio**i) for i in range(int(math.log(pieces, ratio)) + 1))
        kept = few | {known for known in rising if known > _FIRST}
    return tuple(sorted(kept))


def _step(setup: SetUp, past: History, pieces: tuple[Piece, ...], known: int) -> Step:
    so_far, next_ = (
        {p.number for p in pieces[:known]},
        pieces[known].number if known < len(pieces) else math.inf,
    )
    cuts = (
        c for c in setup.cuts if (c.piece <= next_ if c.slot else c.piece in so_far)
    )  # a slot comes before its piece
    made = decide(replace(setup, cuts=tuple(cuts)), past)
    joint, in_play = made.known.joint, setup.plan.in_play
    proposed = _view(made, made.outlook)
    window = {a: joint.window(a) for a in in_play}
    if known == len(pieces):
        return Step(known, proposed, made.settled, window)
    piece = pieces[known]
    at = own_size(joint, piece)
    cut = proposed if at == made.settings else _view(made, Outlook(made.known, at))
    return Step(
        known,
        proposed,
        made.settled,
        window,
        piece,
        cut,
        {a: judged(joint, a, piece) for a in in_play},
    )


def own_size(joint: Joint, piece: Piece) -> Settings:
    """Return a piece's settings carried over to a piece of the set-up's own size, the misfits
    unchanged, true mm.
    """
    settings, family = piece.settings, joint.plan.family
    for aspect in family.setting_of:
        if not family.adjusted(aspect).with_figures:
            continue
        settings = settings.moved(
            aspect, round(joint.setting_for(aspect, nominal(joint, aspect, piece), settings), 6)
        )
    return settings


def _view(made: Decision, outlook: Outlook) -> View:
    misfit, belief = {}, {}
    joint = made.known.joint
    for aspect, law in outlook.law.items():
        low, high = law.interval(0.90)
        at, window = outlook.nominal[aspect], joint.window(aspect)
        misfit[aspect] = Misfit(at + law.mean, law.sd, (at + low, at + high))
        middle, *ends = (
            joint.setting_for(aspect, window.middle - x, outlook.settings)
            for x in (law.mean, low, high)
        )
        belief[aspect] = Belief(
            middle, (min(ends), max(ends)), window.half / abs(joint.slope(aspect, outlook.settings))
        )
    return View(outlook.settings, outlook.good(made.asked), misfit, belief)
