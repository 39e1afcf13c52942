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
STRAIGHT_PRINTED = (-0.06, 0.05)  # the slot that a straight bit cuts, runout in it
DIAMETER_MEASURED = (0.0, 0.02)  # a caliper across two cutting edges
SHARPENING = (-0.10, 0.063)  # not measured since: each sharpening takes another 0.05-0.2 off
ANGLE_DEG = 0.15  # up to a quarter degree either way
HEIGHT_ZERO = 0.05  # where the height gauge's zero really is
STOCK_EFFECT = 0.03  # how a wood springs and crushes

# --- from piece to piece, and what words and instruments are worth --------------------------------
HEIGHT_REPEAT = 0.03  # lock and lift, per piece: worth 2 tan(theta) times as much of clearance
WORD_NOISE = 0.025  # a word, on top of its band
BAND_EDGES = (
    0.05  # how well a person keeps to a word's band: counts where a number was said with the word
)
CALIPER = 0.03  # a caliper on wood
FEELER = 0.05  # a feeler under a pull-apart gap, of the gap
METER = 1.0  # %, a moisture meter or the air's humidity as a gauge tells it, either way
METER_STEP = 0.1  # %: no reading of a board is finer
SLIP = 0.02  # one verdict in fifty is about something else: misheard, another edge, a slipped lift
# one verdict in a hundred has its sides swapped: proud for shy, far for near, tight for loose
SWAP_ONCE = 0.01
# and in one set-up of a hundred all of them have: the boards are looked at the other way round
SWAPPED = 0.01
SWAPPED_SAID_AGAIN = 0.01  # times that, for each time a side is said again of a piece cut alike
AGAIN = 0.5  # chance that a piece is logged twice, given the same words within two minutes
AGAIN_STEP = 0.05  # what a number is read to: said of the same piece again it is the same number

# --- what counts as good --------------------------------------------------------------------------
AS_FOUND_HOURS = (
    24  # a height older than that is measured before it is trusted; common practice, no source
)
DOUBTFUL = 0.1  # of all misfits lying inside their windows: below it a word alone is not enough
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

# --- limits of the work ---------------------------------------------------------------------------
FENCE_SIDE_SHAVING = 0.1  # a shaving thicker than this at the fence can snatch the work

# --- the choice -----------------------------------------------------------------------------------
ONE_SIDED_CHANCE = 0.99  # of a window without a second end: further in, a hundredth of a piece less
NIBBLE = 0.3  # of a fresh end beside its cut: 3 minutes to 7 and the wood; common practice
MEDIAN_BEYOND = 3.0  # prior sd in half-windows above which the median beats the best chance
SURPRISE = 0.01

# --- moves ----------------------------------------------------------------------------------------
TRIFLE = 0.02  # a move of depth or fence that no maker would dial, and no window feels

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

# --- a run of real boards, looked at now and then -------------------------------------------------
# All of it common practice, no source: what a maker looks at, and how soon again.
RUN_DRIFT = (
    0.1  # chance that the fit drifts in a run: a bit creeping, a lock giving, an edge dulling
)
RUN_HEIGHT = 0.01  # mm of height a joint, sd of such a drift
LOOK_CAP = 48  # joints: nobody lets more of them pass without a look
LOOK_RISK = 0.1  # chance that the fit leaves its window before the next look, at most
LOOK_SURE = 0.6  # chance that the next joint fits, from which on it is far from the edge
LOOK_NEAR = 0.4  # below which it is at the edge

# --- what the cures of a fault are reckoned with --------------------------------------------------
LIFT_PLAY = 0.1  # of a lift whose play is not known

Band = tuple[float, float, float]


@lru_cache(maxsize=64)
def bands(edges: tuple[float, ...]) -> tuple[tuple[Band, ...], ...]:
    """Return each word's band as (low, high, weight) between neighbouring edges, open at
    both ends.
    """
    ends = (-math.inf, *edges, math.inf)
    return tuple(((low, high, 1.0),) for low, high in pairwise(ends))
