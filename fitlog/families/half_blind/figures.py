"""The assumed figures of the half-blind dovetail's words, windows, lapses and limits. Lengths in
mm; standard uncertainties unless said.

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
# from this many tails on the looser window: small errors of the steps add up, and glue needs time
MANY_TAILS_FROM = 8
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
# mm, sd: by how much a wall is misread when it is, which no walls that differ by millimetres can
# come from
MISREAD_WALL = 0.5

# --- before any trial cut -------------------------------------------------------------------------
PITCH_BY_SCALE = 0.05
PITCH_BY_SPACER = 0.01
DAY_TO_DAY_FIT = 0.025
FENCE_ZERO_MEASURED = 0.25
FENCE_ZERO_BY_EYE = 0.5
SOCKET_ZERO = 0.25
DAY_TO_DAY_FENCE = 0.05  # setting a fence or a stop anew on another day
DAY_TO_DAY_SOCKET = 0.05
LOST_SIZE = 1.0  # of a kept sample what nobody wrote down: so wide that only its own readings say
# sd of the zero, two days at 0.05 in it: a fence that one good set-up told of starts where it was
# good
FENCE_REMEMBERED = 0.1

# --- limits of the work ---------------------------------------------------------------------------
LEAST_LAP = 2.4
LEAST_STRAIGHT_TAIL = 3.0  # what the rabbet leaves of the tail board
LEAST_MOUTH = 3.0  # a narrower mouth leaves a weak pin and a bit that is nearly all flank
LEAST_WALL = 3.0  # wood left beside the outer slot of a test piece
MOST_SHAVING = 0.8  # of one second pass after the turn
FENCE_SIDE_CHANCE = 0.05  # of a shaving past `FENCE_SIDE_SHAVING`: stated from here on
FENCE_SIDE_ROUNDING = (
    0.01  # rounding to the fence's step may aim this far inside: a shaving too thin to feel
)
START_OUTSIDE = (
    0.2  # a first fence setting lies this far too far out: the shaving then falls on the safe side
)
# mm, sd: a fence whose zero is known no better is looked at by its walls before any second pass
ZERO_KNOWN = 0.1
SLOT_WORTH = (
    0.1  # test pieces that a slot must save: it costs a minute, a piece a quarter of an hour
)

# --- the real boards ------------------------------------------------------------------------------
LEAST_HALF_PIN = 3.0  # a thinner half-pin splits off at the edge
LEAST_PIN = 2.0  # at the root of a pin or a tail
LEAST_SPREAD = (
    2.0  # outermost passes of a wide socket nearer than this are no wide tail, only a loose one
)
MOST_TAIL = 4.0  # a tail wider than this many pins lets the board cup between them
GOOD_LAP = (0.22, 0.40)  # of the pin board's thickness
SLENDER = 0.35  # a pin or a tail thinner at its root than this share of its length is weak
PASS_OVERLAP = 1.0  # of neighbouring passes that clear a wide socket
FENCE_REACH = 300.0  # many a fence goes no further out
RABBET_FIRST = 1.0  # a light first pass: the edge of the wood doesn't tear
RABBET_MOST = 3.0  # of one later pass
WASTE_FROM = 60.0  # mm2 of slot: from here on a straight bit first is worth its change of bits
# how much longer than the tails the rabbet may be, never shorter: the shoulder then stands that far
# off the pin board, a gap on the inside that a test end shows as a drawer does
RABBET_OVER = 0.2
GROOVE_COVER = 1.0  # of tail beside a bottom's groove: grooves and heights are a few tenths off
GROOVE_SHARE = 1 / 3  # of the thinner board: how deep a groove is, where nobody said
GROOVE_DEPTH = 6.0  # and no deeper
LEAST_GROOVE = 3.0  # no bottom is let into a narrower one
GROOVE_POINTS = 0.5  # against a layout for each mm that its tail is short of covering the groove
WIDE_BOARD = 200.0  # from this width on boards cup and move enough to show


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
