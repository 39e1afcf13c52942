"""What is known of how a person uses the words of an aspect, to be shown to them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from .. import defaults
from ..domain import Aspect, AspectKind, Family, Window
from ..estimator.scale import Scale
from ..families import word_sets
from ..families.names import FAMILIES
from .history import History
from .voices import Edges, assumed_scale


class Spoken(NamedTuple):
    """A person's scale of an aspect's words, mm. met: words in finished set-ups that met a reading
    of their piece; sets: the edges as the family has them, by `Plan.word_set`.
    """

    kind: AspectKind
    scale: Scale
    met: int
    sets: Mapping[str, Edges]

    @property
    def learned(self) -> bool:
        """Whether the scale is the person's own, not the one assumed."""
        return self.scale.met > 0

    @property
    def missing(self) -> int:
        """How many more words must meet a reading until it is."""
        return 0 if self.learned else max(0, defaults.VOICE_MEETINGS[0] - self.met)

    def good(self, word_set: str = "") -> Window:
        """Return the band of the word that settles the aspect; another set has other edges under
        the same shifts.
        """
        at = self.kind.words.index(self.kind.settling)
        usual, wanted = self.sets[""], self.sets[word_set]
        low, high = (self.scale.edges[i] - usual[i] + wanted[i] for i in (at - 1, at))
        return Window(low, high)


def scales(person: str, history: History) -> dict[Aspect, Spoken]:
    """Return what finished set-ups tell of a person's words of every aspect that has a scale, as
    the first family that has it calls them.
    """
    found: dict[Aspect, Spoken] = {}
    for family, kind in ((f, k) for f in FAMILIES.values() for k in f.kinds if k.scaled):
        if kind.name not in found:
            found[kind.name] = _spoken(person, family, kind, history)
    return found


def _spoken(person: str, family: Family, kind: AspectKind, history: History) -> Spoken:
    sets, speaker = word_sets(family.name, kind.name), (person, kind.name)
    scale = history.scales.get(speaker) or assumed_scale(sets[""])
    return Spoken(kind, scale, len(history.met.get(speaker, ())), sets)
