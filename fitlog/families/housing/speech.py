"""How people speak of a housing: see `language.speech`."""

from __future__ import annotations

from ..half_blind.english.usual import ASKED, FIT_TESTS, MEANT, SIDES
from ..sheets.speech import speech_of
from .names import FEELER, FIT, FIT_WORDS, HOUSING
from .typed import PLAY_LIMIT

SPEECH = speech_of(
    HOUSING,
    {word: MEANT[word] for word in FIT_WORDS if word in MEANT},
    {one: told for one, told in ASKED.items() if {*one.split(" / ")} <= {*FIT_WORDS}},
    {word: told for word, told in SIDES.items() if word in ("tight", "loose")},
    {FIT: ("the feeler beside the sheet", PLAY_LIMIT)},
    FIT_TESTS,
    {FIT: FEELER},
)
