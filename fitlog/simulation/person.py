"""Who judges the pieces: words within their bands, numbers as good as their instruments, and now
and then a lapse.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from .. import defaults
from ..domain import Aspect, AspectKind, Plan, Reading, Said, Verdict
from ..families import joint_of
from ..families.drawn import Drawn, Shown
from .draws import as_normal, uniforms
from .simulated import simulated

_LEAST_SIZE = 0.01  # mm: what is seen to be off is never said to be off by nothing
# mm either way: a length whose line on the rule was missed; common practice, no source
_MISREAD = 1.0


@dataclass(frozen=True, slots=True)
class Person:
    """A person's ears, hands and instruments. Every draw belongs to (seed, set-up, piece, aspect)
    alone.

    words_only: no feeler at hand.  gap_sd: sd of a gap read of what only a trial settles, mm.
    rule: sd of any other length read, mm; None: nothing to read it with.  gap_step, rule_step: what
    the two are read to, mm; 0: as they come. word_noise: sd of a word about its band, mm.  slip:
    chance that a verdict is another word, without a number, or that the first of two lengths is
    misread. swap: chance that a verdict is said of the other side, its number kept. edges: the
    person's own edges between the words of what only a trial settles, mm; None: those assumed.
    edges_off: how far the person's edges of every aspect lie above those assumed, mm (where the
    side is plain to see: outside them).
    """

    seed: int
    words_only: bool = False
    gap_sd: float = defaults.FEELER
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
        stands_for: Mapping[Aspect, float] | None = None,
        aspects: Sequence[Aspect] | None = None,
    ) -> Verdict:
        """Return what is said of a piece with these true misfits, of the aspects in play.

        stands_for: by aspect, the misfit that 1 mm of the number said with its word stands for;
        None: as printed. aspects: which are judged by a word; None: all in play.
        """
        if stands_for is None:
            stands_for = simulated(plan.joint).stands_for(plan, Drawn())
        judged = plan.in_play if aspects is None else aspects
        return Verdict(
            tuple(self._said(plan, a, misfits[a], stands_for[a], (setup, piece)) for a in judged)
        )

    def measured(
        self, true: Shown, setup: int, number: int, aspect: Aspect | None = None
    ) -> Reading | None:
        """Return one or two true lengths as they are measured, mm; None without a rule.

        number: of the piece or slot.  aspect: what two lengths show; they may be swapped.
        """
        if self.rule is None:
            return None
        first, second, for_slip, for_amount = uniforms(int(self.seed), true.kind, setup, number)
        near = self.rule * as_normal(first)
        if true.other is None:
            return Reading(true.kind, self._length(true.value + near))
        near += (2 * for_amount - 1) * _MISREAD if for_slip < self.slip else 0.0
        far = self._length(true.other + self.rule * as_normal(second))
        near = self._length(true.value + near)
        if aspect is not None and self._swaps(aspect, (setup, number)):
            near, far = far, near
        return Reading(true.kind, near, other=far)

    def _length(self, value: float) -> float:
        return max(self.rule_step or _LEAST_SIZE, _read(value, self.rule_step))

    def _said(
        self, plan: Plan, aspect: Aspect, misfit: float, stands_for: float, which: tuple[int, int]
    ) -> Said:
        for_word, for_size, for_slip, for_other = uniforms(
            int(self.seed), "verdict", *which, aspect
        )
        kind = plan.family.kind(aspect)
        word = self._word(plan, kind, misfit, self.word_noise * as_normal(for_word))
        if for_slip < self.slip:
            others = [w for w in kind.words if w != word]
            return Said(kind, others[int(for_other * len(others))])
        said, noise = Said(kind, word), as_normal(for_size)
        if kind.tried:
            size = None if plan.words_only else self._gap(said, misfit / stands_for, noise)
        else:
            size = self._off(said, said.side * misfit / stands_for, noise)
        said = replace(said, size=size)
        return said.turned if self._swaps(aspect, which) else said

    def _swaps(self, aspect: Aspect, which: tuple[int, int]) -> bool:
        return self.swap > 0 and uniforms(int(self.seed), "swap", *which, aspect)[0] < self.swap

    def _word(self, plan: Plan, kind: AspectKind, misfit: float, noise: float) -> str:
        bands = joint_of(plan).word_bands(kind.name)
        edges = [max(high for _, high, _ in band) for band in bands[:-1]]
        felt, off = misfit + noise, self.edges_off
        if kind.places_gap:  # on which side the gap is is plain to see, only how much is not
            felt = math.copysign(felt, misfit)
            return kind.words[sum(felt > edge + math.copysign(off, edge) for edge in edges)]
        own = self.edges if kind.tried else None
        return kind.words[sum(felt > edge + off for edge in own or edges)]

    def _gap(self, said: Said, gap: float, noise: float) -> float | None:
        """A gap, taken where there is play that is not plainly none."""
        if self.words_only or gap <= 0 or said.word in said.kind.unread:
            return None
        read = _read(gap + self.gap_sd * noise, self.gap_step)
        return read if read > 0 else None

    def _off(self, said: Said, size: float, noise: float) -> float | None:
        """How much it is off, where the word says that it is."""
        if self.rule is None or said.settles:
            return None
        return self._length(size + self.rule * noise)


def _read(value: float, step: float) -> float:
    return round(round(value / step) * step, 9) if step > 0 else value
