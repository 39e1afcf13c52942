"""The assumed figures of joints cut from both faces: words, windows, limits and uncertainties.
Lengths in mm; standard uncertainties unless said.

Where no source is named, the value is common practice, no source: it starts the estimate, the log
corrects it.
"""

from __future__ import annotations

from ...domain import Window
from ..base import Scale
from ..half_blind import figures as fits

# --- words as edges between neighbouring ones, and what counts as good ---------------------------
PUSH_EDGES = (-0.10, -0.04, 0.0, 0.06, 0.12, 0.25)  # a flat push fit, by a firm hand; a guess
PUSH_WINDOW = Window(0.0, 0.06)
FREE_EDGES = (0.0, 0.05, 0.15, 0.40, 0.60, 0.90)  # a panel that moves by itself; a guess
FREE_WINDOW = Window(0.15, 0.40)
STEP_EDGES = fits.SEAT_EDGES  # flush: a sheet of paper
# `closed` says only that nothing is seen: a void behind a shoulder cannot be.
SHOULDER_EDGES = (0.05, 0.20, 0.60)

# --- instruments ----------------------------------------------------------------------------------
FEELER = 0.03  # one blade in a parallel gap
JAWS = 0.042  # inside jaws less outside ones
HOLLOW = 0.02  # a slot by the inside jaws in three places
STEP = 0.04  # a depth rod

# --- before any trial cut, and from piece to piece ------------------------------------------------
HEIGHT_BY_EYE = 0.30
FENCE_ZERO, FENCE_DAY = fits.FENCE_ZERO_MEASURED, fits.DAY_TO_DAY_FENCE
STOP_ZERO = 0.10
DEPTH = 0.10  # of a mortise or a groove, along its floor
THICKNESS = 0.03  # of boards planed together: of the stock, and again of each piece
FIT_DAY = 0.025
FIRST_SURE = 1.645  # sds by which a first piece is left thick: it can be cut again
CHIPS = 0.05  # between a board's end and the stop

# --- moisture -------------------------------------------------------------------------------------
YEAR = 4.0  # per cent that wood in a heated house goes through in a year
WIDE_TENON = 0.5  # mm that a tenon moves in a year, from which on its glue is minded
JOINED = 0.5  # mm that a joint between boards opens and closes
LAPPED = 0.3  # mm that a lap opens at its shoulder

# --- limits of the work ---------------------------------------------------------------------------
LEAST_WEB = 3.0
WEB_SHARE = 1 / 4  # of the thickness that a tenon or tongue keeps
LEAST_HEIGHT = 0.5
LEAST_LENGTH, LONGEST = 2.0, 200.0  # of a tenon, a tongue or a lap
STOP_TRIFLE = 0.25  # no stop is set anew for less


def steps(low: float, high: float) -> Scale:
    """Return what is assumed of a step between two faces. low, high: what is wanted of it."""
    return Scale(STEP_EDGES, Window(low, high), STEP, 4.0, 1.0)


def shoulders(low: float, high: float) -> Scale:
    """Return what is assumed of a shoulder."""
    return Scale(SHOULDER_EDGES, Window(low, high), FEELER, 4.0, 1.0)


def fitting(edges: tuple[float, ...], window: Window) -> Scale:
    """Return what is assumed of a fit."""
    return Scale(edges, window, FEELER, 1.0, 0.4)
