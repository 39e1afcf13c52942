"""Faults of a lock mitre in English: their sentences are rows of the symptoms' own table."""

from __future__ import annotations

from ....language.saying import Sentence, Tongue
from ....texts import tell


def cause(
    t: Tongue, *, symptom: str, cause: str, part: str, figures: tuple[tuple[str, float], ...]
) -> str:
    """A cause, its test or its cure, by the table of the symptoms. part: "text", "test" or
    "cure".
    """
    # A table of many sentences: imported by the one command that says them.
    from ..symptoms import CAUSES

    sizes = dict(figures)
    sizes["half"] = sizes["d"] / 2
    return tell(getattr(CAUSES[cause], part), **{name: t.length(mm) for name, mm in sizes.items()})


def size_of(_: Tongue, *, piece: int) -> str:
    """What the size of a symptom is from."""
    return f"piece {piece}"


SENTENCES: dict[str, Sentence] = {"symptom-cause": cause, "size-of-piece": size_of}
