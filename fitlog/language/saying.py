"""From a remark to its sentence: one catalogue a language, in which each code has its sentence."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from ..domain import Remark
from ..errors import Mm, in_units
from ..texts import tell
from .inches import beside
from .units import Ruler

# How a front spells an action, by the action's name: a command here, a key there.
Spelling = Mapping[str, str]


class Tongue(NamedTuple):
    """All that a sentence is made with beside its values.

    ruler: the person's units; spelling: the front's; names: what settings and misfits are called;
    aspect: that of the remark.
    """

    ruler: Ruler
    spelling: Spelling
    names: Mapping[str, str]
    aspect: str | None = None

    def length(self, mm: float) -> str:
        """Return a length in the person's unit."""
        return self.ruler.length(mm)

    def off_marks(self, mm: float) -> str:
        """Return a length to be set where no mark is: in an inch shop as a decimal alone, since a
        mark beside it reads as the place to set it to.
        """
        text = self.length(mm)
        both = beside(text)
        return text if both is None else f"{float(both[1]):.3f} in"

    def size(self, mm: float) -> str:
        """Return the size of a board or a tool in the person's unit."""
        return self.ruler.size(mm)

    def spread(self, law: tuple[float, float]) -> str:
        """Return a mean and its standard deviation, both mm."""
        return f"{self.length(law[0])} +- {self.ruler.doubt(law[1])}"

    def clause(self, text: str, figures: Iterable[tuple[str, Mm]]) -> str:
        """Return a part of a sentence that names lengths, as a refusal would tell it."""
        values = dict(figures)
        return tell(text, **(values if self.ruler.units == "mm" else in_units(values, self.length)))

    def word(self, said: tuple[str, float | None]) -> str:
        """Return a word as it was said, with its number."""
        return said[0] if said[1] is None else f"{said[0]} {self.length(said[1])}"

    def act(self, action: str, **given: object) -> str:
        """Return how the front spells an action."""
        return self.spelling[action].format(**given)

    def name(self, what: str) -> str:
        """Return what the setting, the misfit, ... of the remark's aspect is called."""
        return self.names[f"{self.aspect} {what}"]


Sentence = Callable[..., str]


class Catalogue(NamedTuple):
    """A language. sentences: by code; "*" in a code stands for any aspect or place of a gap, and a
    code in full comes first. names: what is called how, as "fit misfit". short: what says less of
    some codes, None nothing.
    """

    sentences: Mapping[str, Sentence]
    names: Mapping[str, str]
    short: Mapping[str, Sentence | None] = MappingProxyType({})

    def sentence(self, remark: Remark) -> Sentence:
        """Return what makes the sentence of a remark."""
        return self.sentences[self._key(remark)]

    def urgent(self, remark: Remark) -> bool:
        """Tell whether fewer words are there for a remark, so that it does not wait."""
        return self.short.get(self._key(remark)) is not None

    def _key(self, remark: Remark) -> str:
        part = remark.aspect or dict(remark.values).get("place")
        if remark.code in self.sentences or not isinstance(part, str):
            return remark.code
        return remark.code.replace(part, "*", 1)

    def say(self, remark: Remark, ruler: Ruler, spelling: Spelling, *, short: bool = False) -> str:
        """Return the sentence of a remark in a person's units and a front's spelling. short: in
        few words, "" where it can wait.
        """
        tongue = Tongue(ruler, spelling, self.names, remark.aspect)
        made: Sentence | None = self.sentence(remark)
        if short:
            made = self.short.get(self._key(remark), made)
        return made(tongue, **dict(remark.values)) if made else ""
