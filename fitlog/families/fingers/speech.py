"""How people speak of a box joint, whichever way its fingers are spaced: see `language.speech`."""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Family
from ...language.speech import Speech
from ...language.usual import usual
from ..half_blind.english.usual import ASKED, FIT_TESTS, MEANT, SIDES
from .names import ENDS, FIT, FIT_WORDS
from .typed import PLAY_LIMIT

STEP_LIMIT = 10.0
_OURS = (FIT, ENDS)
_BOARDS = frozenset(("tail", "tails", "pin", "pins"))
_SAID = (*FIT_WORDS, "flush", "proud", "shy", "")
_WHEN = {
    "proud": "the ends of the fingers stand out",
    "shy": "they lie below the face",
    "flush": "level to the touch",
    "gap creep": "the first fingers fit, the last do not",
    "gap corner": "the bottoms of the slots stay open",
}
_CREEPS = """
    creeps; creeping; fingers creep; joint creeps; last fingers bind; last fingers dont fit;
    last ones bind; binds at last finger; first fingers fit last bind; walks off; runs off
"""


def _without(phrases: str, words: frozenset[str]) -> str:
    """Leave out the phrases with one of some words in them."""
    return ";".join(phrase for phrase in phrases.split(";") if not words & {*phrase.split()})


def speech_of(
    family: Family,
    more: Mapping[str, str],
    numbers: Mapping[str, tuple[str, float]],
    when: Mapping[str, str],
) -> Speech:
    """Return the speech of a family. more: its own phrases by their meaning; numbers, when: see
    `Speech`.
    """
    # Tails and pins are none of these; "level" is what the edges are where they have a word.
    out = _BOARDS | {kind.settling for kind in family.kinds if kind.name not in _OURS}
    meant = {word: _without(MEANT[word], out) for word in _SAID if word in MEANT}
    asked = {
        choices: _without(phrases, out)
        for choices, phrases in ASKED.items()
        if {*choices.split(" / ")} <= {*_SAID, "slightly proud", "slightly shy"}
    }
    return Speech(
        family,
        numbers={FIT: ("the play", PLAY_LIMIT), ENDS: ("the step", STEP_LIMIT), **numbers},
        fillers=(FIT, ENDS),
        usual={**usual({**meant, "gap creep": _CREEPS, **more}, asked), **usual(SIDES)},
        when={**FIT_TESTS, **_WHEN, **when},
    )
