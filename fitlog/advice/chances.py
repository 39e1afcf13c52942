"""What is to be expected at the next settings: chances of good, misfits and pieces left."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from .. import defaults
from ..domain import Aspect, Figures, Misfit, Piece, Settings
from ..estimator.choice import central_chance, chance_good, later_chance, pieces_left
from ..estimator.likelihood import band_chance
from ..estimator.posterior import Posterior
from .end_laws import law_on_end, noise_on_end
from .ends import aimed, nibbles
from .knowledge import Knowledge
from .laws import law_if_good, law_of, noise_of, nominal_of
from .settled import half_told
from .stages import by_stage, frozen
from .sure import chance_shown, heard, reads, varies


class Outlook:
    """The next piece at given settings, as the posterior sees it."""

    def __init__(self, know: Knowledge, settings: Settings, end: Piece | None = None) -> None:
        """end: the last piece, where its end is cut again."""
        self.know, self.settings, self.end = know, settings, end
        self.in_play, self.family = know.joint.plan.in_play, know.joint.plan.family
        self.law: dict[Aspect, Posterior] = {a: self._law(a) for a in self.in_play}
        self.nominal = {a: nominal_of(know, a, settings) for a in self.in_play}

    def _law(self, aspect: Aspect) -> Posterior:
        if self.end is None or not self.know.joint.end_sd(aspect):
            return law_of(self.know, aspect, self.settings)
        return law_on_end(self.know, aspect, self.settings, self.end)

    def _noise(self, aspect: Aspect) -> float:
        """What a word lies off beside that law, mm."""
        return (noise_of if self.end is None else noise_on_end)(self.know, aspect)

    def good(self, open_aspects: Sequence[Aspect]) -> dict[str, float | None]:
        """Chance that the verdict on the next piece is good, by aspect, and that the piece settles
        all that is open.
        """
        out: dict[str, float | None] = {
            a: self._good(a) if a in self.in_play else None for a in self.family.aspects
        }
        out["all"] = math.prod(self._now(open_aspects))
        return out

    def within(self) -> dict[str, float | None]:
        """Chance that the true misfit lies inside the window, by aspect and for all of them
        together.
        """
        out: dict[str, float | None] = {
            a: self._within(a) if a in self.in_play else None for a in self.family.aspects
        }
        out["all"] = math.prod(chance for chance in out.values() if chance is not None)
        return out

    def pieces_left(self, open_aspects: Sequence[Aspect]) -> float:
        """Expected number of pieces still to be cut, the next one included: those of each stage
        come after those of the one before.
        """
        groups = by_stage(self.know.joint, open_aspects, self.know.pieces)
        return sum(self._left(group) for group in groups)

    def _left(self, group: Sequence[Aspect]) -> float:
        """The same for aspects that are tuned together; what is frozen has the next piece's chance
        on every later one.
        """
        now, joint, pieces = self._now(group), self.know.joint, self.know.pieces
        fixed = [frozen(joint, self.family.adjusted(a), pieces) for a in group]
        later = [n if f else self._later(a, n) for a, n, f in zip(group, now, fixed, strict=True)]
        return pieces_left(now, later)

    def _now(self, open_aspects: Sequence[Aspect]) -> list[float]:
        """Chance that the next piece settles each open aspect: by its word, by a number inside, or
        by figures.
        """
        together = self.family.lead in open_aspects
        good = [
            self._good_with_driver(a) if self.know.kind(a).driver in open_aspects else self._good(a)
            for a in open_aspects
        ]
        by_figures = [
            0.0 if not together and self._told_apart(a) else self._by_figures(a)
            for a in open_aspects
        ]
        return [max(pair) for pair in zip(good, by_figures, strict=True)]

    def _told_apart(self, aspect: Aspect) -> bool:
        """Whether pieces that were read left an aspect open, which differ more than a reading is
        unsure.
        """
        told = heard(self.know, aspect, self.know.pieces)
        return told and varies(self.know, aspect, self.settings) > self.know.joint.read_sd(aspect)

    def _by_figures(self, aspect: Aspect) -> float:
        """Chance that a number read on the next piece settles an aspect: of centre and seat
        whatever it is, by figures.
        """
        if not reads(self.know, aspect, self.know.pieces):
            return 0.0
        kind = self.know.kind(aspect)
        if kind.tried:
            return self._word_or_reading(aspect)
        joint, vary = self.know.joint, varies(self.know, aspect, self.settings)
        left = math.hypot(
            joint.read_sd(aspect), vary, 0.0 if kind.zeroed else vary
        )  # of that piece and of a real board
        then, best = (
            central_chance(left, joint.window(aspect)),
            central_chance(vary, joint.window(aspect)),
        )
        enough = then >= defaults.SETTLED_CHANCE or best - then < defaults.NO_BETTER
        if not enough:
            return 0.0
        shown = chance_shown(self.know, aspect, self.settings) if half_told(joint, aspect) else 1.0
        return (1 - defaults.SLIP) * (1 - defaults.SWAP_ONCE) * shown

    def _good_with_driver(self, aspect: Aspect) -> float:
        """A coupled aspect's chance on a piece whose driver is good, such as the seat's where the
        fit is: the two hang together through the clearance.
        """
        law = law_if_good(self.know, aspect, self.settings)
        at, window = np.array([self.nominal[aspect]]), self.know.joint.window(aspect)
        chance = chance_good(law, at, window, noise_of(self.know, aspect))
        return self._as_said(aspect, float(chance[0]))

    def _word_or_reading(self, aspect: Aspect) -> float:
        """Chance that the next piece settles a tried aspect: by its word, or by a reading (the
        pull-apart gap) inside the window as stated.

        Word and gap are of one piece, whose own variation they share (Gauss and Hermite over it).
        """
        joint, law = self.know.joint, self.law[aspect]
        nodes, weights = np.polynomial.hermite_e.hermegauss(7)
        own = joint.piece_sd(aspect)
        if self.end is not None:
            own = math.sqrt(max(own**2 - joint.end_sd(aspect) ** 2, 0.0))
        spread = own * nodes[:, None]
        misfit = self.nominal[aspect] + law.grid[None, :] + spread
        good, stated = joint.window(aspect), joint.stated_window(aspect)
        said = band_chance(good.low, good.high, misfit, joint.word_noise(aspect))
        read = band_chance(stated.low, stated.high, misfit, joint.read_sd(aspect))
        both = weights / weights.sum() @ (1 - (1 - said) * (1 - read)) @ law.weight
        return self._as_said(aspect, float(both))

    def _within(self, aspect: Aspect) -> float:
        return float(
            chance_good(
                self.law[aspect],
                np.array([self.nominal[aspect]]),
                self.know.joint.window(aspect),
                0.0,
            )[0]
        )

    def _good(self, aspect: Aspect) -> float:
        at = np.array([self.nominal[aspect]])
        chance = chance_good(
            self.law[aspect], at, self.know.joint.window(aspect), self._noise(aspect)
        )
        return self._as_said(aspect, float(chance[0]))

    def _later(self, aspect: Aspect, now: float) -> float:
        """Chance of good on each piece after the next. now: on that one."""
        if nibbles(self.know, aspect):  # as many as the plan of cuts and ends expects
            more = aimed(self.know, aspect, self.settings, self.end).cuts - 1
            return min(1.0, (1 - now) / more) if more > 0 else 1.0
        plan = self.know.joint.plan
        bands = self.know.joint.word_bands(aspect)
        read_sd: float | None = self.know.joint.read_sd(aspect)
        kind = self.know.kind(aspect)
        if kind.tried and plan.words_only:
            read_sd = None
        usual = later_chance(
            self.law[aspect],
            self.nominal[aspect],
            bands,
            kind.settled_at,
            self.know.joint.window(aspect),
            noise_of(self.know, aspect),
            read_sd,
            kind.readable,
        )
        return max(usual, self._by_figures(aspect))

    def _as_said(self, aspect: Aspect, chance: float) -> float:
        """Chance that good is what will be said, given the chance that it will be so: a slip says
        any of the words.
        """
        words = self.know.kind(aspect).words
        return (1 - defaults.SLIP) * chance + defaults.SLIP / len(words)


def misfits(know: Knowledge, settings: Settings, figures: Figures) -> dict[str, Misfit | None]:
    """What is known of each misfit at settings, for a piece with these figures; None where not
    in play.
    """
    out: dict[str, Misfit | None] = dict.fromkeys(know.joint.plan.family.aspects)
    for aspect in know.joint.plan.in_play:
        law = law_of(know, aspect, settings)
        nominal = know.joint.nominal(aspect, settings, figures)
        low, high = law.interval(0.90)
        out[aspect] = Misfit(nominal + law.mean, law.sd, (nominal + low, nominal + high))
    return out
