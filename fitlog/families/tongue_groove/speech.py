"""How people speak and write of a tongue and groove: see `language.speech`."""

from __future__ import annotations

from ..flip.english.usual import higher
from ..flip.speech import speech_of
from ..half_blind.english.usual import FIT_TESTS
from .names import FENCE, TONGUE_GROOVE

SPEECH = speech_of(
    TONGUE_GROOVE,
    {
        **higher("tongue board", "groove board"),
        "slightly tight": """
            firm push; hard push; stiff push; half way by hand; not all the way; drags
            """,
        "slightly loose": "slips together; slides too easily; too easy",
        "good": """
            perfect; just right; spot on; lovely fit; nice fit; perfect fit; fits well; light hand;
            slides together; slides together by hand; moves freely; free; moves by itself
            """,
        "slightly tight / good": "firm hand; firm hand pressure",
        "tight / very tight": "knocks together; tap with mallet; hammer",
    },
    FIT_TESTS,
    {
        FENCE: ("groove fence", "fence"),
        f"true_{FENCE}": ("true groove fence", "true fence"),
        "feeler": ("feeler",),
        "groove": ("groove",),
        "tongue": ("tongue",),
        "jaws_inside": ("groove by jaws",),
        "jaws_outside": ("tongue by jaws",),
    },
    "slightly loose 0.12, flush, closed",
)
