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
from .sizes import believed, checked, none_at_all, refuse_turns
from .speech import GAP, Speech
from .understood import NUMBER, strange, understood
from .units import UNIT_WORDS, Length, parse_length
from .usual import ARTICLES, BREAK, BREAKS, DEGREES, FILLERS, Asked, tokens
from .whose import ascribed

# The largest gap that is taken for one, mm: common practice, no source.
FAULT_GAP_LIMIT = 10.0


def parse_phrases(
    words: Sequence[str] | str, speech: Speech, *, units: str = "mm", now: Sequence[Aspect] = ()
) -> Verdict:
    """Return what was said; an aspect that is not mentioned stays None, empty input gives an empty
    verdict.

    words: the text, or its words as a shell hands them over.  speech: how people speak of the
    joint. units: preferred unit of bare numbers. now: the aspects that are tuned now: of one of
    them is a word said that several share, where no name leads it. Raises `Refused` for what
    contradicts itself or cannot be, `NotUnderstood` for what means nothing here.
    """
    text = words if isinstance(words, str) else " ".join(words)
    if len(text) > TEXT_LIMIT:
        raise misheard.too_long(len(text), speech)
    return _Listener(tokens(text), speech, units, now).verdict()


def _put(typed: list[str], speech: Speech, now: Sequence[Aspect]) -> tuple[list[str], list[int]]:
    """Return what was typed in the words of the grammar, and the place of each among the tokens.

    Raises `NotUnderstood` for a phrase that may mean several things ("which-meaning"), unless a
    word beside it means nothing: then for that, since it may belong to the phrase.
    """
    found: list[tuple[str, int]] = []
    for start, end, meaning in understood(typed, speech):
        if isinstance(meaning, Asked):
            for at in strange(typed, speech):
                raise misheard.not_known(typed[at], speech, typed, at)
            raise misheard.which(typed, start, end, meaning, speech)
        found += ((word, start) for word in meaning)
    found = ascribed(found, typed, speech, now)
    return [word for word, _ in found], [at for _, at in found]


class _Listener:
    """Reads tokens from left to right. `degree` is one heard and still waiting for its word, so is
    `number`; `typed`: the tokens as typed, `origin` the place in them of each one read.
    """

    def __init__(self, typed: list[str], speech: Speech, units: str, now: Sequence[Aspect]) -> None:
        self.typed, self.speech, self.units, self.at = typed, speech, units, 0
        self.tokens, self.origin = _put(typed, speech, now)
        self.degree: str | None = None
        self.number: str | None = None
        self.said: dict[Aspect, Said] = {}
        self.faults: dict[str, Fault] = {}

    def verdict(self) -> Verdict:
        """Read everything; faults come out in the family's order, however they were said."""
        while self.at < len(self.tokens):
            self.at += 1
            self._hear(self.tokens[self.at - 1])
        self._end_of_phrase()
        if not self.said and not self.faults and not set(self.typed) <= set(BREAKS):
            raise misheard.nothing_said(" ".join(self.typed), self.speech)
        places = self.speech.family.faults
        faults = tuple(self.faults[p] for p in places if p in self.faults)
        return Verdict(tuple(self.said.values()), faults)

    def _hear(self, word: str) -> None:
        graded = self.speech.graded
        if word == BREAK:
            self._end_of_phrase()
        elif self._is_filler(word):
            return
        elif word in DEGREES:
            self._hear_degree(DEGREES[word])
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
        elif NUMBER.match(word) and self.number is None:
            self.at -= 1
            self.number = self._number()
        else:
            raise misheard.not_known(word, self.speech, self.typed, self.origin[self.at - 1])

    def _is_filler(self, word: str) -> bool:
        return word in ARTICLES or word in FILLERS or word in self.speech.fillers

    def _plain(self, at: int) -> tuple[Aspect, str, int] | None:
        """Return the word without degrees that begins there, with its aspect and its length."""
        for parts, (aspect, word) in self.speech.plain.items():
            if tuple(self.tokens[at : at + len(parts)]) == parts:
                return aspect, word, len(parts)
        return None

    def _end_of_phrase(self) -> None:
        if self.degree:
            raise misheard.dangling(self.degree, self.speech)
        if self.number is not None:
            raise misheard.stray_number(self.number)

    def _hear_degree(self, degree: str) -> None:
        """Take a degree, for the word before it where that is the last of its phrase."""
        if self._behind(degree):
            return
        if self.degree not in (None, degree):
            raise misheard.two_degrees(self.degree, degree)
        self.degree = degree

    def _behind(self, degree: str) -> bool:
        """Tell whether a degree ends a phrase such as "proud by a hair"; its word then has it."""
        last, before = self._past_fillers(), self.at - 2
        while before >= 0 and self._is_filler(self.tokens[before]):
            before -= 1
        word, aspect = self.tokens[before] if before >= 0 else "", None
        if (last == len(self.tokens) or self.tokens[last] == BREAK) and self.degree is None:
            aspect = self.speech.graded.get(word)
        if aspect is None or aspect not in self.said or self.said[aspect].word != word:
            return False
        self.said[aspect] = Said(self.speech.family.kind(aspect), f"{degree} {word}")
        return True

    def _refuse_degree(self, word: str) -> None:
        if self.degree:
            raise misheard.no_degree(word, self.degree, self.speech)

    def _judge(self, aspect: Aspect, word: str) -> None:
        """Take a word for an aspect, with the size behind it."""
        self.degree = None
        kind = self.speech.family.kind(aspect)
        own = word not in kind.unread
        typed = self._size(own, unsure=own and aspect == self.speech.family.lead)
        size = (
            None if typed is None else checked(kind, word, self._length(kind, typed), self.speech)
        )
        if aspect in self.said:
            raise misheard.contradiction(self.said[aspect].word, word, aspect)
        self.said[aspect] = Said(kind, word, size)

    def _hear_gap(self, word: str) -> None:
        """Take the beginning of a gap, the side or place behind it, and the size behind that."""
        after, sides, places = self._past_fillers(), self.speech.sides, self.speech.places
        place = self.tokens[after] if after < len(self.tokens) else BREAK
        if place in sides:
            self.at = after + 1
            self._judge(sides[place], f"{GAP} {place}")
        elif word != GAP:
            raise misheard.no_side(word, self.speech)
        elif place in places:
            self.at = after + 1
            self._add_fault(place)
        elif vague := {"side", "edge"}.intersection(self.tokens[self.at : after]):
            raise misheard.no_place(min(vague), self.speech, self.typed, self.origin[after - 1])
        elif place == BREAK or NUMBER.match(place) or self._begins(after):
            self._add_fault(self.speech.family.faults[-1])
        else:
            raise misheard.no_place(place, self.speech, self.typed, self.origin[after])

    def _begins(self, at: int) -> bool:
        """Tell whether the token there begins a phrase of its own (or is an option, refused in its
        turn).
        """
        word = self.tokens[at]
        known = (DEGREES, self.speech.graded, self.speech.gaps)
        return word.startswith("-") or any(word in t for t in known) or self._plain(at) is not None

    def _add_fault(self, place: str) -> None:
        typed = self._size(True)
        size = None if typed is None else self._gap(typed)
        if place in self.faults:
            raise misheard.gap_twice(Fault(place))
        self.faults[place] = Fault(place, size)

    def _past_fillers(self, at: int | None = None) -> int:
        at = self.at if at is None else at
        while at < len(self.tokens) and self._is_filler(self.tokens[at]):
            at += 1
        return at

    def _size(self, own: bool, *, unsure: bool = False) -> str | None:
        """Take the number behind a word, else the one before it; raise for both, and ask where it
        could as well be that of the word after it ("good 0.3 proud"). own: this word takes one;
        unsure: it is mostly said without, as the lead's are; of the others the number is theirs.
        """
        start, before, behind = self.at, self.number, self._number()
        if behind is not None and own and self._lacks_number() and (unsure or before is not None):
            if before is None:
                first, end = self.at - len(behind.split()), self.at
                raise misheard.whose(self.typed, self.origin[first], self.origin[end])
            self.at, behind = start, None  # as in "0.1 good 0.3 proud"
        if before is not None and behind is not None:
            raise misheard.stray_number(before)
        self.number = None
        return before if behind is None else behind

    def _lacks_number(self) -> bool:
        """Tell whether a word comes next that takes a number and has none behind it."""
        at, degree = self._past_fillers(), ""
        while at < len(self.tokens) and self.tokens[at] in DEGREES:
            at, degree = self._past_fillers(at + 1), f"{DEGREES[self.tokens[at]]} "
        word = self.tokens[at] if at < len(self.tokens) else BREAK
        plain, kind, end = self._plain(at), None, at + 1
        if word in self.speech.graded:
            kind, word = self.speech.graded[word], f"{degree}{word}"
        elif plain is not None:
            (kind, word), end = plain[:2], at + plain[2]
        elif word not in self.speech.gaps:
            return False
        elif (side := self._past_fillers(end)) < len(self.tokens):
            places = (*self.speech.sides, *self.speech.places)
            end = side + 1 if self.tokens[side] in places else end
        if kind is not None and word in self.speech.family.kind(kind).unread:
            return False
        end = self._past_fillers(end)
        return end == len(self.tokens) or not NUMBER.match(self.tokens[end])

    def _number(self) -> str | None:
        """Take the number that comes next, with the tokens that belong to it: "1 1/16 in"."""
        start = self._past_fillers()
        if start == len(self.tokens) or not NUMBER.match(self.tokens[start]):
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
