"""How people speak and write of a half-blind dovetail: see `language.speech`."""

from __future__ import annotations

from ...errors import FitlogError, Refused
from ...language.speech import Speech
from ...language.usual import usual
from .english.usual import ASKED, FAULTY, FIT_TESTS, MEANT, SIDES, WHEN
from .names import CENTRE, DEPTH, FENCE, FIT, HALF_BLIND, HEIGHT, SEAT

# The largest sizes that are taken for what they are called, mm: common practice, no source.
PULL_GAP_LIMIT = 6.0
EXTRA_WIDTH_LIMIT = 6.0
STEP_LIMIT = 10.0


def _tight_with_gap(word: str, typed: str) -> FitlogError:
    return Refused(
        "tight-with-gap",
        "a {word} joint does not come apart by itself, so it has no pull-apart gap of {typed}",
        "say {word} without a number",
        word=word,
        typed=typed,
    )


SPEECH = Speech(
    HALF_BLIND,
    numbers={
        FIT: ("the pull-apart gap", PULL_GAP_LIMIT),
        CENTRE: ("the extra width", EXTRA_WIDTH_LIMIT),
        SEAT: ("the step", STEP_LIMIT),
    },
    order=(
        *("good", "slightly", "very", "tight", "loose", "centred", "gap", "shaved"),
        *("far", "near", "flush", "proud", "shy"),
    ),
    spellings={"center": CENTRE},
    sideways=("shaved",),
    fillers=(FIT,),
    remedies={
        "fence": "near is the side at the fence: say gap near",
        **dict.fromkeys(
            FAULTY,
            "what is not alike all along, or was spoilt, no setting cures: fitlog fault WORDS",
        ),
    },
    usual={**usual(MEANT, ASKED), **usual(SIDES)},
    when={**FIT_TESTS, **WHEN},
    example="slightly loose, gap near 0.25, shy 0.15",
    without_number=_tight_with_gap,
    columns={
        HEIGHT: ("height", "bit height", "cutter height", "router height", "lift"),
        FENCE: ("fence", "offset", "fence offset", "fence setting"),
        DEPTH: ("depth", "socket depth"),
        f"true_{HEIGHT}": ("true bit height", "true height"),
        f"true_{FENCE}": ("true fence offset", "true fence"),
        f"true_{DEPTH}": ("true socket depth", "true depth"),
        CENTRE: ("centre", "center", "centring", "centering"),
        f"{FIT}_size": ("fit gap", "gap", "size", "fit size"),
        f"{CENTRE}_size": (
            *("centre gap", "center gap", "centre size", "center size"),
            "extra width",
        ),
        f"{SEAT}_size": ("seat step", "step", "seat size"),
        "pull_gap": ("pull gap", "pull apart gap", "pull-apart gap"),
        "mouth": ("mouth", "slot width"),
        "tail_width": ("tail width", "tail"),
        "between_rod": ("between rods diameter", "rods between diameter"),
        "over_rod": ("over rods diameter", "rods over diameter"),
        "wall_near": ("wall near", "near wall", "wall at the fence"),
        "wall_far": ("wall far", "far wall"),
    },
    pairs={
        "between_rods": ("between_rods", "between_rod"),
        "over_rods": ("over_rods", "over_rod"),
        "walls": ("wall_near", "wall_far"),
    },
    read_beside={FIT: "pull_gap"},
)
