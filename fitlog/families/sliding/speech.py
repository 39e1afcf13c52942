"""How people speak and write of a sliding dovetail: see `language.speech`."""

from __future__ import annotations

from ...errors import FitlogError, Refused
from ...language.speech import Speech
from ...language.usual import usual
from .english.usual import ASKED, FAULTY, FIT_TESTS, MEANT, WHEN
from .names import EXPOSURE, FIT, HEIGHT, SHOULDER, SLIDING, TONGUE

# The largest sizes that are taken for what they are called, mm: common practice, no source.
GAP_LIMIT = 6.0
OPEN_LIMIT = 10.0


def _tight_with_gap(word: str, typed: str) -> FitlogError:
    return Refused(
        "tight-with-gap",
        "a {word} tongue does not come out by itself, so it has no pulled gap of {typed}",
        "say {word} without a number",
        word=word,
        typed=typed,
    )


SPEECH = Speech(
    SLIDING,
    numbers={FIT: ("the pulled gap", GAP_LIMIT), SHOULDER: ("the gap", OPEN_LIMIT)},
    order=("good", "slightly", "very", "tight", "loose", "closed", "open"),
    spellings={"shoulders": SHOULDER},
    fillers=(FIT, SHOULDER, "shoulders"),
    remedies=dict.fromkeys(
        FAULTY, "what is not alike all along, or was spoilt, no setting cures: fitlog fault WORDS"
    ),
    usual=usual(MEANT, ASKED),
    when={**FIT_TESTS, **WHEN},
    example="slightly loose 0.3, closed",
    without_number=_tight_with_gap,
    columns={
        HEIGHT: ("height", "socket height", "bit height"),
        TONGUE: ("tongue", "tongue height"),
        EXPOSURE: ("exposure",),
        f"true_{HEIGHT}": ("true socket height", "true height"),
        f"true_{TONGUE}": ("true tongue height", "true tongue"),
        f"true_{EXPOSURE}": ("true exposure",),
        f"{FIT}_size": ("fit gap", "pulled gap"),
        f"{SHOULDER}_size": ("shoulder gap",),
        "pull_gap": ("pull gap",),
        "play": ("play", "sideways play"),
        "mouth": ("mouth", "socket width"),
        "wide_end": ("wide end", "tongue width"),
        "between_rod": ("between rods diameter", "rods between diameter"),
        "over_rod": ("over rods diameter", "rods over diameter"),
    },
    pairs={
        "between_rods": ("between_rods", "between_rod"),
        "over_rods": ("over_rods", "over_rod"),
    },
    read_beside={FIT: "pull_gap"},
    shared={"tight": {SHOULDER: "closed"}},
)
