"""What is set and judged of every part that is cut from both faces against one reference."""

from __future__ import annotations

from collections.abc import Mapping

from ...domain.family import SettingKind
from ...domain.said import UNPLACED, AspectKind
from ..half_blind.names import FIT, HALF_BLIND, SEAT

__all__ = ["FACES", "FAULTS", "FIT", "FIT_WORDS", "HEIGHT", "LINE", "SHOULDER", "STOP", "TIP"]

FACES, SHOULDER = "faces", "shoulder"
HEIGHT, STOP = "height", "stop"
TIP, LINE = "tip", "line"
FAULTS = (TIP, LINE, UNPLACED)
FIT_WORDS, STEP_WORDS = HALF_BLIND.words(FIT), HALF_BLIND.words(SEAT)  # felt and said alike


def height(figures: Mapping[str, float]) -> SettingKind:
    """Return the bit height: up takes more off both faces, and no cut puts any back."""
    return SettingKind(
        HEIGHT,
        "the bit height",
        "height",
        ("up", "down"),
        positive=True,
        with_figures=figures,
        from_below=True,
        free="+",
    )


def stop() -> SettingKind:
    """Return the stop that the length is cut by."""
    return SettingKind(STOP, "the stop", "stop", ("longer", "shorter"), positive=True, free="+")


def fit(place: int) -> AspectKind:
    """Return the fit; its number is a feeler beside what goes in."""
    return AspectKind(
        FIT,
        FIT_WORDS,
        "good",
        HEIGHT,
        place,
        tried=True,
        unread=FIT_WORDS[:2],
        silenced_by=(TIP,),
        scaled=True,
        read_by=("feeler", "jaws"),
    )


def faces(
    place: int,
    setting: str | None,
    silenced_by: tuple[str, ...] = (),
    read_by: tuple[str, ...] = (),
) -> AspectKind:
    """Return how the first part's face stands over the second's."""
    return AspectKind(
        FACES,
        STEP_WORDS,
        "flush",
        setting,
        place,
        unread=("flush",),
        silenced_by=silenced_by,
        read_by=read_by,
    )


def shoulder(place: int) -> AspectKind:
    """Return how the shoulder meets the other part: a void behind a closed one is not seen."""
    words = ("closed", "slightly open", "open", "very open")
    return AspectKind(
        SHOULDER, words, "closed", STOP, place, unread=("closed",), silenced_by=(LINE,)
    )
