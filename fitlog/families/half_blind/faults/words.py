"""What was seen, in a maker's words: "gap baseline 0.2", "the middle tail is tight", "last tails
tight" become symptoms.

Words come in any order. A number is the size of what stands before it; commas part symptoms and are
optional.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from ....domain import TEXT_LIMIT
from ....errors import Mm, NotUnderstood, Refused, nearest
from ....language.limits import check_range
from ....language.phrases import FAULT_GAP_LIMIT
from ....language.units import UNIT_WORDS, parse_length, quoted
from ....texts import tell
from ...faults import Symptom, Words
from .table import SYMPTOMS
from .vocabulary import CANON, FILLERS, NEGATIONS, PHRASES

_NUMBER = re.compile(r"[+\u2212-]?[.,]?[0-9]")
_ASKED = frozenset[str]().union(*(ask for s in SYMPTOMS for ask in s.asks))
VOCABULARY: tuple[str, ...] = tuple(sorted(_ASKED))
_HINT = "type fitlog fault alone for the list"


@dataclass(frozen=True, slots=True)
class Seen:
    """A symptom that was typed; size: said with it, mm, None without one."""

    symptom: Symptom
    size: float | None = None


def parse_symptoms(typed: Sequence[str] | str, *, units: str = "mm") -> tuple[Seen, ...]:
    """Return the symptoms that were typed, in their order; empty input gives none.

    units: preferred unit of bare numbers. Raises `NotUnderstood` for what means nothing here,
    `Refused` for a size that cannot be and for one symptom said twice.
    """
    text = typed if isinstance(typed, str) else " ".join(typed)
    if len(text) > TEXT_LIMIT:
        raise NotUnderstood(
            "text-too-long",
            "{length} characters are too many for one joint",
            _HINT,
            length=len(text),
        )
    found: dict[str, Seen] = {}
    for seen in (s for tokens, number in _phrases(text) for s in _phrase(tokens, number, units)):
        old = found.get(seen.symptom.code)
        if old is not None and old.size is not None and seen.size is not None:
            raise Refused(
                "contradiction",
                '"{words}" was said twice',
                "say it once, with its larger size",
                words=seen.symptom.words,
            )
        found[seen.symptom.code] = old if old is not None and seen.size is None else seen
    if not found and text.strip():
        raise NotUnderstood(
            "nothing-said", "{typed} names no symptom", _HINT, typed=quoted(text.strip())
        )
    return tuple(found.values())


def _phrases(text: str) -> list[tuple[list[str], str | None]]:
    """Split into phrases, each with the number that ends it: words, number as typed or None."""
    plain = text.lower().replace("\u2019", "'")
    for pattern, word in PHRASES:
        plain = re.sub(rf"(?<![a-z]){pattern}(?![a-z])", word, plain)
    plain = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", plain)
    tokens = re.sub(r"(?<![0-9]),|,(?![0-9])|;", " , ", plain).split()
    phrases: list[tuple[list[str], str | None]] = []
    said: list[str] = []
    at = 0
    while at < len(tokens):
        if _NUMBER.match(tokens[at]):
            end = _number_end(tokens, at)
            phrases.append((said, " ".join(tokens[at:end])))
            said, at = [], end
            continue
        word = tokens[at].strip('():.!?"').removesuffix("'s").removesuffix("'")
        said, at = ([*said, word] if word else said), at + 1
    return [*phrases, (said, None)] if said else phrases


def _number_end(tokens: Sequence[str], start: int) -> int:
    """Return where a number with its fraction and unit ends: "1 1/16 in"."""
    end = start + 1
    if (
        re.fullmatch(r"[+\u2212-]?[0-9]+", tokens[start])
        and end < len(tokens)
        and re.match(r"[0-9]+/[0-9]", tokens[end])
    ):
        end += 1
    if tokens[end - 1][-1].isdigit() and end < len(tokens) and tokens[end] in UNIT_WORDS:
        end += 1
    return end


def _phrase(tokens: Sequence[str], number: str | None, units: str) -> list[Seen]:
    """Return the symptoms of one phrase; commas part them where both sides make sense, else they
    count for nothing.
    """
    parts = [part.split() for part in " ".join(tokens).split(" , ")]
    parts = [[t for t in part if t != ","] for part in parts]
    every = [_said(part) for part in parts]
    every = [said for said in every if said]
    if number is not None and not every:
        raise NotUnderstood(
            "stray-number",
            "{number} has no symptom before it",
            "say the symptom, then its size",
            number=quoted(number),
        )
    alone = [_exactly(said) for said in every]
    together = frozenset[str]().union(*every)
    symptoms = [s for s in alone if s is not None] if None not in alone else _covering(together)
    if not symptoms:
        return []
    size = None if number is None else _size(symptoms[-1], number, units)
    return [*(Seen(s) for s in symptoms[:-1]), Seen(symptoms[-1], size)]


def _said(tokens: Sequence[str]) -> Words:
    """Return the words of the table among the tokens; raises NotUnderstood for one that is neither
    that nor a filler.
    """
    said = set[str]()
    for token in tokens:
        if CANON.get(token) in _ASKED:
            said.add(CANON[token])
        elif token not in CANON and token not in FILLERS:
            raise _unknown(token)
    return frozenset(said)


def _unknown(token: str) -> NotUnderstood:
    if token in NEGATIONS:
        return NotUnderstood(
            "unknown-word",
            "{token} says what is not seen",
            "say what is seen; type fitlog fault alone for the list",
            token=quoted(token),
        )
    if re.match(r"-+[a-z]", token):
        return NotUnderstood(
            "unknown-option",
            "{token} is no option of fault",
            "fitlog fault --help lists them",
            token=quoted(token),
        )
    close = nearest(token[:40], VOCABULARY, far=False)
    return NotUnderstood(
        "unknown-word",
        "the word {token} is not known",
        "{close}" if close else _HINT,
        token=quoted(token),
        close=close,
    )


def _best(said: Words) -> Symptom | None:
    """The symptom whose words are all there; of several, the one that asks for most."""
    held = [(len(ask), -i, s) for i, s in enumerate(SYMPTOMS) for ask in s.asks if ask <= said]
    return max(held, key=lambda h: h[:2])[2] if held else None


def _taken(symptom: Symptom) -> Words:
    return symptom.also.union(*symptom.asks)


def _exactly(said: Words) -> Symptom | None:
    best = _best(said)
    return best if best is not None and said <= _taken(best) else None


def _covering(said: Words) -> list[Symptom]:
    """Return symptoms that together take every word; raises NotUnderstood where one is
    left over.
    """
    found: list[Symptom] = []
    left = said
    while left:
        best = _best(left)
        if best is None:
            raise _incomplete(left, found)
        found.append(best)
        left -= _taken(best)
    return found


def _incomplete(left: Words, found: Sequence[Symptom]) -> NotUnderstood:
    """Return the error for words that make no symptom yet: name those that they begin."""
    near = sorted(SYMPTOMS, key=lambda s: -max(len(ask & left) / len(ask) for ask in s.asks))
    names = [s.words for s in near if any(ask & left for ask in s.asks)][:5]
    typed = quoted(" ".join(sorted(left)))
    if not names:
        return NotUnderstood("unclear-symptom", "{typed} names no symptom", _HINT, typed=typed)
    *others, last = names
    return NotUnderstood(
        "unclear-symptom",
        'beside "{found}", {typed} does not say enough' if found else "{typed} does not say enough",
        "did you mean {others} or {last}? Or type fitlog fault alone for the list"
        if others
        else "did you mean {last}? Or type fitlog fault alone for the list",
        found=found[0].words if found else "",
        typed=typed,
        others=", ".join(others),
        last=last,
    )


def _size(symptom: Symptom, typed: str, units: str) -> float:
    """Return the size said with a symptom, mm; refuse one that it cannot have."""
    if not symptom.size:
        raise NotUnderstood(
            "no-size",
            '"{words}" takes no size',
            "leave {typed} out",
            words=symptom.words,
            typed=quoted(typed),
        )
    what = symptom.size
    length = parse_length(typed, units=units, turn=1.0, what=what)
    if length.unit == "turn":
        raise NotUnderstood(
            "bad-length",
            "{what} cannot be in turns: {typed}",
            "give it in mm or in",
            what=what,
            typed=quoted(typed),
        )
    if length.mm <= 0:
        raise NotUnderstood(
            "bad-size",
            "{what} must be a size above zero, not {typed}",
            "give its size, or leave the number out",
            what=what,
            typed=quoted(typed),
        )
    why = tell("the {most} that is plausible for it", most=Mm(FAULT_GAP_LIMIT))
    return check_range(length, 0.0, FAULT_GAP_LIMIT, what, why)
