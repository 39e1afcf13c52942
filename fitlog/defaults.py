"""Every assumed number in one place, each with its reason. Lengths in mm; standard uncertainties
unless said.

Where no source is named, the value is common practice, no source: it starts the estimate, the log
corrects it.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise

# --- what is known of a bit, a machine and the wood before any trial cut --------------------------
DIAMETER_PRINTED = (-0.07, 0.03)  # bits come 0.05-0.10 under their printed size
DIAMETER_MEASURED = (0.0, 0.02)  # a caliper across two cutting edges
SHARPENING = (-0.10, 0.063)  # not measured since: each sharpening takes another 0.05-0.2 off
ANGLE_DEG = 0.15  # up to a quarter degree either way
PITCH_BY_SCALE = 0.05
PITCH_BY_SPACER = 0.01
HEIGHT_ZERO = 0.05  # where the height gauge's zero really is
STOCK_EFFECT = 0.03  # how a wood springs and crushes
DAY_TO_DAY_FIT = 0.025
FENCE_ZERO_MEASURED = 0.25
FENCE_ZERO_BY_EYE = 0.5
SOCKET_ZERO = 0.25
DAY_TO_DAY_FENCE = 0.05  # setting a fence or a stop anew on another day
DAY_TO_DAY_SOCKET = 0.05

# --- from piece to piece, and what words and instruments are worth --------------------------------
HEIGHT_REPEAT = 0.03  # lock and lift, per piece: worth 2 tan(theta) times as much of clearance
WORD_NOISE = 0.025  # a word, on top of its band
BAND_EDGES = (
    0.05  # how well a person keeps to a word's band: counts where a number was said with the word
)
CALIPER = 0.03  # a caliper on wood
FEELER = 0.05  # a feeler under a pull-apart gap, of the gap
LOST_SIZE = 1.0  # of a kept sample what nobody wrote down: so wide that only its own readings say
METER = 1.0  # %, a moisture meter or the air's humidity as a gauge tells it, either way
METER_STEP = 0.1  # %: no reading of a board is finer
SLIP = 0.02  # one verdict in fifty is about something else: misheard, another edge, a slipped lift
# one verdict in a hundred has its sides swapped: proud for shy, far for near, tight for loose
SWAP_ONCE = 0.01
# and in one set-up of a hundred all of them have: the boards are looked at the other way round
SWAPPED = 0.01
SWAPPED_SAID_AGAIN = 0.01  # times that, for each time a side is said again of a piece cut alike
# mm, sd: by how much a wall is misread when it is, which no walls that differ by millimetres can
# come from
MISREAD_WALL = 0.5
AGAIN = 0.5  # chance that a piece is logged twice, given the same words within two minutes
AGAIN_STEP = 0.05  # what a number is read to: said of the same piece again it is the same number

# --- what counts as good --------------------------------------------------------------------------
AS_FOUND_HOURS = (
    24  # a height older than that is measured before it is trusted; common practice, no source
)
# from this many tails on the looser window: small errors of the steps add up, and glue needs time
MANY_TAILS = 8
DOUBTFUL = 0.1  # of all misfits lying inside their windows: below it a word alone is not enough
SLOT_WORTH = (
    0.1  # test pieces that a slot must save: it costs a minute, a piece a quarter of an hour
)
# what a joint spoiled in the real boards costs, in test pieces: a confirming cut must save more
SPOILED_JOINT = 5.0

# A settled centre or seat may be wrong once in twenty: what that spoils, SPOILED_JOINT / 20, is the
# wood of a quarter of a test piece, and a piece more would find only a part of it.
SETTLED_CHANCE = 0.95
NO_BETTER = (
    1 / 5.0
)  # of that chance: a piece that raises it by less costs more than it saves (SPOILED_JOINT)
# the same of words alone: each tells a little, so that several together may be worth their wood
NO_BETTER_IN_WORDS = 0.02
NO_BETTER_ON_MARKS = (
    0.1  # and where the adjuster is coarse: there the same marks give the same words again
)
WORTH_SAYING = 0.01  # of the chance: another depth for the real boards costs nothing
# mm, sd: a fence whose zero is known no better is looked at by its walls before any second pass
ZERO_KNOWN = 0.1

# --- limits of the work ---------------------------------------------------------------------------
LEAST_LAP = 2.4
LEAST_STRAIGHT_TAIL = 3.0  # what the rabbet leaves of the tail board
LEAST_MOUTH = 3.0  # a narrower mouth leaves a weak pin and a bit that is nearly all flank
LEAST_WALL = 3.0  # wood left beside the outer slot of a test piece
MOST_SHAVING = 0.8  # of one second pass after the turn
FENCE_SIDE_SHAVING = 0.1  # a shaving thicker than this at the fence can snatch the work
FENCE_SIDE_CHANCE = 0.05  # stated from this chance on
FENCE_SIDE_ROUNDING = (
    0.01  # rounding to the fence's step may aim this far inside: a shaving too thin to feel
)
# sd of the zero, two days at 0.05 in it: a fence that one good set-up told of starts where it was
# good
FENCE_REMEMBERED = 0.1
START_OUTSIDE = (
    0.2  # a first fence setting lies this far too far out: the shaving then falls on the safe side
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
RABBET_OVER = 0.2  # how much longer than the tails the rabbet may be, never shorter

# --- the choice -----------------------------------------------------------------------------------
ONE_SIDED_CHANCE = 0.99  # of a window without a second end: further in, a hundredth of a piece less
NIBBLE = 0.2  # of a piece: another cut on the same end, which takes minutes and no wood; a guess
MEDIAN_BEYOND = 3.0  # prior sd in half-windows above which the median beats the best chance
SURPRISE = 0.01

# --- moves ----------------------------------------------------------------------------------------
TRIFLE = 0.02  # a move of depth or fence that nobody asked for and no maker would dial

# --- what the history teaches ---------------------------------------------------------------------
VOICE_MEETINGS = (
    8,
    400,
)  # learned from this many words that met a reading on; the newest of more than the second
MEETING_SD = 0.05  # a reading vaguer than this meets no word
SPECIES_SHARE = (
    0.8  # of the stock effect's sd: goes with the species, the rest with the stock itself
)
COMPONENT_LESSONS = (
    8,
    200,
)  # the assumed sds are re-estimated from this many lessons on; more than the second add nothing
COMPONENT_DOUBT = (
    0.5  # sd of the log of an assumed sd: an assumed sd may well be off by a factor of two
)
# sd of the log of the scale that all of a new shop's assumed sds share; see bench_pieces --only
# chances
SCALE_DOUBT = 0.4
COMPONENT_RANGE = 5.0  # factor by which an assumed sd is changed at most
# finished set-ups of each bit, machine, wood, person and joint looked back on: more hardly move a
# law
HISTORY_NEWEST = 48
# of each its newest pieces; those before were far off (bench_pieces.py --only newest,
# bench_size.py)
HISTORY_PIECES = 5
BIT_NEWEST = (
    200  # of one bit, and of all, where it is asked what a bit cuts like: see COMPONENT_LESSONS
)
LESSON_WIDTH = (
    1.5  # a lesson is taken from a set-up under a prior this much wider than the assumed one
)

# --- faults that the log shows by itself ----------------------------------------------------------
MOVE_FAULT = (
    0.08  # chance that a move of height or fence did nothing, or twice what was asked; half each
)
MOVE_FAULT_LEAST = 0.05  # a smaller move cannot be told from none
# chance that the fit or the fence drifts through a set-up: a bit creeping in its collet, a fence in
# its lock
DRIFT = 0.03
DRIFT_HEIGHT = 0.05  # mm of height a piece, sd of such a drift
DRIFT_FENCE = 0.05  # and of the fence
DRIFT_PIECES = 4  # judged pieces below which no drift is spoken of
FAULT_SURE = 0.67  # chance of a fault from which on it is spoken of
FAULT_LOOK_BACK = 12  # newest judged pieces that are looked at

# --- what the cures of a fault are reckoned with --------------------------------------------------
LIFT_PLAY = 0.1  # of a lift whose play is not known
WIDE_BOARD = 200.0  # from this width on boards cup and move enough to show

Band = tuple[float, float, float]


@lru_cache(maxsize=64)
def bands(edges: tuple[float, ...]) -> tuple[tuple[Band, ...], ...]:
    """Return each word's band as (low, high, weight) between neighbouring edges, open at
    both ends.
    """
    ends = (-math.inf, *edges, math.inf)
    return tuple(((low, high, 1.0),) for low, high in pairwise(ends))
