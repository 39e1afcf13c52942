"""What a fault is made of: a symptom that is seen, its causes, and for each cause a test and a
cure.
"""

from __future__ import annotations

from dataclasses import dataclass

Words = frozenset[str]


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause of a symptom. Texts name figures in braces (`figures.Figures`).

    weight: how often it is this one, against the symptom's other causes, before the set-up is
    looked at (common practice, no source).  amounts: the figures its cure rests on.  signs: what of
    the set-up makes it likelier (or less likely), as (sign, factor).
    """

    code: str
    weight: float
    text: str
    test: str
    cure: str
    amounts: tuple[str, ...] = ()
    signs: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Symptom:
    """What is seen on a joint. words: what to type; title: the same as a sentence.

    asks: sets of words any of which is enough; also: words that may stand beside them. size: what a
    number typed with it is ("" for none); typical: taken where none is known, mm (common practice,
    no source).
    """

    code: str
    words: str
    title: str
    asks: tuple[Words, ...]
    causes: tuple[Cause, ...]
    also: Words = frozenset()
    size: str = ""
    typical: float = 0.0


def words(text: str) -> Words:
    """Return a set of words."""
    return frozenset(text.split())
