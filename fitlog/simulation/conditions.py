"""Under which conditions a shop works: how true the priors are, what is read, and which lapses
people make.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from .. import defaults
from .person import Person
from .truth import Truth, causes


@dataclass(frozen=True, slots=True)
class Conditions:
    """What a shop's truth and its people are like; lengths are mm.

    sds: true sds of every cause, as a multiple of the assumed ones.  slips, swaps: chances per
    verdict. readings: to what gaps, steps and walls are read, 0: as they come; None: nobody has
    anything to read with. zeros_off: how far the zeros of the machine's parts lie off what is
    assumed, by part, besides their own spread. edges_off: how far the people's words lie from the
    assumed edges. repeats: later set-ups are the same joint again on another day, the fence taken
    off; else at other heights.
    """

    sds: float = 1.0
    slips: float = defaults.SLIP
    swaps: float = 0.0
    readings: float | None = 0.0
    zeros_off: Mapping[str, float] = field(default_factory=dict, hash=False)
    edges_off: float = 0.0
    repeats: bool = False

    @property
    def words_only(self) -> bool:
        """Whether nobody can read a number."""
        return self.readings is None

    @property
    def bias(self) -> Mapping[str, float]:
        """How far the machine's zeros are off, by kind of cause, mm."""
        return {f"{part} zero": off for part, off in self.zeros_off.items()}

    def truth(self, seed: int) -> Truth:
        """Return the shop of a seed."""
        return Truth(seed, dict.fromkeys(causes(), self.sds), self.bias)

    def person(self, seed: int, words_only: bool = False) -> Person:
        """Return who judges in the shop of a seed. words_only: no feeler at hand."""
        step = self.readings or 0.0
        return Person(
            seed,
            words_only=words_only or self.words_only,
            rule=None if self.words_only else defaults.CALIPER,
            gap_step=step,
            rule_step=step,
            slip=self.slips,
            swap=self.swaps,
            edges_off=self.edges_off,
        )
