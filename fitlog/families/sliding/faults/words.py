"""What was seen, in a maker's words: "gap at one shoulder 0.3" becomes a symptom with its size."""

from __future__ import annotations

from collections.abc import Sequence

from ....errors import NotUnderstood, Refused
from ....language.phrases import FAULT_GAP_LIMIT
from ....language.sizes import believed
from ....language.understood import NUMBER
from ....language.units import UNIT_WORDS, parse_length, quoted
from ....language.usual import BREAKS, tokens
from ...faults import Symptom
from .table import SYMPTOMS

VOCABULARY: tuple[str, ...] = tuple(
    sorted({word for s in SYMPTOMS for ask in (*s.asks, s.also) for word in ask})
)
_SAME = {
    **dict.fromkeys(("shoulders",), "shoulder"),
    **dict.fromkeys(("gaps", "gappy", "opens", "opening"), "gap"),
    **dict.fromkeys(("bind", "sticks", "jam", "jammed"), "binds"),
    **dict.fromkeys(("halfway", "way", "midway"), "half"),
    **dict.fromkeys(("bottom", "bottoming"), "bottoms"),
    **dict.fromkeys(("socket", "slots"), "sockets"),
    **dict.fromkeys(("flanks", "cheek"), "flank"),
    **dict.fromkeys(("creep", "creeping"), "creeps"),
    **dict.fromkeys(("glued", "gluing"), "glue"),
    "start": "starts",
    "deep": "deeper",
    "only": "one",
    "last": "later",
}
_HINT = "type fitlog fault alone for the list"


def symptom_of(typed: Sequence[str], units: str) -> tuple[Symptom, float | None] | None:
    """Return the symptom that was typed and the size said with it, mm; None where nothing was.

    Raises NotUnderstood for what names none, or more than one; Refused for a size that cannot be.
    """
    text = " ".join(typed)
    said = [word for word in tokens(text) if word not in BREAKS]
    if not said:
        return None
    at = next((i for i, word in enumerate(said) if NUMBER.match(word)), len(said))
    tail, after = said[at:], [w for w in said[at:] if not _of_a_number(w)]
    spoken = {_SAME.get(word, word) for word in (*said[:at], *after)}
    known = spoken & {*VOCABULARY}
    fits = [s for s in SYMPTOMS if any(ask <= known for ask in s.asks)]
    most = max((_asked(s, known) for s in fits), default=0)
    found = [s for s in fits if _asked(s, known) == most]
    if len(found) != 1:
        raise NotUnderstood(
            "unclear-symptom", "{typed} names no symptom by itself", _HINT, typed=quoted(text)
        )
    size = " ".join(word for word in tail if _of_a_number(word))
    return found[0], _size(found[0], size, units) if size else None


def _of_a_number(word: str) -> bool:
    return bool(NUMBER.match(word)) or word in UNIT_WORDS


def _asked(symptom: Symptom, known: set[str]) -> int:
    return max(len(ask) for ask in symptom.asks if ask <= known)


def _size(symptom: Symptom, typed: str, units: str) -> float:
    if not symptom.size:
        raise NotUnderstood(
            "no-size",
            '"{words}" takes no size',
            "leave {typed} out",
            words=symptom.words,
            typed=quoted(typed),
        )
    length = parse_length(typed, units=units, turn=1.0, what=symptom.size)
    if length.mm <= 0 or length.unit == "turn":
        raise Refused(
            "bad-size",
            "{what} of {typed} is none",
            "give its size as a length, or leave it out",
            what=symptom.size,
            typed=quoted(typed),
        )
    return believed(length, symptom.size, FAULT_GAP_LIMIT)
