"""A person's own phrases as they are typed: what may be one, and what it may mean."""

from __future__ import annotations

import re
from collections.abc import Iterable

from ...domain.family import listed
from ...errors import FitlogError, NotUnderstood, Refused
from ...language.misheard import NEGATIONS
from ...language.phrases import parse_phrases
from ...language.speech import Speech
from ...language.units import quoted
from ...language.usual import ARTICLES, DEGREES, VAGUE, Asked, parts_of, tokens

LONGEST = 60  # characters
_WORDS = re.compile(r"[^\W\d_]+(?:[ '\u2019-][^\W\d_]+)*")


def own_word(text: str, speech: Speech) -> tuple[str, str]:
    """Return a phrase and what it means, of PHRASE = MEANING. speech: with the phrases that the
    person has already.

    Raises NotUnderstood (bad-phrase, bad-meaning), Refused (known-phrase) for what means something
    else already.
    """
    typed, equals, said = text.partition("=")
    phrase = _plain(typed)
    if not equals:
        raise NotUnderstood(
            "bad-phrase",
            "{typed} does not say what it means",
            'write it like fitlog words add "like butter" = good',
            typed=quoted(text.strip()),
        )
    parts = parts_of(phrase)
    if not _WORDS.fullmatch(phrase) or len(phrase) > LONGEST or not set(parts) - DEGREES.keys():
        raise NotUnderstood(
            "bad-phrase",
            "{phrase} is no phrase: words alone, at most {longest} characters",
            "leave numbers and marks out",
            phrase=quoted(typed.strip()),
            longest=LONGEST,
        )
    meaning = _meaning(said, speech)
    if (known := _known(phrase, speech, meaning)) is not None:
        raise Refused(
            "known-phrase",
            "{phrase} means something already: {known}",
            "take other words; fitlog words lists your own, and remove takes one back",
            phrase=quoted(phrase),
            known=known,
        )
    return phrase, meaning


def own_phrase(text: str, own: Iterable[str]) -> str:
    """Return the phrase that is meant of a person's own; raises Refused (unknown-phrase)."""
    phrase = _plain(text)
    if phrase not in own:
        raise Refused(
            "unknown-phrase",
            "{phrase} is none of your own phrases",
            "fitlog words lists them",
            phrase=quoted(phrase),
        )
    return phrase


def _plain(text: str) -> str:
    return " ".join(t for t in tokens(text) if t not in ARTICLES)


def _meaning(said: str, speech: Speech) -> str:
    """Return what is meant in the family's words, without a size."""
    with_hint = listed(speech.meanings)
    try:
        meaning = str(parse_phrases(said, speech))
    except FitlogError:
        meaning = ""
    if meaning not in speech.meanings:
        raise NotUnderstood(
            "bad-meaning",
            "{said} is not one thing that can be said of a joint",
            "say one of {meanings}",
            said=quoted(said.strip()),
            meanings=with_hint,
        )
    return meaning


def _known(phrase: str, speech: Speech, meaning: str) -> str | None:
    """Return what a phrase means already, None where it may have this meaning: what means nothing,
    and what is asked about and may mean this.
    """
    parts = parts_of(phrase)
    asked = speech.usual.get(parts)
    if isinstance(asked, Asked):
        return None if meaning in asked.choices else listed(asked.choices)
    first, alone = parts[0], parts[0] if len(parts) == 1 else ""
    if first in speech.sides or first in speech.places or first in VAGUE:
        return quoted(first)
    if alone in NEGATIONS or (alone and speech.remedy(alone)):
        return quoted(alone)
    try:
        said = str(parse_phrases(phrase, speech))
    except FitlogError as error:
        return None if error.code == "unknown-word" else error.message
    return said
