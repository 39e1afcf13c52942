"""Who judges the pieces: words within their bands, numbers as good as their instruments, and now
and then a lapse.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from .. import defaults
from ..domain import Aspect, Plan, Reading, Said, Verdict
from ..families.half_blind import figures
from ..families.half_blind.plan import dovetail
from .draws import as_normal, uniforms

_LEAST_SIZE = 0.01  # mm: what is seen to be off is never said to be off by nothing
_MISREAD = (
    1.0  # mm either way: a wall whose line on the rule was missed; common practice, no source
)


@dataclass(frozen=True, slots=True)
class Person:
    """A person's ears, hands and instruments. Every draw belongs to (seed, set-up, piece, aspect)
    alone.

    words_only: no feeler at hand.  feeler: sd of a pull-apart gap read, mm.  rule: sd of an extra
    width, a step or a wall read, mm; None: nothing to read them with.  gap_step, rule_step: what
    the two are read to, mm; 0: as they come. word_noise: sd of a word about its band, mm.  slip:
    chance that a verdict is another word, without a number, or that one wall is misread.  swap:
    chance that a verdict is said of the other side, its number kept. edges: the person's own six
    edges between the words of the fit, mm; None: those assumed. edges_off: how far the person's
    edges of every aspect lie above those assumed, mm (of the centre: outside them).
    """

    seed: int
    words_only: bool = False
    feeler: float = defaults.FEELER
    gap_step: float = 0.0
    rule: float | None = defaults.CALIPER
    rule_step: float = 0.0
    word_noise: float = defaults.WORD_NOISE
    slip: float = 0.0
    edges: tuple[float, ...] | None = None
    swap: float = 0.0
    edges_off: float = 0.0

    def judge(
        self,
        plan: Plan,
        setup: int,
        piece: int,
        misfits: dict[Aspect, float],
        theta: float | None = None,
        aspects: Sequence[Aspect] | None = None,
    ) -> Verdict:
        """Return what is said of a piece with these true misfits, of the aspects in play.

        theta: the bit's true side angle, radians, on which a pull-apart gap depends; None: the
        printed one. aspects: which are judged by a word; None: all in play.
        """
        angle, aspects = (
            plan.bit.theta if theta is None else theta,
            plan.in_play if aspects is None else aspects,
        )
        said = {a: self._said(plan, a, misfits[a], angle, (setup, piece)) for a in aspects}
        return Verdict(tuple(one for one in said.values() if one is not None))

    def walls(self, setup: int, piece: int, walls: tuple[float, float]) -> Reading | None:
        """Return the two walls beside a cut as they are measured, mm: (at the fence, far); None
        without a rule.
        """
        if self.rule is None:
            return None
        first, second, for_slip, for_amount = uniforms(int(self.seed), "walls", setup, piece)
        wrong = (2 * for_amount - 1) * _MISREAD if for_slip < self.slip else 0.0
        noise = (self.rule * as_normal(first) + wrong, self.rule * as_normal(second))
        least = self.rule_step or _LEAST_SIZE
        near, far = (
            max(least, _read(w + n, self.rule_step)) for w, n in zip(walls, noise, strict=True)
        )
        if self._swaps("centre", (setup, piece)):
            near, far = far, near
        return Reading("walls", near, other=far)

    def mouth(self, setup: int, slot: int, width: float) -> Reading | None:
        """Return a slot's mouth as it is measured, mm; None without a rule."""
        if self.rule is None:
            return None
        noise = self.rule * as_normal(uniforms(int(self.seed), "mouth", setup, slot)[0])
        return Reading(
            "mouth", max(self.rule_step or _LEAST_SIZE, _read(width + noise, self.rule_step))
        )

    def _said(
        self, plan: Plan, aspect: Aspect, misfit: float, theta: float, which: tuple[int, int]
    ) -> Said:
        for_word, for_size, for_slip, for_other = uniforms(
            int(self.seed), "verdict", *which, aspect
        )
        kind = plan.family.kind(aspect)
        word = self._word(plan, aspect, misfit, self.word_noise * as_normal(for_word))
        if for_slip < self.slip:
            others = [w for w in kind.words if w != word]
            return Said(kind, others[int(for_other * len(others))])
        size = self._gap if kind.tried else self._off
        said = Said(kind, word, size(plan, aspect, word, misfit, theta, as_normal(for_size)))
        return mirrored(said) if self._swaps(aspect, which) else said

    def _swaps(self, aspect: Aspect, which: tuple[int, int]) -> bool:
        return self.swap > 0 and uniforms(int(self.seed), "swap", *which, aspect)[0] < self.swap

    def _word(self, plan: Plan, aspect: Aspect, misfit: float, noise: float) -> str:
        words = plan.family.words(aspect)
        if aspect == "centre":  # which wall was shaved is plain to see, only how much is not
            off = abs(misfit + noise) > figures.CENTRED + self.edges_off
            return words[(2 if misfit > 0 else 0) if off else 1]
        edges = figures.SEAT_EDGES if aspect == "seat" else self.edges or _fit_edges(plan)
        return words[sum(misfit + noise > edge + self.edges_off for edge in edges)]

    def _gap(
        self, plan: Plan, aspect: Aspect, word: str, clearance: float, theta: float, noise: float
    ) -> float | None:
        """A pull-apart gap, taken where the joint opens and is not plainly tight."""
        if (
            self.words_only
            or plan.words_only
            or clearance <= 0
            or word in plan.family.kind(aspect).unread
        ):
            return None
        gap = _read(clearance / (2 * math.tan(theta)) + self.feeler * noise, self.gap_step)
        return gap if gap > 0 else None

    def _off(
        self, plan: Plan, aspect: Aspect, word: str, misfit: float, theta: float, noise: float
    ) -> float | None:
        """The extra width of a cut that is not centred, or the step of a joint that is
        not flush.
        """
        if self.rule is None or word == plan.family.kind(aspect).settling:
            return None
        size = (
            2 * abs(misfit) if aspect == "centre" else misfit if word.endswith("proud") else -misfit
        )
        return max(self.rule_step or _LEAST_SIZE, _read(size + self.rule * noise, self.rule_step))


def mirrored(said: Said) -> Said:
    """Return what was said, said of the other side: proud for shy, far for near, tight for loose;
    the number stays.
    """
    return said.turned


def _fit_edges(plan: Plan) -> tuple[float, ...]:
    return figures.FIT_EDGES_MANY_TAILS if dovetail(plan).many_tails else figures.FIT_EDGES


def _read(value: float, step: float) -> float:
    return round(round(value / step) * step, 9) if step > 0 else value
