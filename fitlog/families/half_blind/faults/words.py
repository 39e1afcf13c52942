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
from ....errors import NotUnderstood, Refused, nearest
from ....language.limits import check_range
from ....language.phrases import FAULT_GAP_LIMIT
from ....language.units import UNIT_WORDS, parse_length, quoted
from ...faults import Symptom, Words, words
from .table import SYMPTOMS

# What else a word of the table is called; each line: the word, then its other names.
_SAME = """
gap gaps gappy open opens opening
baseline base shoulder shoulders
inside inner inwards
outside outer show face showface front
flank flanks cheek cheeks
edge edges
end ends
middle mid centre center
last lasts
first
tight tighter tightens bind binds binding jam jams stick sticks hard
loose looser loosens slack sloppy rattles rattle rattling wags
later afterwards
run drift drifts drifted
across
only alone single
uneven unequal misaligned offset
higher lower taller
far away
proud
shy
bottom bottoms bottomed bottoming
start starts begins beginning
then
rocks rock rocking wobbles wobble
twist twisted twists wind winding
ragged torn tear tears tearout chipped rough fuzzy
burnt burned burn burns scorched black
slot slots
wider wide widens widened flared
split splits splitting cracked crack cracks broke broken
step steps stepped ridge ridges
marks mark
lap laps
thin thinner
move moved moves moving
height heights
nothing none unchanged
twice double doubled overshot
much
sharpened sharpening sharpen reground
"""
_FILLERS = words(
    """
    a an it is it's its are was were the of at on in by to and or but with when where while as so be
    my our there this that fit fits joint board boards tail tails pin pins socket sockets bit wood
    side sides fence very slightly little quite somewhat always still did does do has have go goes
    going comes come home since after old i we see seen looks gets get became become becomes corner
    corners cuts same other others one ones two half all even along early out stands depth right
    good cut too changed changes change whole closed than together reached asked before high low
    itself another though i'm been being per each every again them they joints through few tries try
    tried closes close ok fine now stand got gotten really just from
    """
)
_PHRASES = (
    (
        r"(?:do|does|did|will|is|are)(?: ?n't| not|nt) (?:quite )?(?:meet|line up|align|match)\w*",
        "uneven",
    ),
    (
        r"(?:do|does|did)(?: ?n't| not|nt) (?:do|change|move|help|matter)\w*(?: anything| a "
        r"thing)?",
        "nothing",
    ),
    (r"(?:very )?last tail", "only last"),
    (
        r"first tails? (?:are |is )?(?:bind|bound|tight|stick|jam)\w*(?: and| but|,)? (?:the "
        r")?last (?:tails? |ones? )?"
        r"(?:are |is )?(?:fit|good|fine|ok|loose)\w*",
        "first tight",
    ),
    (r"gap (?:at|along|on) (?:the )?bottom", "gap baseline"),
    (r"no (?:change|difference|effect)", "nothing"),
    (r"two times|2x|twice as much", "twice"),
    (r"tear[ -]out", "ragged"),
    (r"end (?:for|to) end", ""),
    (r"shows? through|showing through", "lap"),
    (r"shows? face", "outside"),
)
_CANON: dict[str, str] = {
    name: row.split()[0] for row in _SAME.strip().splitlines() for name in row.split()
}
_NEGATIONS = words("no not never without isn't aren't don't doesn't won't can't cannot")
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
            "text-too-long", f"{len(text)} characters are too many for one joint", _HINT
        )
    found: dict[str, Seen] = {}
    for seen in (s for tokens, number in _phrases(text) for s in _phrase(tokens, number, units)):
        old = found.get(seen.symptom.code)
        if old is not None and old.size is not None and seen.size is not None:
            raise Refused(
                "contradiction",
                f'"{seen.symptom.words}" was said twice',
                "say it once, with its larger size",
            )
        found[seen.symptom.code] = old if old is not None and seen.size is None else seen
    if not found and text.strip():
        raise NotUnderstood("nothing-said", f"{quoted(text.strip())} names no symptom", _HINT)
    return tuple(found.values())


def _phrases(text: str) -> list[tuple[list[str], str | None]]:
    """Split into phrases, each with the number that ends it: words, number as typed or None."""
    plain = text.lower().replace("\u2019", "'")
    for pattern, word in _PHRASES:
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
            f"{quoted(number)} has no symptom before it",
            "say the symptom, then its size",
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
        if _CANON.get(token) in _ASKED:
            said.add(_CANON[token])
        elif token not in _CANON and token not in _FILLERS:
            raise _unknown(token)
    return frozenset(said)


def _unknown(token: str) -> NotUnderstood:
    if token in _NEGATIONS:
        return NotUnderstood(
            "unknown-word", f"{quoted(token)} says what is not seen", f"say what is seen; {_HINT}"
        )
    if re.match(r"-+[a-z]", token):
        return NotUnderstood(
            "unknown-option",
            f"{quoted(token)} is no option of fault",
            "fitlog fault --help lists them",
        )
    close = nearest(token[:40], VOCABULARY)
    hint = _HINT if close.startswith("known: ") else close
    return NotUnderstood("unknown-word", f"the word {quoted(token)} is not known", hint)


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
        return NotUnderstood("unclear-symptom", f"{typed} names no symptom", _HINT)
    lead = f'beside "{found[0].words}", {typed}' if found else typed
    meant = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"
    return NotUnderstood(
        "unclear-symptom", f"{lead} does not say enough", f"did you mean {meant}? Or {_HINT}"
    )


def _size(symptom: Symptom, typed: str, units: str) -> float:
    """Return the size said with a symptom, mm; refuse one that it cannot have."""
    if not symptom.size:
        raise NotUnderstood(
            "no-size", f'"{symptom.words}" takes no size', f"leave {quoted(typed)} out"
        )
    what = symptom.size
    length = parse_length(typed, units=units, turn=1.0, what=what)
    if length.unit == "turn":
        raise NotUnderstood(
            "bad-length", f"{what} cannot be in turns: {quoted(typed)}", "give it in mm or in"
        )
    if length.mm <= 0:
        message = f"{what} must be a size above zero, not {quoted(typed)}"
        raise NotUnderstood("bad-size", message, "give its size, or leave the number out")
    return check_range(
        length, 0.0, FAULT_GAP_LIMIT, what, f"the {FAULT_GAP_LIMIT:g} mm that is plausible for it"
    )
