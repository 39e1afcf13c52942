"""How people speak and write of a half-lap: see `language.speech`."""

from __future__ import annotations

from ..flip.speech import speech_of
from .names import HALF_LAP

SPEECH = speech_of(
    HALF_LAP,
    {
        "proud": """
            web; web left; web of; thick web; fat web; leaves web; leaves a web; web stays; skin;
            skin left; leaves a skin; ridge; ridge left; too shallow; not deep enough; sticks up;
            sits up; above; stands proud; sits proud; stands out; laps proud; lap proud; faces
            proud; sits high
            """,
        "slightly proud": """
            thin web; paper web; paper thin web; hair of web; feather; feather left; fuzz; fuzz left
            """,
        "shy": """
            notch; notch of; cut through; overcut; too deep; cut too deep; cuts cross; below; below
            flush; sits below; sits low; sits shy; laps shy; lap shy; faces shy; sunk; hollow
            """,
        "flush": """
            meets; meet; they meet; they just meet; cuts just meet; passes just meet; passes meet;
            cuts meet; web just goes; just goes; no web; level; dead level; dead flush; bang flush;
            faces level; faces flush; all flush; even; level to the touch
            """,
    },
    {},
    {"web": ("web",)},
    "web 0.3, closed",
)
