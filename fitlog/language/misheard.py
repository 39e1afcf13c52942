"""What was misheard of a piece: the refusals of `phrases`, each with what can be said instead."""

from __future__ import annotations

import re
from collections.abc import Sequence

from ..domain import Aspect, Fault
from ..domain.family import listed
from ..errors import Choice, NotUnderstood, Refused
from ..texts import AsTyped, tell
from . import closest
from .speech import GAP, Speech
from .understood import NUMBER
from .units import quoted
from .usual import BREAK, BREAKS, DEGREES, Asked

NEGATIONS = ("not", "no", "isnt", "wasnt", "without", "wont", "never", "nothing")


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


def none_of(word: str, aspect: Aspect, speech: Speech) -> NotUnderstood:
    """Return the error for a word that is never said of an aspect."""
    return NotUnderstood(
        "bad-word",
        "{word} is no word for the {aspect}",
        "{advised}",
        word=quoted(word),
        aspect=aspect,
        advised=speech.advice(aspect),
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
    close = () if remedy else closest.close(typed, at, speech)
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


def whose(typed: Sequence[str], at: int, behind: int) -> NotUnderstood:
    """Return the question that a number deserves which the word before it could have as well as the
    one behind it. typed: all tokens, with the number's place and that of what follows it.
    """
    pauses = [place for place, token in enumerate(typed) if token in BREAKS]
    start = max((place + 1 for place in pauses if place < at), default=0)
    end = min((place for place in pauses if place > at), default=len(typed))

    def paused(place: int) -> Choice:
        said = " ".join(typed[start:place]), " ".join(typed[place:end])
        say = f"{said[0]}{BREAK} {said[1]}"
        return Choice(say, "", " ".join((*typed[:place], BREAK, *typed[place:])))

    choices = paused(at), paused(behind)
    error = NotUnderstood(
        "which-meaning",
        "the {number} in {said} could be either word's",
        "say {one} or {other}",
        number=" ".join(typed[at:behind]),
        said=quoted(" ".join(typed[start:end])),
        one=AsTyped(quoted(choices[0].say)),
        other=AsTyped(quoted(choices[1].say)),
    )
    error.choices = choices
    return error


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
    close = () if speech.remedy(word) else closest.close(typed, at, speech)
    example = speech.example_of()
    error = NotUnderstood(
        "unknown-word",
        "the word {word} is not known",
        "{advised}",
        word=quoted(closest.spelled((word,))),
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
    said = closest.spelled(typed[start:end])
    while start and typed[start - 1] in DEGREES:  # the choice has its own
        start -= 1
    choices = tuple(
        closest.choice(typed, start, end, choice, speech.when.get(choice, ""))
        for choice in asked.choices
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


def _did_you_mean(close: Sequence[Choice]) -> str:
    if not close:
        return ""
    return tell("did you mean {names}?", names=listed(tuple(c.say for c in close)))


def _remedy(word: str, speech: Speech) -> str | None:
    """Return what to say instead of a word that is often said."""
    if word in NEGATIONS:
        return tell("say what the joint is; leave out what was not judged")
    return speech.remedy(word)
