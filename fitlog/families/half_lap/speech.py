"""How people speak and write of a half-lap: see `language.speech`."""

from __future__ import annotations

from ..flip.speech import speech_of
from .names import HALF_LAP

SPEECH = speech_of(
    HALF_LAP,
    {
        "proud": """
            web; web left; web of; leaves web; web stays; skin left; sticks up; sits up; above;
            stands proud; sits proud; stands out; laps proud; lap proud; faces proud; sits high
            """,
        "slightly proud": "thin web; paper web; paper thin web; hair of web",
        "shy": """
            notch; notch of; cut through; overcut; below; below flush; sits below; sits low; sits
            shy; laps shy; lap shy; faces shy; sunk; hollow
            """,
        "flush": """
            meets; meet; they meet; passes meet; cuts meet; web just goes; just goes; no web; level;
            dead level; dead flush; bang flush; faces level; faces flush; all flush; even
            """,
    },
    {},
    {"web": ("web",)},
    "web 0.3, closed",
)
