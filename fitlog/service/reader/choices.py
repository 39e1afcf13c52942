"""Choices as they were typed: words of an option, aspects, scales."""

from __future__ import annotations

from collections.abc import Sequence

from ...domain import ADJUSTED, Aspect
from ...errors import NotUnderstood, nearest
from ...families.half_blind.names import ASPECTS


def one_of(word: str, known: Sequence[str], option: str) -> str:
    """Return an option's word in lower case; raise NotUnderstood for one it does not know."""
    if word.lower() in known:
        return word.lower()
    raise NotUnderstood("bad-choice", f"{option} cannot be {word!r}", nearest(word, tuple(known)))


def aspects_of(text: str | None) -> tuple[Aspect, ...]:
    """Return the aspects that --only names, all of them without it; raises NotUnderstood."""
    if text is None:
        return ASPECTS
    words = [w for w in text.replace(",", " ").lower().replace("center", "centre").split() if w]
    for word in words:
        one_of(word, ASPECTS, "--only")
    if not words:
        raise NotUnderstood("bad-choice", "--only names no aspect", "name some of fit,centre,seat")
    return tuple(a for a in ASPECTS if a in words)


def scales_of(text: str | None) -> tuple[str, ...] | None:
    """Return the scales that --between names, none for "none"; None when it was not given. Raises
    NotUnderstood.
    """
    if text is None or text.strip().lower() == "none":
        return None if text is None else ()
    words = [one_of(word, ADJUSTED, "--between") for word in text.replace(",", " ").split()]
    if not words:
        raise NotUnderstood(
            "bad-choice", "--between names no scale", f"name some of {','.join(ADJUSTED)}, or none"
        )
    return tuple(part for part in ADJUSTED if part in words)
