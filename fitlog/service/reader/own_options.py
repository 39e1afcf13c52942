"""A joint's own settings and direction words, typed as options that no other joint has."""

from __future__ import annotations

from dataclasses import replace

from ...families.names import family_of
from .cuts import CutTyped


def with_options(typed: CutTyped, joint: str) -> CutTyped:
    """Return a cut with the joint's own settings and direction words that were typed as options
    among the words: `--key-gap 9.4`, `--toward 0.1`.
    """
    family, rest = family_of(joint), list(typed.words)
    ways = [way for setting in family.settings for way in setting.ways]
    words: list[str] = []
    more: dict[str, list[str]] = {"set": [], "move": []}
    while rest:
        word = rest.pop(0)
        name, given, value = word.removeprefix("--").partition("=")
        name = name.replace("-", " ")
        way = next((w for w in ways if f"{w} ".startswith(f"{name} ")), None)
        kind = "move" if way else "set" if name.replace(" ", "_") in family.place else ""
        if not (word.startswith("--") and kind and (given or rest)):
            words.append(word)
            continue
        more[kind].append(f"{way or name}={value if given else rest.pop(0)}")
    return replace(
        typed,
        words=tuple(words),
        set=(*typed.set, *more["set"]),
        move=(*typed.move, *more["move"]),
    )
