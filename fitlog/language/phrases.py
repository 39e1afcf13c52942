"""What was said of a piece, in a maker's words: "slightly loose, gap near 0.25, shy 0.15" becomes a
`Verdict`.

Phrases come in any order; commas are optional, because a phrase ends where the next word begins
one.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from ..domain import TEXT_LIMIT, Aspect, Fault, Said, Verdict
from ..errors import NotUnderstood, Refused, nearest
from ..families.half_blind.names import FAULT_PLACES, judged, say
from .units import UNIT_WORDS, Length, check_range, parse_length, quoted, shown

# The largest sizes that are taken for what they are called, mm: common practice, no source.
PULL_GAP_LIMIT = 6.0
EXTRA_WIDTH_LIMIT = 6.0
STEP_LIMIT = 10.0
FAULT_GAP_LIMIT = 10.0
_KINDS: dict[str, tuple[str, float]] = {
    "fit": ("the pull-apart gap", PULL_GAP_LIMIT),
    "centre": ("the extra width", EXTRA_WIDTH_LIMIT),
    "seat": ("the step", STEP_LIMIT),
    "fault": ("the gap", FAULT_GAP_LIMIT),
}

_SCALES: dict[str, Aspect] = {"tight": "fit", "loose": "fit", "proud": "seat", "shy": "seat"}
_PLAIN: dict[str, tuple[Aspect, str]] = {
    "good": ("fit", "good"),
    "flush": ("seat", "flush"),
    "centred": ("centre", "centred"),
    "centered": ("centre", "centred"),
}
_SIDES = ("far", "near")
_PLACES = FAULT_PLACES[:-1]
_DEGREES = {
    "slightly": "slightly",
    "bit": "slightly",
    "little": "slightly",
    "touch": "slightly",
    "very": "very",
}
# Left out where they stand; none of them can turn one phrase into another.
_FILLERS = frozenset(
    ("a", "it", "is", "it's", "the", "fit", "joint", "at", "of", "by", "on", "side", "edge", "too")
)
_BREAK = ","
VOCABULARY: tuple[str, ...] = (
    *("good", "slightly", "very", "tight", "loose", "centred", "gap", "shaved"),
    *(*_SIDES, "flush", "proud", "shy", *_PLACES),
)
_EXAMPLE = "say it like: slightly loose, gap near 0.25, shy 0.15"
_REMEDIES = {
    **dict.fromkeys(("centre", "center"), "of the centre say centred, gap far or gap near"),
    "seat": "of the seat say flush, proud or shy",
    "fence": "near is the side at the fence: say gap near",
    **dict.fromkeys(
        ("not", "no", "isn't", "without"), "say what the joint is; leave out what was not judged"
    ),
}
_NO_DEGREE = {
    "good": "say good, slightly tight or slightly loose",
    "flush": "say flush, slightly proud or slightly shy",
    "centred": "say centred, or gap far or gap near with the extra width",
    "gap": "let a size tell how large it is, such as gap far 0.25",
    "shaved": "let a size tell how much, such as shaved far 0.25",
}
_SIZED = {"flush": ("proud", "shy"), "centred": ("gap far", "gap near")}
_OPPOSITE = {"proud": "shy", "shy": "proud", "gap far": "gap near", "gap near": "gap far"}
_NUMBER = re.compile(r"[+\u2212-]?[.,]?[0-9]")


def parse_phrases(words: Sequence[str] | str, *, units: str = "mm") -> Verdict:
    """Return what was said; an aspect that is not mentioned stays None, empty input gives an empty
    verdict.

    words: the text, or its words as a shell hands them over.  units: preferred unit of bare
    numbers. Raises `Refused` for what contradicts itself or cannot be, `NotUnderstood` for what
    means nothing here.
    """
    text = words if isinstance(words, str) else " ".join(words)
    if len(text) > TEXT_LIMIT:
        raise NotUnderstood(
            "text-too-long", f"{len(text)} characters are too many for one piece", _EXAMPLE
        )
    return _Listener(_tokens(text), units).verdict()


def _tokens(text: str) -> list[str]:
    """Split into lower-case words; a comma that is no decimal comma, a semicolon or a full stop is
    a break.
    """
    marked = re.sub(r"(?<![0-9]),|,(?![0-9])|;", f" {_BREAK} ", text.lower())
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

    def __init__(self, tokens: list[str], units: str) -> None:
        self.tokens, self.units, self.at = tokens, units, 0
        self.degree: str | None = None
        self.said: dict[Aspect, Said] = {}
        self.faults: dict[str, Fault] = {}

    def verdict(self) -> Verdict:
        """Read everything; faults come out in the order of FAULT_PLACES, however they were said."""
        while self.at < len(self.tokens):
            self.at += 1
            self._hear(self.tokens[self.at - 1])
        self._end_of_phrase()
        if not self.said and not self.faults and any(t != _BREAK for t in self.tokens):
            raise NotUnderstood(
                "nothing-said", f"{quoted(' '.join(self.tokens))} judges nothing", _EXAMPLE
            )
        faults = tuple(self.faults[p] for p in FAULT_PLACES if p in self.faults)
        return judged(self.said.get("fit"), self.said.get("centre"), self.said.get("seat"), faults)

    def _hear(self, word: str) -> None:
        if word == _BREAK:
            self._end_of_phrase()
        elif word in _FILLERS:
            return
        elif word in _DEGREES:
            self._hear_degree(_DEGREES[word])
        elif word in _SCALES:
            self._judge(_SCALES[word], f"{self.degree} {word}" if self.degree else word)
        elif word in _PLAIN:
            aspect, plain = _PLAIN[word]
            self._refuse_degree(plain)
            self._judge(aspect, plain)
        elif word in ("gap", "shaved"):
            self._refuse_degree(word)
            self._hear_gap(word)
        else:
            raise _not_known(word)

    def _end_of_phrase(self) -> None:
        if self.degree:
            hint = f"say {self.degree} tight, loose, proud or shy"
            raise NotUnderstood("dangling-degree", f'"{self.degree}" has no word after it', hint)

    def _hear_degree(self, degree: str) -> None:
        if self.degree not in (None, degree):
            message = f'"{self.degree}" and "{degree}" contradict each other'
            raise NotUnderstood("bad-degree", message, "say only one of them")
        self.degree = degree

    def _refuse_degree(self, word: str) -> None:
        if self.degree:
            raise NotUnderstood(
                "bad-degree", f'"{word}" takes no "{self.degree}"', _NO_DEGREE[word]
            )

    def _judge(self, aspect: Aspect, word: str) -> None:
        """Take a word for an aspect, with the size behind it."""
        self.degree = None
        typed = self._number()
        size = None if typed is None else self._size(aspect, word, typed)
        if aspect in self.said:
            raise _contradiction(self.said[aspect].word, word, aspect)
        self.said[aspect] = say(aspect, word, size)

    def _hear_gap(self, word: str) -> None:
        """Take `gap` or `shaved`, the side or place behind it, and the size behind that."""
        after = self._past_fillers()
        place = self.tokens[after] if after < len(self.tokens) else _BREAK
        if place in _SIDES:
            self.at = after + 1
            self._judge("centre", f"gap {place}")
        elif word == "shaved":
            raise NotUnderstood(
                "no-place", '"shaved" does not say which side', "say shaved far or shaved near"
            )
        elif place in _PLACES:
            self.at = after + 1
            self._add_fault(place)
        elif place == _BREAK or _NUMBER.match(place) or self._begins(after):
            self._add_fault("unplaced")
        else:
            hint = _REMEDIES.get(place, "say gap far, near, baseline, inside or flank")
            raise NotUnderstood("unknown-word", f"{quoted(place)} is no place of a gap", hint)

    def _begins(self, at: int) -> bool:
        """Tell whether the token there begins a phrase of its own (or is an option, refused in its
        turn).
        """
        word = self.tokens[at]
        return word.startswith("-") or any(
            word in t for t in (_DEGREES, _SCALES, _PLAIN, ("gap", "shaved"))
        )

    def _add_fault(self, place: str) -> None:
        typed = self._number()
        size = None if typed is None else self._size("fault", "gap", typed)
        if place in self.faults:
            raise Refused(
                "contradiction",
                f'"{Fault(place)}" was said twice',
                "say it once, with the larger size",
            )
        self.faults[place] = Fault(place, size)

    def _past_fillers(self) -> int:
        at = self.at
        while at < len(self.tokens) and self.tokens[at] in _FILLERS:
            at += 1
        return at

    def _number(self) -> str | None:
        """Take the number that comes next, with the tokens that belong to it: "1 1/16 in"."""
        start = self._past_fillers()
        if start == len(self.tokens) or not _NUMBER.match(self.tokens[start]):
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

    def _size(self, kind: str, word: str, typed: str) -> float:
        """Return the size said with a word, mm; refuse one that the word cannot have."""
        length = parse_length(typed, units=self.units, turn=1.0, what=_KINDS[kind][0])
        return _checked(kind, word, length)


def sized(said: Said, length: Length) -> Said:
    """Return a word with the size that was read for it; raises as `parse_phrases` does for one that
    the word cannot have.
    """
    return Said(said.kind, said.word, _checked(said.aspect, said.word, length))


def _checked(kind: str, word: str, length: Length) -> float:
    """Return the size that goes with a word, mm; refuse one that it cannot have."""
    name, limit = _KINDS[kind]
    if length.unit == "turn":
        message = f"{name} cannot be in turns: {quoted(length.text)}"
        raise NotUnderstood("bad-length", message, "give it in mm or in")
    _refuse_size(word, length.text)
    if length.mm <= 0:
        raise _no_size_at_all(kind, word, length)
    return check_range(length, 0.0, limit, name, f"the {limit:g} mm that is plausible for it")


def _refuse_size(word: str, typed: str) -> None:
    """Refuse a size behind a word that has none."""
    if word in _SIZED:
        hints = " or ".join(f"{sized} {typed.lstrip('+-−')}" for sized in _SIZED[word])
        raise NotUnderstood("no-size", f'"{word}" takes no size', f"say {hints}")
    if word in ("tight", "very tight"):
        message = (
            f"a {word} joint does not come apart by itself, so it has no pull-apart gap of "
            f"{shown(typed)}"
        )
        raise Refused("tight-with-gap", message, f"say {word} without a number")


def _no_size_at_all(kind: str, word: str, length: Length) -> NotUnderstood:
    """Return the error for a size of zero or below."""
    name = _KINDS[kind][0]
    if length.mm < 0:
        base = word if kind == "centre" else word.split()[-1]
        other = f"say {_OPPOSITE[base]}" if base in _OPPOSITE else "write it"
        return NotUnderstood(
            "bad-size", f"{name} of {shown(length.text)} is negative", f"{other} {length.text[1:]}"
        )
    remedy = {"seat": "say flush", "centre": "say centred", "fit": "leave the number out"}
    return NotUnderstood(
        "bad-size", f"{name} cannot be zero", remedy.get(kind, "leave out a gap that is not there")
    )


def _contradiction(old: str, new: str, aspect: Aspect) -> Refused:
    what = f'"{new}" was said twice' if old == new else f'both "{old}" and "{new}" were said'
    return Refused(
        "contradiction",
        f"{what} of the {aspect}",
        "log what holds for this piece, one cut per piece",
    )


def _not_known(word: str) -> NotUnderstood:
    """Return the error for a token that begins no phrase."""
    if _NUMBER.match(word):
        return NotUnderstood(
            "stray-number", f"{quoted(word)} has no word before it", "say the word, then its size"
        )
    if word in _SIDES or word in _PLACES:
        return NotUnderstood(
            "stray-place", f'"{word}" does not say what is there', f"say gap {word}"
        )
    if re.match(r"-+[a-z]", word):
        return NotUnderstood(
            "unknown-option", f"{quoted(word)} is no option of cut", "fitlog cut --help lists them"
        )
    hint = _REMEDIES.get(word) or nearest(word[:40], VOCABULARY)
    hint = _EXAMPLE if hint.startswith("known: ") else hint
    return NotUnderstood("unknown-word", f"the word {quoted(word)} is not known", hint)
