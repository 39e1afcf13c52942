"""What boards somebody wants to cut, as they say it: "front 2, back 2, side 4", "2 drawers", "top
pin, bottom pin, 2 sides".
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ....errors import NotUnderstood, Refused
from ....language.units import quoted
from ....texts import AsTyped
from .corners import Boards

MOST_BOXES = 50
_LONGEST = 200  # characters
_CLOSE = 0.7  # of a word's letters that a slip leaves in place
_EXAMPLE = 'say it like --boards "front 2, back 2, side 4"'
_ON_PAGE = "say it like: front 2, back 2, side 4"
_ROLES = {"front": "pin", "back": "pin", "rear": "pin", "side": "tail"}
_IDLE = {"the", "of", "drawer", "box", "board", "for", "each", "piece", "my", "end"}
_NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_COUNTS = {
    **{word: n for n, word in enumerate(_NUMBERS, 1)},
    **dict.fromkeys(("a", "an"), 1),
    "twelve": 12,
}
_HANDS = ("left", "right")


class _Item(NamedTuple):
    """One kind of board: its name, "pin" or "tail", how many, and the hand that was said of it."""

    name: str
    role: str
    many: int
    hand: str = ""


def boards_said(text: str) -> Boards:
    """Read which boards are to be cut. Raises NotUnderstood (bad-boards) for what names none,
    Refused (uneven-boards) for boards that make up no box.
    """
    if len(text) > _LONGEST:
        raise _unread("{count} characters are too many for a list of boards", count=len(text))
    items = [_item(words, text) for words in _split(text)]
    if not items:
        raise _unread("{typed} names no board", typed=quoted(text))
    if drawers := [item.many for item in items if item.role == "box"]:
        if len(items) > 1:
            raise _unread("{typed} names drawers and boards", typed=quoted(text))
        items = [_Item(name, _ROLES[name], drawers[0]) for name in ("front", "back")]
        items.append(_Item("side", "tail", 2 * drawers[0]))
    return _paired(items, text)


def _split(text: str) -> Iterator[list[str]]:
    """The words of each kind of board: apart by commas, or by where a number stands."""
    plain = text.casefold().replace("\u00d7", "x")
    for part in re.split(r"[,;+&\n]|\band\b", plain):
        words = re.findall(r"[0-9]+(?:\.[0-9]+)?|[^\W\d_]+|[^\s:=.()'\"/-]", part)
        words = [w for w in words if w != "x"]
        at = [i for i, word in enumerate(words) if _count(word) is not None]
        if len(at) < 2:
            if words:
                yield words
            continue
        ahead = at[0] == 0
        cuts = at if ahead else [0, *(i + 1 for i in at)]
        for start, end in zip(cuts, [*cuts[1:], len(words)], strict=True):
            if words[start:end]:
                yield words[start:end]


def _item(words: Sequence[str], text: str) -> _Item:
    numbers = [n for word in words if (n := _count(word)) is not None]
    if any(n < 1 or n != int(n) or n > 4 * MOST_BOXES for n in numbers) or len(numbers) > 1:
        raise _unread("{words} has no number of boards", words=quoted(" ".join(words)))
    count = int(numbers[0]) if numbers else 1
    names = [_single(word) for word in words if _count(word) is None]
    hand = next((name for name in names if name in _HANDS), "")
    told = [name for name in names if name in ("pin", "tail")]
    own = [name for name in names if name not in (*_IDLE, *_HANDS, "pin", "tail")]
    known = [name for name in own if name in _ROLES]
    if not own and not told and "drawer" in names:
        return _Item("", "box", count)
    if len(known) > 1 or len(set(told)) > 1:
        raise _unread("{words} names several boards", words=quoted(" ".join(words)))
    if known and not told:
        name = "back" if known[0] == "rear" else known[0]
        return _Item(name, _ROLES[known[0]], count, hand)
    if not told:
        raise _no_role(own, words)
    return _Item(" ".join(own) or f"{told[0]} board", told[0], count, hand)


def _count(word: str) -> float | None:
    if word in _COUNTS:
        return _COUNTS[word]
    return float(word) if re.fullmatch(r"[0-9]+(\.[0-9]+)?", word) else None


def _single(word: str) -> str:
    """A word in the singular."""
    if word.endswith("ves") and len(word) > 4:
        return f"{word[:-3]}f"
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 2 else word


def _no_role(own: Sequence[str], words: Sequence[str]) -> NotUnderstood:
    """Of a board that is neither known nor said to have pins or tails."""
    name = " ".join(own)
    from difflib import get_close_matches

    if not own:
        return _unread("{words} names no board", words=quoted(" ".join(words)))
    close = get_close_matches(name, tuple(_ROLES), 1, cutoff=_CLOSE)
    return NotUnderstood(
        "bad-boards",
        "it isn't known whether {name} is a pin board or a tail board",
        "did you mean {close}? Else say {name} pin (it has the sockets) or {name} tail"
        if close
        else "say {name} pin (it has the sockets) or {name} tail",
        name=name,
        close=AsTyped(close[0] if close else ""),
    )


def _paired(items: Sequence[_Item], text: str) -> Boards:
    """The boxes that these boards make up."""
    pins, tails = _summed(items, "pin"), _summed(items, "tail")
    hands = {hand: sum(i.many for i in items if i.hand == hand) for hand in _HANDS}
    if not pins or not tails:
        raise Refused(
            "uneven-boards",
            "{typed} names only one side of the joint",
            "name the boards that they meet, too: front 2, back 2, side 4",
            typed=quoted(text),
        )
    if len(pins) > 2 or len(tails) > 1:
        raise Refused(
            "uneven-boards",
            "{typed} names more kinds of boards than one box has",
            "one kind of tail board and one or two of pin boards go into one schedule",
            typed=quoted(text),
        )
    (tail, sides), names, counts = *tails.items(), list(pins), list(pins.values())
    twice = len(names) == 1 and names[0] not in _ROLES and sides == counts[0] and sides % 2 == 0
    boxes = counts[0] // 2 if twice else counts[0]
    uneven = hands["left"] != hands["right"] and any(i.hand and i.role == "tail" for i in items)
    if len(set(counts)) > 1 or sides != 2 * boxes or uneven:
        raise _uneven(items, names, tail, max(counts))
    if boxes > MOST_BOXES:
        raise Refused(
            "uneven-boards",
            "{boxes} boxes are more than one schedule holds",
            "take up to {most} at a time",
            boxes=boxes,
            most=MOST_BOXES,
        )
    return Boards(names[0], names[-1] if twice or len(names) > 1 else None, tail, boxes)


def _summed(items: Sequence[_Item], role: str) -> dict[str, int]:
    found: dict[str, int] = {}
    for item in items:
        if item.role == role:
            found[item.name] = found.get(item.name, 0) + item.many
    # The front comes first, however it was said.
    return dict(sorted(found.items(), key=lambda pair: pair[0] != "front"))


def _uneven(items: Sequence[_Item], names: Sequence[str], tail: str, boxes: int) -> Refused:
    """Of boards that don't go together."""
    said = ", ".join(f"{(item.hand + ' ' + item.name).strip()} {item.many}" for item in items)
    meant = ", ".join([*(f"{name} {boxes}" for name in names), f"{tail} {2 * boxes}"])
    return Refused(
        "uneven-boards",
        "{said} make up no whole boxes: each has one {names} and two of {tail}",
        'say --boards "{meant}", or leave out what is over',
        "say {meant}, or leave out what is over",
        said=said,
        tail=tail,
        names=" and ".join(names),
        meant=meant,
    )


def _unread(message: str, /, **values: object) -> NotUnderstood:
    return NotUnderstood("bad-boards", message, _EXAMPLE, _ON_PAGE, **values)
