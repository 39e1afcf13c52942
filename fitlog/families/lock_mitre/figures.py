"""The assumed figures of the lock mitre's words, windows and causes. Lengths in mm; standard
uncertainties unless said.

Where no source is named, the value is common practice, no source: it starts the estimate, the log
corrects it. Those marked "a guess" are not even that.
"""

from __future__ import annotations

from ...domain import Aspect, Window
from ..base import Scale
from ..half_blind import figures as fits
from .names import CORNER, FENCE, FIT, HEIGHT

STEP_EDGES = fits.SEAT_EDGES  # flush: a sheet of paper
PAIR_WINDOW = Window(-0.10, 0.10)
CORNER_WINDOW = Window(-0.10, 0.10)

# --- instruments ----------------------------------------------------------------------------------
STEP = 0.04  # a depth rod, or a feeler under a straightedge
LEVEL = fits.SEAT_EDGES[4] / 2  # of a step that was said to be none

# --- before any trial cut -------------------------------------------------------------------------
MIDDLE = 0.40  # of the profile, above the table and out from the fence, as first found
BY_EYE = 0.40  # a middle brought to a centre line by eye, each time anew
BY_BLOCKS = 0.10  # set up by kept ends
REACH_ZERO = 0.10  # of the rim beyond the fence, by a depth rod
THICKNESS = 0.03  # of boards planed together: of the stock, and again of each piece
HEIGHT_DAY, FENCE_DAY = 0.025, fits.DAY_TO_DAY_FENCE
WARPED = 0.05  # an end that doesn't lie down, of each piece

# --- where a set-up begins ------------------------------------------------------------------------
BLUNT_FIRST = 1.645  # sds by which a first end is kept blunt: nothing is shortened
WELL_KNOWN = 3.0  # half-windows of sd up to which a first piece may come out good
BLUNT = 0.05  # that an end is then kept blunt: its edge keeps its bearing

# --- limits of the work ---------------------------------------------------------------------------
OFF_MIDDLE = 1 / 4  # of the board that the profile's middle may lie off its own; a guess
MARKED = (0.5, 1.0)  # of the profile's height: the boards that a bit is marked for; a guess
SAWN_OFF = 3.0  # beside the thickness, for another trial on the same scrap
EDGE_SEEN = 0.05  # of length that nobody measures on a part

SCALES: dict[Aspect, Scale] = {
    HEIGHT: Scale(STEP_EDGES, PAIR_WINDOW, STEP, 4.0, 1.0),
    FENCE: Scale(STEP_EDGES, PAIR_WINDOW, STEP, 4.0, 1.0),
    CORNER: Scale(STEP_EDGES, CORNER_WINDOW, STEP, 4.0, 1.0),
    FIT: Scale(fits.FIT_EDGES, fits.FIT_WINDOW, STEP, 1.0, 0.4),
}


def word_sets(aspect: Aspect) -> dict[str, tuple[float, ...]]:
    """Return every set of edges between an aspect's words, mm, by `Plan.word_set`."""
    return {"": SCALES[aspect].edges}
