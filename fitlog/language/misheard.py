"""What was misheard of a piece: the refusals of `phrases`, each with what can be said instead."""

from __future__ import annotations

import re

from ..domain import Aspect, Fault
from ..domain.family import listed
from ..errors import NotUnderstood, Refused, nearest
from ..texts import AsTyped, tell
from .speech import GAP, Speech
from .units import quoted

NUMBER = re.compile(r"[+\u2212-]?[.,]?[0-9]")  # how a number begins
_NEGATIONS = ("not", "no", "isn't", "without")


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


def no_place(word: str, speech: Speech) -> NotUnderstood:
    """Return the error for a word after `gap` that is no place of one."""
    places = listed((*speech.sides, *speech.places))
    return NotUnderstood(
        "unknown-word",
        "{word} is no place of a gap",
        "{advised}",
        word=quoted(word),
        advised=_remedy(word, speech)
        or tell("say {gap} {places}", gap=AsTyped(GAP), places=places),
    )


def gap_twice(fault: Fault) -> Refused:
    """Return the error for one gap that was said twice."""
    return Refused(
        "contradiction",
        '"{fault}" was said twice',
        "say it once, with the larger size",
        fault=str(fault),
    )


def not_known(word: str, speech: Speech) -> NotUnderstood:
    """Return the error for a word that begins no phrase."""
    if NUMBER.match(word):
        return NotUnderstood(
            "stray-number",
            "{digits} has no word before it",
            "say the word, then its size",
            digits=quoted(word),
        )
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
    hint = _remedy(word, speech) or nearest(word[:40], speech.vocabulary, far=False)
    return NotUnderstood(
        "unknown-word",
        "the word {word} is not known",
        "{advised}",
        word=quoted(word),
        advised=hint or speech.example_of(),
    )


def _remedy(word: str, speech: Speech) -> str | None:
    """Return what to say instead of a word that is often said."""
    if word in _NEGATIONS:
        return tell("say what the joint is; leave out what was not judged")
    return speech.remedy(word)
