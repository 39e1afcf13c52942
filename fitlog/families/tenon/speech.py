"""How people speak and write of a tenon: see `language.speech`."""

from __future__ import annotations

from ..flip.english.usual import PUSH_TESTS, higher
from ..flip.speech import speech_of
from .names import FENCE, TENON

SPEECH = speech_of(
    TENON,
    higher("rail", "stile"),
    PUSH_TESTS,
    {
        FENCE: ("mortise fence", "fence"),
        f"true_{FENCE}": ("true mortise fence", "true fence"),
        "feeler": ("feeler",),
        "mortise": ("mortise",),
        "tenon": ("tenon",),
        "jaws_inside": ("mortise by jaws",),
        "jaws_outside": ("tenon by jaws",),
    },
    "slightly loose 0.1, flush, closed",
)
