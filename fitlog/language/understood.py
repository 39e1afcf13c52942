"""What was typed, word by word: phrases that people usually say become what they mean, in the words
of the grammar.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from .speech import Speech
from .units import UNIT_WORDS
from .usual import ARTICLES, BREAK, BREAKS, DEGREES, FILLERS, VAGUE, Asked, Parts, ends

NUMBER = re.compile(r"[+\u2212-]?[.,]?[0-9]")  # how a number begins


def understood(typed: Sequence[str], speech: Speech) -> Iterator[tuple[int, int, Parts | Asked]]:
    """Yield where each token or phrase begins and ends, and what it means or may mean; the longest
    phrase comes first, and a token alone means itself.
    """
    at = 0
    while at < len(typed):
        end, meaning = _at(typed, at, speech)
        yield at, end, meaning
        at = end


def strange(typed: Sequence[str], speech: Speech) -> list[int]:
    """Return the places of the tokens that mean nothing anywhere."""
    return [
        at
        for at, _, meaning in understood(typed, speech)
        if not isinstance(meaning, Asked)
        and meaning == (typed[at],)
        and not _known(*meaning, speech)
    ]


def _at(typed: Sequence[str], at: int, speech: Speech) -> tuple[int, Parts | Asked]:
    """Return where the longest phrase that begins there ends, and what it means; a token alone
    means itself.
    """
    for parts in speech.usual_by_first.get(typed[at], ()):
        own = len(parts) == 1 and (parts in speech.plain or parts[0] in speech.graded)
        if not own and (end := ends(typed, at, parts)) is not None:
            return end, speech.usual[parts]
    if typed[at] in VAGUE and at + 1 < len(typed):
        end, meaning = _at(typed, at + 1, speech)
        if not isinstance(meaning, Asked) and len(meaning) == 1 and meaning[0] in speech.graded:
            (word,) = meaning
            return end, Asked((f"slightly {word}", word, f"very {word}"))
        if isinstance(meaning, Asked):
            return end, meaning
    return at + 1, (BREAK if typed[at] in BREAKS else typed[at],)


def _known(token: str, speech: Speech) -> bool:
    """Tell whether a token means anything anywhere."""
    return (
        token == BREAK
        or NUMBER.match(token) is not None
        or any(token in t for t in (ARTICLES, FILLERS, DEGREES, UNIT_WORDS, speech.fillers))
        or any(token in t for t in (speech.graded, speech.gaps, speech.sides, speech.places))
        or any(token in t for t in (speech.shared, speech.names))
        or any(token in parts for parts in speech.plain)
    )
