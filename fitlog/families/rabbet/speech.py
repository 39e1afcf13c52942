"""How people speak of a rabbet: see `language.speech`."""

from __future__ import annotations

from dataclasses import replace

from ..half_blind.english.usual import SIDES
from ..sheets.english.usual import MEANT
from ..sheets.names import DEPTH
from ..sheets.speech import STEP_LIMIT, speech_of
from .names import FACE, RABBET

_FACE = {
    "flush": "level; dead level; dead flush; bang flush; face flush; meets; all flush; spot on",
    "proud": """
        mate proud; face proud; stands out; sticks out; stands proud; sits proud; overhangs; sits
        high
        """,
    "shy": """
        mate shy; face shy; below; set back; sits shy; sits below; below the end; falls short; sits
        low
        """,
    "shallow": f"{MEANT['shallow']}; back proud; back stands proud; back sticks out",
    "deep": f"{MEANT['deep']}; back shy; back lies below; back below",
}
_WHEN = {
    "proud": "the mate's face stands out of the side's end",
    "shy": "it lies below the end",
    "flush": "level to the touch",
}
_SPEECH = speech_of(
    RABBET,
    _FACE,
    {},
    {word: told for word, told in SIDES.items() if word in ("proud", "shy")},
    {FACE: ("the step of the face", STEP_LIMIT)},
    _WHEN,
    {},
)
SPEECH = replace(
    _SPEECH,
    spellings={"faces": FACE, "mate": FACE},
    shared={**_SPEECH.shared, "flush": {DEPTH: "right"}, "right": {FACE: "flush"}},
)
