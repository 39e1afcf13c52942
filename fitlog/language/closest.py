"""What was probably meant where a word means nothing: phrases that are a slip of the hand away."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..errors import Choice
from .speech import Speech
from .understood import strange
from .usual import ARTICLES, BREAKS, Parts, ends, tokens

_MOST = 3  # as many are suggested


def choice(typed: Sequence[str], start: int, end: int, say: str, when: str = "") -> Choice:
    """Return what may have been meant by the tokens from `start` to `end`."""
    return Choice(say, when, " ".join((*typed[:start], say, *typed[end:])))


def spelled(words: Iterable[str]) -> str:
    """Return words as they are written."""
    return " ".join("won't" if word == "wont" else word for word in words)


def close(typed: Sequence[str], at: int, speech: Speech) -> tuple[Choice, ...]:
    """Return the phrases that a word may belong to but for a slip of the hand, or for one in each
    of two words; those of most words. None where they speak of several aspects, since one of them
    would be a guess.
    """
    found = _closest(typed, at, speech, 1) or _closest(typed, at, speech, 2)
    return _whole(found[0], typed, at, speech) if len(found) == 1 else found


def _closest(typed: Sequence[str], at: int, speech: Speech, slips: int) -> tuple[Choice, ...]:
    found: dict[Parts, Choice] = {}
    unknown = len(strange(typed, speech))
    for parts in speech.phrases:
        for start in range(max(at - 2 * len(parts), 0), at + 1):
            end = ends(typed, start, parts, wrong=slips) if len(parts) >= slips else None
            if end is not None and end > at:
                meant = choice(typed, start, end, _mended(typed[start:end], parts))
                if len(strange(tokens(meant.instead), speech)) < unknown:
                    found[parts] = meant
    most = max(map(len, found), default=0)
    best = [parts for parts in found if len(parts) == most]
    if len({speech.phrases[parts] for parts in best}) > 1:
        return ()
    return tuple(found[parts] for parts in best[:_MOST])


def _whole(meant: Choice, typed: Sequence[str], at: int, speech: Speech) -> tuple[Choice, ...]:
    """Return what is suggested with a slip further on in the same phrase mended as well, where only
    one thing can have been meant by that.
    """
    pauses = _pauses(typed, at)
    mended = tokens(meant.instead)
    left = [place for place in strange(mended, speech) if _pauses(mended, place) == pauses]
    more = _closest(mended, left[0], speech, 1) if len(left) == 1 else ()
    if len(more) != 1:
        return (meant,)
    words = tokens(more[0].instead)
    own = [word for place, word in enumerate(words) if _pauses(words, place) == pauses]
    return (Choice(spelled(word for word in own if word not in BREAKS), "", more[0].instead),)


def _pauses(typed: Sequence[str], at: int) -> int:
    """Return how many pauses come before a place: which phrase it is in."""
    return sum(token in BREAKS for token in typed[:at])


def _mended(typed: Sequence[str], parts: Parts) -> str:
    """Return what was typed with the words of a phrase as they are spelled."""
    own = iter(parts)
    return spelled(t if t in ARTICLES else next(own) for t in typed)
