"""What was said of a piece, in a maker's words: "slightly loose, gap near 0.25, shy 0.15" becomes a
`Verdict`.

Phrases come in any order; commas are optional, because a phrase ends where the next word begins
one.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from ..domain import TEXT_LIMIT, Aspect, AspectKind, Fault, Said, Verdict
from . import misheard
from .inches import spelled
from .sizes import believed, checked, none_at_all, refuse_turns
from .speech import GAP, Speech
from .units import UNIT_WORDS, Length, parse_length

# The largest gap that is taken for one, mm: common practice, no source.
FAULT_GAP_LIMIT = 10.0
_DEGREES = {
    "slightly": "slightly",
    "bit": "slightly",
    "little": "slightly",
    "touch": "slightly",
    "very": "very",
}
# Left out where they stand; none of them can turn one phrase into another.
_FILLERS = frozenset(
    ("a", "it", "is", "it's", "the", "joint", "at", "of", "by", "on", "side", "edge", "too")
)
_BREAK = ","


def parse_phrases(words: Sequence[str] | str, speech: Speech, *, units: str = "mm") -> Verdict:
    """Return what was said; an aspect that is not mentioned stays None, empty input gives an empty
    verdict.

    words: the text, or its words as a shell hands them over.  speech: how people speak of the
    joint. units: preferred unit of bare numbers. Raises `Refused` for what contradicts itself or
    cannot be, `NotUnderstood` for what means nothing here.
    """
    text = words if isinstance(words, str) else " ".join(words)
    if len(text) > TEXT_LIMIT:
        raise misheard.too_long(len(text), speech)
    return _Listener(_tokens(text), speech, units).verdict()


def _tokens(text: str) -> list[str]:
    """Split into lower-case words; a comma that is no decimal comma, a semicolon or a full stop is
    a break.
    """
    marked = re.sub(r"(?<![0-9]),|,(?![0-9])|;", f" {_BREAK} ", spelled(text.lower()))
    marked = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", marked)  # slightly-tight
    marked = re.sub(r"(?<!\S)much\s+too(?!\S)", "very", marked)
    tokens: list[str] = []
    for raw in marked.split():
        word = raw.rstrip(":.!")
        tokens += [word] if word else []
        tokens += [_BREAK] if raw.rstrip(":") != word else []
    return [_BREAK if t in ("and", "but") else t for t in tokens]


class _Listener:
    """Reads tokens from left to right. `degree` is one heard and still waiting for its word."""

    def __init__(self, tokens: list[str], speech: Speech, units: str) -> None:
        self.tokens, self.speech, self.units, self.at = tokens, speech, units, 0
        self.degree: str | None = None
        self.said: dict[Aspect, Said] = {}
        self.faults: dict[str, Fault] = {}

    def verdict(self) -> Verdict:
        """Read everything; faults come out in the family's order, however they were said."""
        while self.at < len(self.tokens):
            self.at += 1
            self._hear(self.tokens[self.at - 1])
        self._end_of_phrase()
        if not self.said and not self.faults and any(t != _BREAK for t in self.tokens):
            raise misheard.nothing_said(" ".join(self.tokens), self.speech)
        places = self.speech.family.faults
        faults = tuple(self.faults[p] for p in places if p in self.faults)
        return Verdict(tuple(self.said.values()), faults)

    def _hear(self, word: str) -> None:
        graded = self.speech.graded
        if word == _BREAK:
            self._end_of_phrase()
        elif self._is_filler(word):
            return
        elif word in _DEGREES:
            self._hear_degree(_DEGREES[word])
        elif word in graded:
            self._judge(graded[word], f"{self.degree} {word}" if self.degree else word)
        elif (plain := self._plain(self.at - 1)) is not None:
            aspect, said, parts = plain
            self._refuse_degree(said)
            self.at += parts - 1
            self._judge(aspect, said)
        elif word in self.speech.gaps:
            self._refuse_degree(word)
            self._hear_gap(word)
        else:
            raise misheard.not_known(word, self.speech)

    def _is_filler(self, word: str) -> bool:
        return word in _FILLERS or word in self.speech.fillers

    def _plain(self, at: int) -> tuple[Aspect, str, int] | None:
        """Return the word without degrees that begins there, with its aspect and its length."""
        for parts, (aspect, word) in self.speech.plain.items():
            if tuple(self.tokens[at : at + len(parts)]) == parts:
                return aspect, word, len(parts)
        return None

    def _end_of_phrase(self) -> None:
        if self.degree:
            raise misheard.dangling(self.degree, self.speech)

    def _hear_degree(self, degree: str) -> None:
        if self.degree not in (None, degree):
            raise misheard.two_degrees(self.degree, degree)
        self.degree = degree

    def _refuse_degree(self, word: str) -> None:
        if self.degree:
            raise misheard.no_degree(word, self.degree, self.speech)

    def _judge(self, aspect: Aspect, word: str) -> None:
        """Take a word for an aspect, with the size behind it."""
        self.degree = None
        kind, typed = self.speech.family.kind(aspect), self._number()
        size = (
            None if typed is None else checked(kind, word, self._length(kind, typed), self.speech)
        )
        if aspect in self.said:
            raise misheard.contradiction(self.said[aspect].word, word, aspect)
        self.said[aspect] = Said(kind, word, size)

    def _hear_gap(self, word: str) -> None:
        """Take the beginning of a gap, the side or place behind it, and the size behind that."""
        after, sides, places = self._past_fillers(), self.speech.sides, self.speech.places
        place = self.tokens[after] if after < len(self.tokens) else _BREAK
        if place in sides:
            self.at = after + 1
            self._judge(sides[place], f"{GAP} {place}")
        elif word != GAP:
            raise misheard.no_side(word, self.speech)
        elif place in places:
            self.at = after + 1
            self._add_fault(place)
        elif place == _BREAK or misheard.NUMBER.match(place) or self._begins(after):
            self._add_fault(self.speech.family.faults[-1])
        else:
            raise misheard.no_place(place, self.speech)

    def _begins(self, at: int) -> bool:
        """Tell whether the token there begins a phrase of its own (or is an option, refused in its
        turn).
        """
        word = self.tokens[at]
        known = (_DEGREES, self.speech.graded, self.speech.gaps)
        return word.startswith("-") or any(word in t for t in known) or self._plain(at) is not None

    def _add_fault(self, place: str) -> None:
        typed = self._number()
        size = None if typed is None else self._gap(typed)
        if place in self.faults:
            raise misheard.gap_twice(Fault(place))
        self.faults[place] = Fault(place, size)

    def _past_fillers(self) -> int:
        at = self.at
        while at < len(self.tokens) and self._is_filler(self.tokens[at]):
            at += 1
        return at

    def _number(self) -> str | None:
        """Take the number that comes next, with the tokens that belong to it: "1 1/16 in"."""
        start = self._past_fillers()
        if start == len(self.tokens) or not misheard.NUMBER.match(self.tokens[start]):
            return None
        end = start + 1
        following = self.tokens[end] if end < len(self.tokens) else ""
        if re.fullmatch(r"[+\u2212-]?[0-9]+", self.tokens[start]) and re.match(
            r"[0-9]+/[0-9]", following
        ):
            end += 1
        if (
            self.tokens[end - 1][-1].isdigit()
            and end < len(self.tokens)
            and self.tokens[end] in UNIT_WORDS
        ):
            end += 1
        self.at = end
        return " ".join(self.tokens[start:end])

    def _length(self, kind: AspectKind, typed: str) -> Length:
        """Return the length said with a word."""
        return parse_length(
            typed, units=self.units, turn=1.0, what=self.speech.number(kind.name)[0]
        )

    def _gap(self, typed: str) -> float:
        """Return the size of a gap, mm; refuse one that it cannot have."""
        name = "the gap"
        length = parse_length(typed, units=self.units, turn=1.0, what=name)
        refuse_turns(name, length)
        if length.mm <= 0:
            raise none_at_all(name, length, "leave out a gap that is not there")
        return believed(length, name, FAULT_GAP_LIMIT)
