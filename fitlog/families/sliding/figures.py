"""The assumed figures of the sliding dovetail's words, windows and causes. Lengths in mm; standard
uncertainties unless said.

Where no source is named, the value is common practice, no source: it starts the estimate, the log
corrects it. Those marked "a guess" are not even that.
"""

from __future__ import annotations

from ...domain import Aspect, Window
from .names import FIT, LONG, LONGEST, SHOULDER

# --- words, as edges between neighbouring words from the most negative misfit up ------------------
FIT_EDGES: dict[str, tuple[float, ...]] = {
    "": (-0.06, 0.0, 0.04, 0.10, 0.18, 0.30),
    LONG: (-0.06, 0.04, 0.08, 0.15, 0.23, 0.30),  # more rubs, so the same hand finds it tighter
    LONGEST: (-0.06, 0.06, 0.10, 0.18, 0.26, 0.36),
}
# `closed` says only that nothing is seen: a void behind a shoulder cannot be.
SHOULDER_EDGES = (0.05, 0.20, 0.60)

# --- what counts as good --------------------------------------------------------------------------
FIT_WINDOWS = {"": Window(0.04, 0.10), LONG: Window(0.08, 0.15), LONGEST: Window(0.10, 0.18)}
# A tongue a little short closes its shoulders; 0.13 short was advised in print ("Bookcases").
SHOULDER_WINDOW = Window(-0.20, 0.0)

# --- lapses ---------------------------------------------------------------------------------------
# By aspect: the range in which a slipped reading may fall, and by how much a zero may be far off.
SLIPS: dict[Aspect, tuple[float, float]] = {FIT: (1.0, 0.4), SHOULDER: (2.0, 0.4)}

# --- before any trial cut -------------------------------------------------------------------------
EXPOSURE_ZERO = {"shaving": 0.03, "rod": 0.10, "eye": 0.30}
THICKNESS = 0.03  # of shelves planed together: of the stock, and again of each end
TONGUE_ZERO = 0.05  # where the lift and the packing are left alone
TONGUE_ZERO_TWO_MACHINES = 0.15
CHIPS = 0.05  # in the sockets and under the shelves' ends of one day
PRESSED = 0.03  # how hard each end is held down; a guess
PLAY_READ = 0.03  # sideways play by a feeler blade or a dial
GAP_READ = 0.03  # one feeler blade in an open shoulder
DAY_TO_DAY_FIT = 0.025

# --- where a set-up begins ------------------------------------------------------------------------
SHARE_OF_PANEL = 0.4  # that a socket is deep; a guess

# --- limits of the work ---------------------------------------------------------------------------
LEAST_ROOT = 3.0
ROOT_SHARE = 1 / 3  # of the shelf that a tongue's root keeps
DEEPEST = 0.5  # of the panel that a socket may take
LEAST_HEIGHT = 2.0
LEAST_EXPOSURE = 0.3  # a shallower flank holds nothing
SHALLOWER = 1.5  # that the waste is cut before the socket (1/16 in in print: WOOD magazine)


def word_sets(aspect: Aspect) -> dict[str, tuple[float, ...]]:
    """Return every set of edges between an aspect's words, mm, by `Plan.word_set`."""
    return FIT_EDGES if aspect == FIT else {"": SHOULDER_EDGES}
