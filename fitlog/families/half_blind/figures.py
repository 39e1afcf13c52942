"""The assumed figures of the half-blind dovetail's words, windows and lapses. Lengths in mm.

Where no source is named, the value is common practice, no source: it starts the estimate, the log
corrects it.
"""

from __future__ import annotations

import math

from ...defaults import Band
from ...domain import Aspect, Window
from .names import FIT, MANY_TAILS

# --- words, as edges between neighbouring words from the most negative misfit up ------------------
FIT_EDGES = (-0.06, 0.0, 0.04, 0.10, 0.18, 0.30)
FIT_EDGES_MANY_TAILS = (
    -0.06,
    0.04,
    0.08,
    0.15,
    0.23,
    0.30,
)  # `good` and its neighbours move with the window
CENTRED = 0.05
PLAIN_GAP = 0.40
SEAT_EDGES = (-0.60, -0.20, -0.08, 0.08, 0.20, 0.60)  # flush: a sheet of paper
UNNUMBERED_WIDE_GAP = 0.25  # how often a gap past the plain band is said without its number

# --- what counts as good --------------------------------------------------------------------------
FIT_WINDOW = Window(0.04, 0.10)
FIT_WINDOW_MANY_TAILS = Window(0.08, 0.15)
CENTRE_WINDOW = Window(-CENTRED, CENTRED)
SEAT_TOLERANCE = 0.15

# --- lapses ---------------------------------------------------------------------------------------
# Chance that a zero is off by far more than its sd: a tape hooked wrongly, another edge measured.
# Of fences it is common.
FAR_OFF: dict[Aspect, float] = {"fit": 0.02, "centre": 0.05, "seat": 0.02}
FAR_OFF_SD: dict[Aspect, float] = {
    "fit": 0.4,
    "centre": 3.0,
    "seat": 3.0,
}  # mm by which it then is off
SLIP_RANGE: dict[Aspect, float] = {
    "fit": 1.0,
    "centre": 2.0,
    "seat": 4.0,
}  # where a slipped reading may fall


def fit_window(many_tails: bool) -> Window:
    """Return the window of clearance that counts as good."""
    return FIT_WINDOW_MANY_TAILS if many_tails else FIT_WINDOW


def word_edges(aspect: Aspect, many_tails: bool = False) -> tuple[float, ...]:
    """Return the assumed edges between the words of the fit or the seat, mm."""
    if aspect == "seat":
        return SEAT_EDGES
    return FIT_EDGES_MANY_TAILS if many_tails else FIT_EDGES


def word_sets(aspect: Aspect) -> dict[str, tuple[float, ...]]:
    """Return every set of edges between an aspect's words, mm, by `Plan.word_set`."""
    more = {MANY_TAILS: FIT_EDGES_MANY_TAILS} if aspect == FIT else {}
    return {"": word_edges(aspect), **more}


def centre_bands() -> tuple[tuple[Band, ...], ...]:
    """Bands of `gap near`, `centred`, `gap far` said without a number.

    A plain gap is 0.05-0.40 mm off; a wider one is mostly said with its number, so that it counts
    less.
    """
    near = ((-PLAIN_GAP, -CENTRED, 1.0), (-math.inf, -PLAIN_GAP, UNNUMBERED_WIDE_GAP))
    far = ((CENTRED, PLAIN_GAP, 1.0), (PLAIN_GAP, math.inf, UNNUMBERED_WIDE_GAP))
    return (near, ((-CENTRED, CENTRED, 1.0),), far)
