"""How people speak of a box joint on a key: see `language.speech`."""

from __future__ import annotations

from dataclasses import replace

from ..fingers.names import ENDS
from ..fingers.speech import STEP_LIMIT, speech_of
from .names import BOX, EDGES

SPEECH = replace(
    speech_of(
        BOX,
        {
            "in": "edge inside; sits inside; second board in; lies inside",
            "out": "edge outside; sits outside; second board out; stands outside",
            "level": "edges even; edges line up",
        },
        {EDGES: ("the step of the edges", STEP_LIMIT)},
        {
            "in": "the second board's edge lies inside the first one's",
            "out": "it stands out beyond it",
            "level": "the two edges line up",
        },
    ),
    spellings={"edge": EDGES, "end": ENDS},
    # Edges, too, are said to stand proud, and ends to be level.
    shared={
        "proud": {EDGES: "out"},
        "shy": {EDGES: "in"},
        "flush": {EDGES: "level"},
        "out": {ENDS: "proud"},
        "in": {ENDS: "shy"},
        "level": {ENDS: "flush"},
    },
)
