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
from ....errors import NotUnderstood, Refused
from ....language.inches import spelled
from ....language.phrases import FAULT_GAP_LIMIT
from ....language.sizes import believed
from ....language.units import UNIT_WORDS, parse_length, quoted
from ....texts import tell
from ...faults import Symptom, Words
from .table import SYMPTOMS
from .vocabulary import (
    CANON,
    FILLERS,
    GOOD,
    NEGATIONS,
    PARTING,
    PHRASES,
    QUESTIONS,
    SOFT,
    SUBJECTS,
)

_NUMBER = re.compile(r"[+\u2212-]?[.,]?[0-9]")
_ASKED = frozenset[str]().union(*(ask for s in SYMPTOMS for ask in s.asks))
VOCABULARY: tuple[str, ...] = tuple(sorted(_ASKED))
_BY_CODE = {s.code: s for s in SYMPTOMS}
_ALIKE = 0.75  # less alike, a word may well be one of another kind
_CHOICES, _WAYS = 5, 2  # as many are named; as many ways to part words tell that there is no one
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
    plain = spelled(text.lower()).replace("\u2019", "'")
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
    clauses = _clauses(tokens)
    if number is not None and not any(set(clause) - SOFT for clause in clauses):
        raise NotUnderstood(
            "stray-number",
            "{number} has no symptom before it",
            "say the symptom, then its size",
            number=quoted(number),
        )
    alone = [_exact(clause) for clause in clauses if clause]
    if all(len(found) == 1 for found in alone):
        symptoms = [found[0] for found in alone]
    else:
        symptoms = _in_turn([word for clause in clauses for word in clause])
    if not symptoms:
        return []
    size = None if number is None else _size(symptoms[-1], number, units)
    return [*(Seen(s) for s in symptoms[:-1]), Seen(symptoms[-1], size)]


def _clauses(tokens: Sequence[str]) -> list[list[str]]:
    """Return the words of the table, part by part between commas, without the clauses that only
    say which parts are right.
    """
    clauses: list[tuple[list[str], list[str]]] = [([], [])]  # as typed, and of the table
    ends: list[str] = []
    for token in (*tokens, ","):
        if token in PARTING:
            clauses.append(([], []))
            ends.append(token)
        else:
            clauses[-1][0].append(token)
            clauses[-1][1].extend(_said(token))
    wrong = [bool(said) and not _right(typed, said) for typed, said in clauses[:-1]]
    parts: list[list[str]] = [[]]
    for (_, said), off, end in zip(clauses[:-1], wrong, ends, strict=True):
        parts[-1].extend(said if off or not any(wrong) else ())
        if end == ",":
            parts.append([])
    return [part for part in parts if part]


def _right(typed: Sequence[str], said: Sequence[str]) -> bool:
    return bool(GOOD & set(typed)) and set(said) <= SUBJECTS


def _said(token: str) -> tuple[str, ...]:
    """Return the word of the table that a token is, if it is one; raises NotUnderstood for one
    that is neither that nor a filler.
    """
    if token in CANON:
        return (CANON[token],)
    if token in FILLERS:
        return ()
    raise _unknown(token)


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
    from difflib import get_close_matches

    close = get_close_matches(token[:40], CANON, n=1, cutoff=_ALIKE)
    return NotUnderstood(
        "unknown-word",
        "the word {token} is not known",
        "did you mean {close}?" if close else _HINT,
        token=quoted(token),
        close="".join(close),
    )


def _exact(said: Sequence[str]) -> list[Symptom]:
    """Return the symptoms that take every word said; of several those that ask for most."""
    words = frozenset(said)
    held = [
        (max(len(ask) for ask in s.asks if ask <= words), s)
        for s in SYMPTOMS
        if any(ask <= words for ask in s.asks) and words - SOFT <= s.also.union(*s.asks)
    ]
    most = max((n for n, _ in held), default=0)
    return [s for n, s in held if n == most]


def _in_turn(said: list[str]) -> list[Symptom]:
    """Return the symptoms that words name one after the other, as few as there can be; raises
    NotUnderstood where there are none, or two ways to part them.
    """
    if not set(said) - SOFT and not any(_exact([word]) for word in said):
        return []
    ways: list[list[tuple[str, ...]]] = [[()]]  # to part the words up to here, by symptoms' codes
    for end in range(1, len(said) + 1):
        found = {
            (*before, exact[0].code): None
            for start in range(end)
            if len(exact := _exact(said[start:end])) == 1
            for before in ways[start]
        }
        fewest = min(map(len, found), default=0)
        ways.append([way for way in found if len(way) == fewest][:_WAYS])
    distinct = {frozenset(way): way for way in ways[-1]}
    if len(distinct) != 1:
        raise _unclear(said, [code for way in distinct for code in way])
    (way,) = distinct.values()
    return [_BY_CODE[code] for code in dict.fromkeys(way)]


def _unclear(said: Sequence[str], several: Sequence[str]) -> NotUnderstood:
    """Return the question that words deserve which name no symptom, or more than one way."""
    words, lead, codes = frozenset(said), "", list(several) or [s.code for s in _exact(said)]
    if not codes and (asked := [q for q in QUESTIONS if q.said <= words]):
        codes, lead = list(asked[0].codes), tell(asked[0].lead)
    names = [_BY_CODE[code].words for code in codes or _near(words)]
    *others, last = dict.fromkeys(names)
    return NotUnderstood(
        "unclear-symptom",
        "{typed} does not say enough",
        "{lead}did you mean {others} or {last}? Or type fitlog fault alone for the list"
        if others
        else "{lead}did you mean {last}? Or type fitlog fault alone for the list",
        typed=quoted(" ".join(dict.fromkeys(said))),
        lead=lead and f"{lead}; ",
        others=", ".join(others),
        last=last,
    )


def _near(words: Words) -> list[str]:
    """Return the symptoms that words begin, those with most of them first."""

    def nearness(symptom: Symptom) -> tuple[int, float]:
        asks = max(len(ask & words - SOFT) / len(ask) for ask in symptom.asks)
        return len(words & symptom.also.union(*symptom.asks)), asks

    begun = [s for s in SYMPTOMS if nearness(s)[1] > 0] or list(SYMPTOMS)
    return [s.code for s in sorted(begun, key=nearness, reverse=True)[:_CHOICES]]


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
            "give it as a length, not in turns",
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
    return believed(length, what, FAULT_GAP_LIMIT)
