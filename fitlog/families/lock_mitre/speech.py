"""How people speak and write of a lock mitre: see `language.speech`."""

from __future__ import annotations

from ...language.speech import Speech
from ...language.usual import usual
from .english.usual import ASKED, FAULTY, MEANT, SHARED, WHEN
from .names import CORNER, FENCE, HEIGHT, LOCK_MITRE, OFFSET

STEP_LIMIT = 10.0  # mm: more is no such joint

SPEECH = Speech(
    LOCK_MITRE,
    numbers={
        HEIGHT: ("the step of the two flats", STEP_LIMIT),
        FENCE: ("the step of the two uprights", STEP_LIMIT),
        CORNER: ("the step at the corner", STEP_LIMIT),
    },
    fillers=(CORNER, "joint", "flats", "uprights", "turned", "piece", "pair", "step", "two", "one"),
    remedies=dict.fromkeys(
        FAULTY,
        "what is not alike all along, or was spoilt, no setting cures: fitlog fault WORDS",
    ),
    usual=usual(MEANT, ASKED),
    when=WHEN,
    spellings={"flats": HEIGHT, "uprights": FENCE, "flat": CORNER},
    shared={
        word: dict(zip((HEIGHT, FENCE, CORNER), own, strict=True)) for word, own in SHARED.items()
    },
    example="proud 0.4, over 0.1",
    columns={
        HEIGHT: ("height", "bit height"),
        OFFSET: ("fence offset",),
        f"{HEIGHT}_word": ("flats", "two flats"),
        FENCE: ("uprights", "two uprights"),
        f"true_{HEIGHT}": ("true height", "true bit height"),
        f"true_{OFFSET}": ("true fence offset",),
        f"{HEIGHT}_size": ("step of the flats",),
        f"{FENCE}_size": ("step of the uprights",),
        f"{CORNER}_size": ("step at the corner",),
    },
)
