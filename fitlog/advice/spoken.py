"""What is known of how a person uses the words of an aspect, to be shown to them."""

from __future__ import annotations

from dataclasses import dataclass

from .. import defaults
from ..domain import Aspect, Window
from ..estimator.scale import Scale
from ..families.half_blind import figures
from ..families.half_blind.names import SETTLING_WORD, WORDS
from .history import History
from .voices import assumed_scale


@dataclass(frozen=True, slots=True)
class Spoken:
    """A person's scale of an aspect's words, mm. met: words in finished set-ups that met a reading
    of their piece.
    """

    aspect: Aspect
    scale: Scale
    met: int

    @property
    def learned(self) -> bool:
        """Whether the scale is the person's own, not the one assumed."""
        return self.scale.met > 0

    @property
    def missing(self) -> int:
        """How many more words must meet a reading until it is."""
        return 0 if self.learned else max(0, defaults.VOICE_MEETINGS[0] - self.met)

    def good(self, many_tails: bool = False) -> Window:
        """Return the band of the word that settles the aspect; many tails have other edges under
        the same shifts.
        """
        at = WORDS[self.aspect].index(SETTLING_WORD[self.aspect])
        usual, wanted = (
            figures.word_edges(self.aspect),
            figures.word_edges(self.aspect, many_tails),
        )
        low, high = (self.scale.edges[i] - usual[i] + wanted[i] for i in (at - 1, at))
        return Window(low, high)


def spoken(person: str, aspect: Aspect, history: History) -> Spoken:
    """Return what finished set-ups tell of a person's words."""
    scale = history.scales.get((person, aspect)) or assumed_scale(aspect)
    return Spoken(aspect, scale, len(history.met.get((person, aspect), ())))
