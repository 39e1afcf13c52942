"""The assumed figures of box joints: words, windows, limits and uncertainties. Lengths in mm;
standard uncertainties unless said.

Where no source is named, the value is common practice, no source: it starts the estimate, the log
corrects it.
"""

from __future__ import annotations

from ...domain import Aspect, Window
from ..base import Scale
from ..half_blind import figures as fits
from ..half_blind.names import MANY_TAILS
from .names import ENDS, FIT
from .plan import FingerPlan

# --- words as edges between neighbouring ones, and what counts as good ---------------------------
# What fits as a slide does is said as of dovetails, with many fingers as with many tails.
FIT_EDGES = fits.word_sets(FIT)
FIT_WINDOWS = {"": fits.FIT_WINDOW, MANY_TAILS: fits.FIT_WINDOW_MANY_TAILS}
STEP_EDGES = fits.SEAT_EDGES  # flush: a sheet of paper
ENDS_TOLERANCE = fits.SEAT_TOLERANCE

# --- instruments ----------------------------------------------------------------------------------
PLAY = 0.03  # a dial or a feeler at the board's edge
JAWS = 0.042  # a slot by the inside jaws less a finger by the outside ones
SLOT = 0.02  # the inside jaws in three places of a slot
STEP = 0.03

# --- before any trial cut, and from piece to piece ------------------------------------------------
INDEX = 0.010  # of one step, by a key and the hand or by a spacer; a guess too
FIT_DAY = 0.025
THICKNESS = 0.03  # of boards planed together
CHIPS = 0.05  # under the board's end

# --- limits of the work ---------------------------------------------------------------------------
LEAST_FINGER = 3.0
SLENDER = 4.0  # fingers no longer than so many times their width
SAWN_OFF = 5.0  # more than the height, for the next trial


def scales(plan: FingerPlan) -> dict[Aspect, Scale]:
    """Return what is assumed of the fit and the ends of a plan's joints."""
    wanted, tolerance = plan.wanted_step, ENDS_TOLERANCE
    many = plan.word_set
    return {
        FIT: Scale(FIT_EDGES[many], FIT_WINDOWS[many], PLAY, 1.0, 0.4),
        ENDS: Scale(STEP_EDGES, Window(wanted - tolerance, wanted + tolerance), STEP, 4.0, 3.0),
    }


def word_sets(aspect: Aspect) -> dict[str, tuple[float, ...]]:
    """Return every set of edges between an aspect's words, mm, by `Plan.word_set`."""
    return dict(FIT_EDGES) if aspect == FIT else {"": STEP_EDGES}
