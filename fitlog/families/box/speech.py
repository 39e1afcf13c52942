"""How people speak of a box joint on a key: see `language.speech`."""

from __future__ import annotations

from ..fingers.speech import STEP_LIMIT, speech_of
from .names import BOX, EDGES

SPEECH = speech_of(
    BOX,
    {
        "in": "edge inside; sits inside; edge in; edges in; second board in; lies inside",
        "out": "edge outside; sits outside; edge out; edges out; second board out; stands outside",
        "level": "edges level; edge level; edges even; edges line up; edges flush",
    },
    {EDGES: ("the step of the edges", STEP_LIMIT)},
    {
        "in": "the second board's edge lies inside the first one's",
        "out": "it stands out beyond it",
        "level": "the two edges line up",
    },
)
