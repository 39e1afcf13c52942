"""The assumed figures of housings and rabbets: words, windows and uncertainties. Lengths in mm;
standard uncertainties unless said.

Where no source is named, the value is common practice, no source: it starts the estimate, the log
corrects it.
"""

from __future__ import annotations

import math

from ... import defaults
from ...domain import Window
from ..base import Scale
from ..half_blind import figures as fits

STEP_EDGES = fits.SEAT_EDGES  # level: a sheet of paper
TOLERANCE = fits.SEAT_TOLERANCE

# --- instruments ----------------------------------------------------------------------------------
FEELER = 0.03  # one blade beside the sheet
JAWS = 0.042  # a slot by the inside jaws less the sheet by the outside ones
SLOT = 0.02  # the inside jaws in three places
ROD = 0.04  # a depth rod

# --- how thick a sheet is -------------------------------------------------------------------------
# Plywood runs 0.4 to 0.8 mm under its label (published undersizes); once a batch is known, what is
# left is the scatter from sheet to sheet and within one.
SOLD_UNDER, SOLD_SD = -0.5, 0.4
BETWEEN = 0.20  # measured once somewhere, or within a batch
AT_JOINT = 0.03  # measured at the joint, three places, the thickest
BATCH = math.sqrt(SOLD_SD**2 - BETWEEN**2)

# --- before any trial cut, and from piece to piece ------------------------------------------------
MOVED_ON = 0.02  # of a fence moved on by a dial, a feeler or a spacer
DAY = 0.025  # set-up to set-up

FAR_OFF = 1.0  # of a height or an exposure that is far off: a turn of a lift, a wrong mark

# --- limits of the work ---------------------------------------------------------------------------
LEAST_DEPTH = 1.0


def depth_scale(low: float, high: float) -> Scale:
    """Return what is assumed of a depth that is good between two misfits, mm."""
    return Scale(STEP_EDGES, Window(low, high), ROD, 4.0, FAR_OFF)


def plywood_limits(thickness: float) -> tuple[float, float]:
    """Return how far plywood of a nominal thickness may be over and under it, mm: +(0.2 + 0.03 t),
    -(0.4 + 0.03 t), as makers' tables print them.
    """
    return 0.2 + 0.03 * thickness, -(0.4 + 0.03 * thickness)


LIFT = defaults.HEIGHT_REPEAT
