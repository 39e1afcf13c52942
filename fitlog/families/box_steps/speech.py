"""How people speak of a box joint by steps of the fence: see `language.speech`."""

from __future__ import annotations

from dataclasses import replace

from ..fingers.speech import speech_of
from ..half_blind.english.usual import MEANT, WHEN
from ..half_blind.speech import EXTRA_WIDTH_LIMIT
from ..half_blind.speech import SPEECH as DOVETAILS
from .names import BOX_STEPS, CENTRE

_CENTRING = ("centred", "gap near", "gap far")
SPEECH = replace(
    speech_of(
        BOX_STEPS,
        {word: MEANT[word] for word in _CENTRING},
        {CENTRE: ("the extra width", EXTRA_WIDTH_LIMIT)},
        {word: WHEN[word] for word in _CENTRING},
    ),
    spellings=DOVETAILS.spellings,
    sideways=DOVETAILS.sideways,
    remedies={"fence": DOVETAILS.remedies["fence"]},
    pairs={"walls": DOVETAILS.pairs["walls"]},
    columns={name: DOVETAILS.columns[name] for name in ("wall_near", "wall_far")},
)
