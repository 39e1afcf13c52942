"""What is judged of every box joint: how the fingers go together, and how their ends stand."""

from __future__ import annotations

from ...domain.said import UNPLACED, AspectKind
from ..half_blind.names import FIT, HALF_BLIND

__all__ = ["ENDS", "FAULTS", "FIT", "FIT_WORDS", "HEIGHT", "READINGS", "ends", "fit"]

ENDS = "ends"
HEIGHT = "height"
CREEP, CORNER = "creep", "corner"
FAULTS = (CREEP, CORNER, UNPLACED)
READINGS = {"play": "", "slot": "", "finger": ""}
FIT_WORDS = HALF_BLIND.words(FIT)  # a fit is felt alike, and said alike


def fit(setting: str) -> AspectKind:
    """Return the fit, by the setting that it is tuned by; its number is the sideways play."""
    return AspectKind(
        FIT,
        FIT_WORDS,
        "good",
        setting,
        0,
        tried=True,
        unread=FIT_WORDS[:2],
        silenced_by=(CREEP,),
        scaled=True,
        read_by=("play",),
    )


def ends(place: int) -> AspectKind:
    """Return how the ends of the fingers stand over the other board's face."""
    words = ("very shy", "shy", "slightly shy", "flush", "slightly proud", "proud", "very proud")
    return AspectKind(ENDS, words, "flush", HEIGHT, place, unread=("flush",))
