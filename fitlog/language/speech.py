"""How people speak and write of one family's joints, beside the words that it declares: what is
told apart here is found from those.

A family's folder may have it as a module `speech` (`families.speech_of`); none need be written.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from ..domain import Aspect, AspectKind, Family
from ..domain.family import listed
from ..errors import FitlogError, NotUnderstood
from ..texts import tell
from .usual import DEGREES as DEGREE_WORDS
from .usual import Asked, Parts, Usual, longest, parts_of

DEGREES = ("slightly", "very")
GAP = "gap"
SETTLED = ("good", "ok", "okay", "fine")  # behind the name of an aspect: its word that settles
LARGEST = 10.0  # mm: common practice, no source


def _without_number(word: str, typed: str) -> FitlogError:
    return NotUnderstood(
        "no-size", '"{word}" takes no size', "say {word} without a number", word=word
    )


@dataclass(frozen=True)
class Speech:
    """A family's own ways of speaking.

    numbers: what the number said with an aspect's words is called, and the largest that is
    believed, mm.  order: its words in the order in which they are listed, where that is not the
    family's. spellings: other ones of aspects.  sideways: other words
    for `gap` before a side.  fillers: words that say nothing.  remedies: what to say instead of a
    word that is not known.  usual: phrases beside the grammar; when: a word is the one that is
    meant, as a question says it.  example: a whole verdict; "" for the words that settle.
    without_number: the refusal of a number (as typed) with a word that stands for no length.
    columns: the words that head a column of a table, by our own name for it (`exchange.columns`),
    the one that is written first.  pairs: the columns of a reading of two numbers, by its kind.
    read_beside: aspects whose number without a word is a reading, with its kind. shared: words said
    of several aspects, each with what it is in the words of those whose own it is not, " / "
    between what it may be.
    """

    family: Family
    numbers: Mapping[Aspect, tuple[str, float]] = field(default_factory=dict)
    order: tuple[str, ...] = ()
    spellings: Mapping[str, Aspect] = field(default_factory=dict)
    sideways: tuple[str, ...] = ()
    fillers: tuple[str, ...] = ()
    remedies: Mapping[str, str] = field(default_factory=dict)
    usual: Usual = field(default_factory=dict)
    when: Mapping[str, str] = field(default_factory=dict)
    example: str = ""
    without_number: Callable[[str, str], FitlogError] = _without_number
    columns: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    pairs: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    read_beside: Mapping[Aspect, str] = field(default_factory=dict)
    shared: Mapping[str, Mapping[Aspect, str]] = field(default_factory=dict)

    @cached_property
    def names(self) -> dict[str, Aspect]:
        """What aspects are called, as far as that is no word of the grammar."""
        called = {**{aspect: aspect for aspect in self.family.aspects}, **self.spellings}
        plain = {part for parts in self.plain for part in parts}
        taken = {*plain, *self.graded, *self.gaps, *self.sides}
        return {name: aspect for name, aspect in called.items() if name not in taken}

    def aspects_of(self, word: str) -> tuple[Aspect, ...]:
        """Return the aspects that a word, without its degree, is said of; whose own it is first."""
        own = self._owner(word)
        borrowed = self.shared.get(word, {})
        return (*([] if own is None else [own]), *(one for one in borrowed if one != own))

    def said_of(self, aspect: Aspect, word: str) -> str | None:
        """Return what a word, without its degree, is in an aspect's own words; None for no word of
        its.
        """
        if self._owner(word) == aspect:
            return word
        settled = self.family.kind(aspect).settling if word in SETTLED else None
        return self.shared.get(word, {}).get(aspect, settled)

    def _owner(self, word: str) -> Aspect | None:
        plain = self.plain.get((word,))
        return plain[0] if plain else self.graded.get(word)

    def shares(self, aspect: Aspect, word: str) -> bool:
        """Tell whether an aspect's word, as it is logged, has a name with it to be told apart."""
        base = _base(word)
        borrowing = (own for one in self.shared.values() for a, own in one.items() if a == aspect)
        return base in self.shared or any(base in own.split(" / ") for own in borrowing)

    def number(self, aspect: Aspect) -> tuple[str, float]:
        """Return what the number said with an aspect's word is called, and its largest, mm."""
        return self.numbers.get(aspect) or (
            tell("the number of the {aspect}", aspect=aspect),
            LARGEST,
        )

    @cached_property
    def graded(self) -> dict[str, Aspect]:
        """The words that take a degree, with their aspects."""
        return self._listed(
            (word.split()[1], kind)
            for kind in self.family.kinds
            for word in kind.words
            if len(word.split()) == 2 and word.split()[0] in DEGREES
        )

    @cached_property
    def sides(self) -> dict[str, Aspect]:
        """The sides that a gap of a whole aspect can be at, with their aspects."""
        return self._listed(
            (word.removeprefix(f"{GAP} "), kind)
            for kind in self.family.kinds
            for word in kind.words
            if word.startswith(f"{GAP} ")
        )

    @cached_property
    def plain(self) -> dict[tuple[str, ...], tuple[Aspect, str]]:
        """All other words by their parts, each with its aspect and itself; the longest first."""
        found = {
            tuple(word.split()): (kind.name, word)
            for kind in self.family.kinds
            for word in kind.words
            if not word.startswith(f"{GAP} ") and word.split()[-1] not in self.graded
        }
        return {parts: found[parts] for parts in sorted(found, key=len, reverse=True)}

    @property
    def places(self) -> tuple[str, ...]:
        """The places of a gap that no setting cures, of those that have a name."""
        return self.family.faults[:-1]

    @cached_property
    def gaps(self) -> tuple[str, ...]:
        """The words that begin a gap."""
        return (*([GAP] if self.places or self.sides else []), *self.sideways)

    @cached_property
    def vocabulary(self) -> tuple[str, ...]:
        """Every word that is understood, as they are listed."""
        parts = [part for parts in self.plain for part in parts]
        degrees = DEGREES if self.graded else ()
        words = (*parts, *degrees, *self.graded, *self.gaps, *self.sides)
        return (*(self.order or tuple(dict.fromkeys(words))), *self.places)

    def with_own(self, own: Mapping[str, str]) -> Speech:
        """Return it with a person's own phrases, each with what it means; without those that mean
        nothing here.
        """
        if not own:
            return self
        more = {parts_of(p): tuple(m.split()) for p, m in own.items() if m in self.meanings}
        return replace(self, usual={**self.usual, **more})

    @cached_property
    def meanings(self) -> tuple[str, ...]:
        """All that one phrase can mean."""
        gaps = (f"{GAP} {place}" for place in self.places)
        return (*(word for kind in self.family.kinds for word in kind.words), *gaps)

    @cached_property
    def usual_by_first(self) -> dict[str, list[Parts]]:
        """The phrases beside the grammar by their first word, the longest first."""
        return longest(self.usual)

    @cached_property
    def phrases(self) -> dict[Parts, frozenset[str]]:
        """All that is understood, word by word, each with the aspects that it speaks of."""
        degrees = DEGREE_WORDS if self.graded else ()
        single: dict[Parts, frozenset[str]] = {(word,): frozenset() for word in degrees}
        single |= {(word,): self._aspects((word,)) for word in (*self.graded, *self.gaps)}
        single |= {(place,): frozenset((GAP,)) for place in self.places}
        single |= {(side,): frozenset((aspect,)) for side, aspect in self.sides.items()}
        single |= {parts: frozenset((aspect,)) for parts, (aspect, _) in self.plain.items()}
        single |= {(one,): frozenset(self.aspects_of(one)) for one in self.shared}
        return single | {parts: self._about(meaning) for parts, meaning in self.usual.items()}

    def _about(self, meaning: Parts | Asked) -> frozenset[str]:
        if not isinstance(meaning, Asked):
            return self._aspects(meaning)
        each = (self._aspects(tuple(choice.split())) for choice in meaning.choices)
        return frozenset[str]().union(*each)

    def _aspects(self, words: Parts) -> frozenset[str]:
        """The aspects that words of the grammar speak of, `GAP` for a place."""
        told = {GAP for word in words if word in self.places}
        for table in (self.graded, self.sides):
            told |= {table[word] for word in words if word in table}
        told |= {aspect for parts, (aspect, _) in self.plain.items() if parts == words}
        return frozenset(told)

    def offs(self, kind: AspectKind) -> list[str]:
        """Return the words of an aspect that say which side it is off to, without degrees."""
        plain = {word for _, word in self.plain.values()} - {kind.settling}
        return [
            *(word for word, aspect in self.graded.items() if aspect == kind.name),
            *(f"{GAP} {side}" for side, aspect in self.sides.items() if aspect == kind.name),
            *(word for word in kind.words if word in plain),
        ]

    def answers(self, aspect: Aspect) -> str:
        """Return what can be said of an aspect, as a hint lists it."""
        kind = self.family.kind(aspect)
        return listed((kind.settling, *self.offs(kind)))

    def advice(self, aspect: Aspect) -> str:
        """Return the hint that says what can be said of an aspect."""
        return tell("of the {aspect} say {answers}", aspect=aspect, answers=self.answers(aspect))

    def example_of(self) -> str:
        """Return the hint that shows how a verdict is said."""
        settled = ", ".join(kind.settling for kind in self.family.kinds)
        return tell("say it like: {example}", example=self.example or settled)

    def word_of(self) -> str:
        """Return a word as a hint names one: the lead's next to the one that settles."""
        kind = self.family.kind(self.family.lead)
        settled = kind.words.index(kind.settling)
        return kind.words[settled - 1 if settled else 1]

    def remedy(self, word: str) -> str | None:
        """Return what to say instead of a word that is none."""
        aspect = self.spellings.get(word, word)
        if aspect in self.family.aspects:
            return self.advice(aspect)
        return self.remedies.get(word)

    def opposite(self, kind: AspectKind, word: str) -> str | None:
        """Return what says as much of the other side, without its degree; None where the number of
        this aspect has no side.
        """
        if kind.settling not in kind.unread or word == kind.settling:
            return None
        return _base(kind.words[-1 - kind.words.index(word)])

    def _listed(self, found: Iterator[tuple[str, AspectKind]]) -> dict[str, Aspect]:
        """Words with their aspects, as they are listed."""
        known = {word: kind.name for word, kind in found}
        place = {word: i for i, word in enumerate(self.order)}
        return {word: known[word] for word in sorted(known, key=lambda w: place.get(w, 0))}


def _base(word: str) -> str:
    first, _, rest = word.partition(" ")
    return rest if first in DEGREES else word
