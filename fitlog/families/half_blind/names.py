"""The half-blind dovetail by its names: what is set, what is judged and in which words, where gaps
are, what is measured.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...domain.family import Family, SettingKind
from ...domain.said import UNPLACED, AspectKind, Fault, Said, Verdict
from ...domain.settings import Settings

HEIGHT, FENCE, DEPTH = "bit_height", "fence_offset", "socket_depth"
FIT, CENTRE, SEAT = "fit", "centre", "seat"
MANY_TAILS = "many_tails"  # the other set of edges between the words of the fit

HALF_BLIND = Family(
    "half-blind dovetail",
    (
        SettingKind(
            HEIGHT, "the bit height", "height", ("up", "down"), positive=True, from_below=True
        ),
        SettingKind(
            FENCE,
            "the fence offset",
            "fence",
            ("out", "in"),
            positive=True,
            with_figures={"width": 0.5},
        ),
        SettingKind(
            DEPTH,
            "the socket depth",
            "depth",
            ("deeper", "shallower"),
            with_figures={"thickness": 1.0},
        ),
    ),
    (
        AspectKind(
            FIT,
            (
                "very tight",
                "tight",
                "slightly tight",
                "good",
                "slightly loose",
                "loose",
                "very loose",
            ),
            "good",
            HEIGHT,
            0,
            tried=True,
            unread=("very tight", "tight"),
            read_by=("pull_gap",),
            silenced_by=("baseline",),
            scaled=True,
        ),
        AspectKind(
            CENTRE,
            ("gap near", "centred", "gap far"),
            "centred",
            FENCE,
            1,
            places_gap=True,
            zeroed=True,
            unread=("centred",),
            read_by=("walls",),
            # The turn widens the slot.
            shown_last=True,
        ),
        AspectKind(
            SEAT,
            (
                "very shy",
                "shy",
                "slightly shy",
                "flush",
                "slightly proud",
                "proud",
                "very proud",
            ),
            "flush",
            DEPTH,
            2,
            driver=FIT,
            unread=("flush",),
            scaled=True,
        ),
    ),
    ("baseline", "inside", "flank", UNPLACED),
    {
        "pull_gap": "",
        "mouth": "",
        "tail_width": "",
        "between_rods": "rod",
        "over_rods": "rod",
        "walls": "other",
    },
    ("pitch", "board_width", "rabbet_depth", "rabbet_bit"),
)
ASPECTS, SETTING_OF = HALF_BLIND.aspects, HALF_BLIND.setting_of
WORDS = {kind.name: kind.words for kind in HALF_BLIND.kinds}
SETTLING_WORD = {kind.name: kind.settling for kind in HALF_BLIND.kinds}
FAULT_PLACES, READING_KINDS = HALF_BLIND.faults, tuple(HALF_BLIND.readings)


def set_to(bit_height: float, fence_offset: float, socket_depth: float) -> Settings:
    """Return settings of the half-blind dovetail, mm."""
    return Settings(HALF_BLIND, (bit_height, fence_offset, socket_depth))


def say(aspect: str, word: str, size: float | None = None) -> Said:
    """Return one judged aspect of the half-blind dovetail.

    size: fit, the pull-apart gap; centre, the extra width of the cut; seat, the step; mm.
    """
    return HALF_BLIND.said(aspect, word, size)


def judged(
    fit: Said | None = None,
    centre: Said | None = None,
    seat: Said | None = None,
    faults: Sequence[Fault] = (),
) -> Verdict:
    """Return what was said of a half-blind dovetail; None: not judged."""
    return Verdict(tuple(s for s in (fit, centre, seat) if s is not None), tuple(faults))
