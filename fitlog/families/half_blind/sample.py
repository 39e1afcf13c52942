"""A kept sample of a joint that was good: what it says of bit, pitch and wood, the height it was
cut at left out.

That height is what is lost, so it is eliminated: a tail's end is P - m and the socket is D wide,
hence m = P - D + c and t = D - c, with c the clearance between the two parts as a caliper finds it,
which is what is felt less what the wood and the day add. Rods at a tail's root or in a slot's
corners don't depend on the height at all. Where the log knows the height, the readings are those of
any piece cut at it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ... import defaults
from ...domain import Piece, Reading, Verdict, Window
from ...estimator.evidence import Term, TermReading
from . import figures
from .causes import causes
from .geometry import clearance as clearance_at
from .geometry import slope_clearance_angle
from .names import set_to
from .plan import DovetailPlan
from .readings import term_readings

_FELT = {
    "clearance": 1.0,
    "species": -1.0,
    "stock": -1.0,
    "fit day": -1.0,
}  # what a caliper finds of the clearance


@dataclass(frozen=True, slots=True)
class Sample:
    """A joint that was kept. made: how it was cut, as far as that is known; pitch_known: False when
    only it tells it.

    height: the one it was cut at, mm, where a set-up of the log says it; None: lost.
    """

    made: DovetailPlan
    readings: tuple[Reading, ...] = ()
    pitch_known: bool = True
    height: float | None = None


def sample_clearance(sample: Sample, window: Window, noise: float) -> Term:
    """The clearance of a sample that was good, mm: rectangular over the window (JCGM 100:2008,
    4.3.7), a word's noise on top.

    One term, shared by all readings of the sample. Where a pull-apart gap says that it was not in
    the window, all is open but the gap.
    """
    open_ = gap_outside(sample, window, noise)
    sd = figures.LOST_SIZE if open_ else math.hypot(window.half / math.sqrt(3), noise)
    return Term(("clearance", "sample"), 1.0, window.middle, sd)


def gap_outside(sample: Sample, window: Window, noise: float) -> bool:
    """Tell whether a pull-apart gap cannot be squared with a good joint (two sds past the window),
    its height lost.
    """
    if sample.height is not None:
        return False
    lift = 2 * math.tan(sample.made.bit.theta)
    doubt = 2 * math.hypot(noise, lift * defaults.FEELER)
    gaps = [lift * r.value for r in sample.readings if r.kind == "pull_gap"]
    return any(not window.low - doubt <= c <= window.high + doubt for c in gaps)


def sample_readings(sample: Sample, clearance: Term) -> tuple[TermReading, ...]:
    """Return what each reading of the sample says, in the order given; clearance: see
    `sample_clearance`.
    """
    known = {t.key[0]: t for t in causes(sample.made, "fit", 0.0)}
    known["clearance"] = clearance
    known["fit day"] = replace(
        known["fit day"], key=("fit day", "sample"), own=False
    )  # one day for all its readings
    if not sample.pitch_known:
        known["pitch"] = Term(("pitch", "sample"), 1.0, 0.0, figures.LOST_SIZE)
    if sample.height is not None:
        return tuple(_at_height(sample.made, sample.height, r) for r in sample.readings)
    return tuple(_heard(sample.made, r, known) for r in sample.readings)


def _at_height(made: DovetailPlan, height: float, reading: Reading) -> TermReading:
    """A reading of a piece of a set-up, cut at this height.

    Its pull-apart gap reads the fit's offset on a day that the set-up's own words have spoken of
    already: a day more of noise keeps that from counting twice.
    """
    terms = causes(made, "fit", height)
    if reading.kind != "pull_gap":
        return term_readings(
            made, Piece(0, set_to(height, 1.0, 1.0), Verdict(), (reading,), ()), terms
        )[0]
    lift = 2 * math.tan(made.bit.theta)
    offset = lift * reading.value - clearance_at(
        made.bit.diameter, made.pitch, height, made.bit.theta
    )
    sd = math.hypot(lift * defaults.FEELER, lift * defaults.HEIGHT_REPEAT, figures.DAY_TO_DAY_FIT)
    return TermReading(reading.kind, terms, offset, sd)


def _heard(made: DovetailPlan, reading: Reading, known: dict[str, Term]) -> TermReading:
    bit = made.bit
    if reading.kind == "mouth":
        nominal, factors, sd = (
            made.pitch - bit.diameter,
            {"pitch": 1.0, "diameter": -1.0, **_FELT},
            defaults.CALIPER,
        )
    elif reading.kind == "tail_width":
        less = {name: -factor for name, factor in _FELT.items()}
        nominal, factors, sd = bit.diameter, {"diameter": 1.0, **less}, defaults.CALIPER
    elif reading.kind == "pull_gap":  # c = 2 g tan(theta)
        lift = 2 * math.tan(bit.theta)
        turn = slope_clearance_angle(reading.value, bit.theta)
        nominal, factors, sd = (
            (1 - lift) * reading.value,
            {"clearance": 1.0, "angle": turn},
            lift * defaults.FEELER,
        )
    else:
        piece = Piece(0, set_to(1.0, 1.0, 1.0), Verdict(), (reading,), ())  # rods know no height
        return term_readings(made, piece, tuple(known.values()))[0]
    terms = tuple(replace(known[name], factor=factor) for name, factor in factors.items())
    return TermReading(reading.kind, terms, reading.value - nominal, sd)


def pitch_of(readings: Sequence[Reading]) -> float | None:
    """Return the pitch that a sample's own dimensions add up to, mm: m + t, or over rods + between
    the same rods.
    """
    found = {(r.kind, r.rod): r.value for r in readings}
    if ("mouth", None) in found and ("tail_width", None) in found:
        return found["mouth", None] + found["tail_width", None]
    for (kind, rod), value in found.items():
        if kind == "over_rods" and ("between_rods", rod) in found:
            return value + found["between_rods", rod]
    return None
