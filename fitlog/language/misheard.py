"""What was misheard of a piece: the refusals of `phrases`, each with what can be said instead."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from ..domain import Aspect, Fault
from ..domain.family import listed
from ..errors import Choice, NotUnderstood, Refused
from ..texts import AsTyped, tell
from .speech import GAP, Speech
from .understood import NUMBER, strange
from .units import quoted
from .usual import ARTICLES, DEGREES, Asked, Parts, ends, tokens

NEGATIONS = ("not", "no", "isnt", "wasnt", "without", "wont", "never", "nothing")
_MOST_CLOSE = 3  # as many are suggested


def too_long(count: int, speech: Speech) -> NotUnderstood:
    """Return the error for more characters than anybody says of a piece."""
    return NotUnderstood(
        "text-too-long",
        "{count} characters are too many for one piece",
        "{advised}",
        count=count,
        advised=speech.example_of(),
    )


def nothing_said(heard: str, speech: Speech) -> NotUnderstood:
    """Return the error for words of which none judges."""
    return NotUnderstood(
        "nothing-said",
        "{heard} judges nothing",
        "{advised}",
        heard=quoted(heard),
        advised=speech.example_of(),
    )


def dangling(degree: str, speech: Speech) -> NotUnderstood:
    """Return the error for a degree that nothing follows."""
    return NotUnderstood(
        "dangling-degree",
        '"{degree}" has no word after it',
        "say {degree} {words}",
        degree=degree,
        words=listed(tuple(speech.graded)),
    )


def two_degrees(one: str, other: str) -> NotUnderstood:
    """Return the error for two degrees of one word."""
    return NotUnderstood(
        "bad-degree",
        '"{one}" and "{other}" contradict each other',
        "say only one of them",
        one=one,
        other=other,
    )


def no_degree(word: str, degree: str, speech: Speech) -> NotUnderstood:
    """Return the error for a degree before a word that takes none."""
    return NotUnderstood(
        "bad-degree",
        '"{word}" takes no "{degree}"',
        "{advised}",
        word=word,
        degree=degree,
        advised=_without_degree(word, speech),
    )


def _without_degree(word: str, speech: Speech) -> str:
    """Return what to say where a word takes no degree."""
    if word in speech.gaps:
        where = next(iter((*speech.sides, *speech.places)), "")
        return tell(
            "let a size tell how large it is, such as {word} {where} 0.25"
            if word == GAP
            else "let a size tell how much, such as {word} {where} 0.25",
            word=AsTyped(word),
            where=where,
        )
    kind = next(k for k in speech.family.kinds if word in k.words)
    offs = speech.offs(kind)
    if word == kind.settling and all(off in speech.graded for off in offs):
        slight = (f"slightly {off}" for off in offs)
        return tell("say {answers}", answers=listed((word, *slight)))
    if word == kind.settling and kind.places_gap:
        number = speech.number(kind.name)[0]
        said = "say {word}, or {offs} with {number}"
        return tell(said, word=word, offs=listed(tuple(offs)), number=number)
    return tell("say {answers}", answers=speech.answers(kind.name))


def contradiction(old: str, new: str, aspect: Aspect) -> Refused:
    """Return the error for two words of one aspect."""
    return Refused(
        "contradiction",
        '"{new}" was said twice of the {aspect}'
        if old == new
        else 'both "{old}" and "{new}" were said of the {aspect}',
        "log what holds for this piece, one cut per piece",
        old=old,
        new=new,
        aspect=aspect,
    )


def no_side(word: str, speech: Speech) -> NotUnderstood:
    """Return the error for a word of a side without one."""
    return NotUnderstood(
        "no-place",
        '"{word}" does not say which side',
        "say {answers}",
        word=word,
        answers=listed(tuple(f"{word} {side}" for side in speech.sides)),
    )


def no_place(word: str, speech: Speech, typed: Sequence[str], at: int) -> NotUnderstood:
    """Return the error for a word after `gap` that is no place of one. typed: all tokens, with
    that word's place.
    """
    places = listed((*speech.sides, *speech.places))
    remedy = _remedy(word, speech)
    close = () if remedy else _close(typed, at, speech)
    hint = remedy or _did_you_mean(close)
    error = NotUnderstood(
        "unknown-word",
        "{word} is no place of a gap",
        "{advised}",
        word=quoted(word),
        advised=hint or tell("say {gap} {places}", gap=AsTyped(GAP), places=places),
    )
    error.choices = close
    return error


def gap_twice(fault: Fault) -> Refused:
    """Return the error for one gap that was said twice."""
    return Refused(
        "contradiction",
        '"{fault}" was said twice',
        "say it once, with the larger size",
        fault=str(fault),
    )


def stray_number(digits: str) -> NotUnderstood:
    """Return the error for a number that belongs to no word."""
    return NotUnderstood(
        "stray-number",
        "{digits} has no word before it",
        "say the word, then its size",
        digits=quoted(digits),
    )


def not_known(word: str, speech: Speech, typed: Sequence[str], at: int) -> NotUnderstood:
    """Return the error for a word that begins no phrase. typed: all tokens, with its place."""
    if NUMBER.match(word):
        return stray_number(word)
    if word in speech.sides or word in speech.places:
        return NotUnderstood(
            "stray-place",
            '"{word}" does not say what is there',
            "say {gap} {word}",
            word=word,
            gap=AsTyped(GAP),
        )
    if re.match(r"-+[a-z]", word):
        return NotUnderstood(
            "unknown-option",
            "{word} is no option of cut",
            "fitlog cut --help lists them",
            word=quoted(word),
        )
    close = () if speech.remedy(word) else _close(typed, at, speech)
    example = speech.example_of()
    error = NotUnderstood(
        "unknown-word",
        "the word {word} is not known",
        "{advised}",
        word=quoted(_spelled((word,))),
        advised=_did_you_mean(close)
        or _remedy(word, speech)
        or tell("{example}; fitlog words add gives it a meaning", example=example),
    )
    error.choices = close
    return error


def which(
    typed: Sequence[str], start: int, end: int, asked: Asked, speech: Speech
) -> NotUnderstood:
    """Return the question that a phrase deserves which may mean several things."""
    said = _spelled(typed[start:end])
    while start and typed[start - 1] in DEGREES:  # the choice has its own
        start -= 1
    choices = tuple(
        _choice(typed, start, end, choice, speech.when.get(choice, "")) for choice in asked.choices
    )
    told = (AsTyped(f"{c.say} ({tell(c.when)})" if c.when else c.say) for c in choices)
    error = NotUnderstood(
        "which-meaning",
        "{said} could be {choices}",
        "say {told}",
        said=quoted(said),
        choices=listed(asked.choices),
        told=AsTyped(tell(" or ").join(told)),
    )
    error.choices = choices
    return error


def _choice(typed: Sequence[str], start: int, end: int, say: str, when: str = "") -> Choice:
    return Choice(say, when, " ".join((*typed[:start], say, *typed[end:])))


def _close(typed: Sequence[str], at: int, speech: Speech) -> tuple[Choice, ...]:
    """Return the phrases that a word may belong to but for one slip of the hand, those of most
    words; none where they speak of several aspects, since one of them would be a guess.
    """
    found: dict[Parts, Choice] = {}
    unknown = len(strange(typed, speech))
    for parts in speech.phrases:
        for start in range(max(at - 2 * len(parts), 0), at + 1):
            end = ends(typed, start, parts, wrong=1)
            if end is not None and end > at:
                choice = _choice(typed, start, end, _mended(typed[start:end], parts))
                if len(strange(tokens(choice.instead), speech)) < unknown:
                    found[parts] = choice
    most = max(map(len, found), default=0)
    best = [parts for parts in found if len(parts) == most]
    if len({speech.phrases[parts] for parts in best}) > 1:
        return ()
    return tuple(found[parts] for parts in best[:_MOST_CLOSE])


def _mended(typed: Sequence[str], parts: Parts) -> str:
    """Return what was typed with the words of a phrase as they are spelled."""
    own = iter(parts)
    return _spelled(t if t in ARTICLES else next(own) for t in typed)


def _spelled(words: Iterable[str]) -> str:
    return " ".join("won't" if word == "wont" else word for word in words)


def _did_you_mean(close: Sequence[Choice]) -> str:
    if not close:
        return ""
    return tell("did you mean {names}?", names=listed(tuple(c.say for c in close)))


def _remedy(word: str, speech: Speech) -> str | None:
    """Return what to say instead of a word that is often said."""
    if word in NEGATIONS:
        return tell("say what the joint is; leave out what was not judged")
    return speech.remedy(word)
