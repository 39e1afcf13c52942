"""Which aspect a word is said of that several share: the one whose name leads ("depth shy 0.4"),
else the one that is tuned now.

Rewrites what was typed in words that each belong to one aspect; names are left out.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..domain import Aspect
from . import misheard
from .speech import Speech
from .understood import NUMBER
from .units import UNIT_WORDS
from .usual import ARTICLES, BREAK, DEGREES, FILLERS, Asked

Placed = list[tuple[str, int]]


def ascribed(
    words: Placed, typed: Sequence[str], speech: Speech, now: Sequence[Aspect] = ()
) -> Placed:
    """Return the words of the grammar, each with its place among what was typed, as each belongs
    to one aspect. now: the aspects that are tuned now, in their order.

    Raises `NotUnderstood` for a word that an aspect named before it never has, and for one that
    may mean several things of it.
    """
    return _Reading(words, typed, speech, now).all()


class _Reading:
    """lead: the aspect named and still waiting for its word, with its place among `out`; last: the
    aspect of the word just heard in this phrase, whose name behind it says nothing new.
    """

    def __init__(
        self, words: Placed, typed: Sequence[str], speech: Speech, now: Sequence[Aspect]
    ) -> None:
        self.words, self.typed, self.speech, self.now = words, typed, speech, now
        self.out: Placed = []
        self.lead: tuple[Aspect, int] | None = None
        self.last: Aspect | None = None

    def all(self) -> Placed:
        """Read everything, from left to right."""
        for at, (word, origin) in enumerate(self.words):
            if word == BREAK:
                self.last = None
            elif word in self.speech.names and not self._after_gap():
                if self._named(self.speech.names[word]):
                    continue
            elif word in self.speech.gaps:
                self._drop_name()
            elif not self._after_gap():
                word = self._own(at, word, origin)
            self.out.append((word, origin))
        return self.out

    def _after_gap(self) -> bool:
        """Whether what comes is the side or the place of a gap."""
        before = [word for word, _ in self.out if not self._says_nothing(word)]
        return bool(before) and before[-1] in self.speech.gaps

    def _says_nothing(self, word: str) -> bool:
        return word in ARTICLES or word in FILLERS or word in self.speech.fillers

    def _named(self, aspect: Aspect) -> bool:
        """Take an aspect's name; tell whether it comes behind its own word and can go."""
        if aspect == self.last and self.lead is None:
            return True
        self.lead = aspect, len(self.out)
        return False

    def _drop_name(self) -> None:
        if self.lead is not None:
            del self.out[self.lead[1]]
            self.lead = None

    def _own(self, at: int, word: str, origin: int) -> str:
        """Return a word as its aspect has it; what is no aspect's word comes back as it is."""
        speech = self.speech
        said_of = speech.aspects_of(word)
        lead = self.lead[0] if self.lead else self._named_behind(at, word)
        if not said_of and (lead is None or speech.said_of(lead, word) is None):
            return word
        aspect = lead or self._meant(word, said_of)
        own = speech.said_of(aspect, word)
        if own is None:
            raise misheard.none_of(self.typed[origin], aspect, speech)
        if " / " in own:
            choices = Asked(tuple(own.split(" / ")))
            raise misheard.which(self.typed, origin, origin + 1, choices, speech)
        self._drop_name()
        self.last = aspect
        return own

    def _meant(self, word: str, said_of: tuple[Aspect, ...]) -> Aspect:
        """Return the aspect of a word that comes without a name: whose own word it is before one
        that borrows it, among those that are tuned now.
        """
        order = sorted(said_of, key=lambda one: self.speech.said_of(one, word) != word)
        return next((one for one in order if one in self.now), order[0])

    def _named_behind(self, at: int, word: str) -> Aspect | None:
        """Return the aspect whose name ends the phrase that a word begins: "shy depth"."""
        rest = [one for one, _ in self.words[at + 1 :]]
        rest = rest[: rest.index(BREAK)] if BREAK in rest else rest
        named = [one for one in rest if one in self.speech.names]
        for one in rest:
            number = NUMBER.match(one) or one in UNIT_WORDS or one in DEGREES
            if one not in named and not number and not self._says_nothing(one):
                return None
        aspect = self.speech.names[named[0]] if len(named) == 1 else None
        return aspect if aspect and self.speech.said_of(aspect, word) is not None else None
