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


def _without_boards(phrases: str) -> str:
    """Leave out what is said of tails and pins."""
    told = (p for p in phrases.split(";") if not {"tail", "tails", "pin", "pins"} & {*p.split()})
    return ";".join(told)


def speech_of(
    family: Family,
    more: Mapping[str, str],
    numbers: Mapping[str, tuple[str, float]],
    when: Mapping[str, str],
) -> Speech:
    """Return the speech of a family. more: its own phrases by their meaning; numbers, when: see
    `Speech`.
    """
    meant = {word: _without_boards(MEANT[word]) for word in _SAID if word in MEANT}
    asked = {
        choices: _without_boards(phrases)
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
