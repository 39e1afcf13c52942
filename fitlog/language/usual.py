"""Phrases beside the grammar: what people usually say, each with the words that it means or with
those that it may mean, which is asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from .inches import spelled

Parts = tuple[str, ...]
BREAK = ","
BREAKS = (BREAK, "and", "but")
DEGREES = {
    **dict.fromkeys(
        (
            *("slightly", "slight", "bit", "little", "touch", "hair", "tad", "shade", "whisker"),
            *("fraction", "smidge", "smidgen", "tiny", "wee", "mite"),
        ),
        "slightly",
    ),
    **dict.fromkeys(("very", "really", "extremely", "awfully", "super"), "very"),
}
# Degrees that one person says of a little and another of much.
VAGUE = frozenset(("quite", "fairly", "rather", "pretty", "somewhat", "reasonably"))
# Left out where they stand; none of them can turn one phrase into another.
FILLERS = frozenset(
    (
        *("joint", "at", "of", "by", "on", "side", "edge", "too", "to", "fits", "feels", "looks"),
        *("seems", "about", "around", "roughly", "approximately", "approx", "ca", "just", "still"),
        *("now", "i", "think", "so", "tails"),
    )
)
# Left out of a phrase and of what is compared with it.
ARTICLES = frozenset(("a", "an", "the", "it", "its", "is", "was", "are", "were", "theres"))
# A refusal to go together, however it is put.
_WONT = r"(?:will|would|does|did|do|can|could)\s?not|(?:wo|ca|does|did|do|would|could)n?t"
_LENGTHS = r"(?:mm|millimet(?:re|er)|inch|in|thou)\b"
# Much of something, so put that its first word could be a side.
_MUCH = r"(^|[,;.]|\b(?:is|its|the|joint|fit|but|and|just))\s*(?:much|way|far)\s+too\b"


@dataclass(frozen=True, slots=True)
class Asked:
    """What a phrase may mean, each as it is typed."""

    choices: tuple[str, ...]


Usual = Mapping[Parts, "Parts | Asked"]


def tokens(text: str) -> list[str]:
    """Split into lower-case words; a comma that is no decimal comma, a semicolon or a full stop is
    a break.
    """
    plain = re.sub(r"(?<=[a-z])['\u2019](?=[a-z])", "", spelled(text.lower()))
    marked = re.sub(_MUCH, r"\1 very ", plain)
    marked = re.sub(r"(?<![0-9]),|,(?![0-9])|;", f" {BREAK} ", marked)
    marked = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", marked)  # slightly-tight
    marked = re.sub(r"(?<!\S)much\s+too(?!\S)", "very", marked)
    marked = re.sub(rf"(?<!\S)(?:{_WONT})(?!\S)", "wont", marked)
    marked = re.sub(r"(?<!\S)(?:(?:sort|kind)\s+of|sorta|kinda)(?!\S)", "somewhat", marked)
    marked = re.sub(rf"(?<!\S)half\s+(?:an?\s+)?(?={_LENGTHS})", "0.5 ", marked)
    marked = re.sub(r"(?<!\S)a\s+thou(?!\S)", "1 thou", marked)
    marked = re.sub(r"(?<!\S)[~\u2248](?=[0-9.])", "", marked)
    found: list[str] = []
    for raw in marked.split():
        word = raw.rstrip(":.!")
        found += [word] if word else []
        found += [BREAK] if raw.rstrip(":") != word else []
    return found


def parts_of(phrase: str) -> Parts:
    """Return what a phrase is compared by."""
    return tuple(t for t in tokens(phrase) if t not in ARTICLES)


def usual(meant: Mapping[str, str], asked: Mapping[str, str] = MappingProxyType({})) -> Usual:
    """Return the table of phrases. meant: phrases by what they mean; asked: by what they may mean,
    with " / " between the choices.

    Phrases have ";" between them and are written as `tokens` are.
    """
    found: dict[Parts, Parts | Asked] = {}
    for meaning, phrases in meant.items():
        found |= dict.fromkeys(_listed(phrases), tuple(meaning.split()))
    for choices, phrases in asked.items():
        found |= dict.fromkeys(_listed(phrases), Asked(tuple(choices.split(" / "))))
    return found


def _listed(phrases: str) -> Iterator[Parts]:
    for phrase in phrases.split(";"):
        yield tuple(word for word in phrase.split() if word not in ARTICLES)


def ends(said: Sequence[str], at: int, phrase: Parts, wrong: int = 0) -> int | None:
    """Return where a phrase ends that begins there, None where none does. wrong: how many of its
    words may have a slip of the hand.
    """
    for i, part in enumerate(phrase):
        while i and at < len(said) and said[at] in ARTICLES and part not in ARTICLES:
            at += 1
        if at >= len(said):
            return None
        if said[at] != part:
            wrong -= 1
            if wrong < 0 or not slipped(said[at], part, 3 if len(phrase) == 1 else 2):
                return None
        at += 1
    return at


@lru_cache(maxsize=4096)
def slipped(typed: str, meant: str, least: int) -> bool:
    """Tell whether one letter dropped, put in, changed or swapped with the next makes one of the
    other, of a short word or at its beginning not changed. least: letters that the longer has.
    """
    if typed == meant or abs(len(typed) - len(meant)) > 1 or max(len(typed), len(meant)) < least:
        return False
    same = next(
        (i for i, (a, b) in enumerate(zip(typed, meant, strict=False)) if a != b),
        min(len(typed), len(meant)),
    )
    one, other = typed[same:], meant[same:]
    swapped = one[:2] == other[1::-1] and len(one) > 1 and one[2:] == other[2:]
    changed = same > 0 and len(meant) > 4 and one[1:] == other[1:]
    return swapped or changed or one[1:] == other or one == other[1:]


def longest(table: Iterable[Parts]) -> dict[str, list[Parts]]:
    """Return phrases by their first word, the longest first."""
    found: dict[str, list[Parts]] = {}
    for parts in sorted((p for p in table if p), key=len, reverse=True):
        found.setdefault(parts[0], []).append(parts)
    return found
