"""What a reading means: from what an instrument shows to a misfit, or to the bit's own geometry."""

from __future__ import annotations

import math

from ... import defaults
from ...domain import Piece, Reading
from ...estimator.evidence import Term, TermReading
from ..heard import Known, combine
from . import geometry
from .plan import DovetailPlan

TELLING = (
    "mouth",
    "tail_width",
    "between_rods",
    "over_rods",
)  # readings that tell of the bit itself


def read_clearance(piece: Piece, theta: float) -> Known | None:
    """Clearance from the pull-apart gaps of a piece: c = 2 tan(theta) g, u(c) = 2
    tan(theta) u(g).
    """
    gaps = [r.value for r in piece.readings if r.kind == "pull_gap"]
    said = piece.verdict.of("fit")
    if said is not None and said.size is not None:
        gaps.append(said.size)
    factor = 2 * math.tan(theta)
    return combine([(factor * gap, factor * defaults.FEELER) for gap in gaps])


def read_centre(piece: Piece) -> Known | None:
    """Error of the centre: half the extra width after the turn, or half the difference of the two
    walls.

    Reversal: the error is half the difference of the two orientations (Evans, Hocken, Estler, CIRP
    Annals 45(2), 1996; from memory).
    """
    found = [
        ((r.value - (r.other or 0.0)) / 2, defaults.CALIPER / math.sqrt(2))
        for r in piece.readings
        if r.kind == "walls"
    ]
    said = piece.verdict.of("centre")
    if said is not None and said.size is not None:
        found.append((said.side * said.size / 2, defaults.CALIPER / 2))
    return combine(found)


def read_seat(piece: Piece) -> Known | None:
    """The step said with its number, proud positive."""
    said = piece.verdict.of("seat")
    if said is None or said.size is None:
        return None
    return said.side * said.size, defaults.CALIPER


def term_readings(
    plan: DovetailPlan, piece: Piece, fit_terms: tuple[Term, ...]
) -> tuple[TermReading, ...]:
    """Return what mouth, tail width and rods say of diameter, angle, pitch and height zero."""
    height = piece.settings["bit_height"]
    return tuple(
        _term_reading(plan, height, r, fit_terms) for r in piece.readings if r.kind in TELLING
    )


def _term_reading(
    plan: DovetailPlan, height: float, reading: Reading, fit_terms: tuple[Term, ...]
) -> TermReading:
    nominal, terms = expected(plan, height, reading, fit_terms)
    repeat = sum(t.factor for t in terms if t.key[0] == "height zero") * defaults.HEIGHT_REPEAT
    return TermReading(
        reading.kind, terms, reading.value - nominal, math.hypot(defaults.CALIPER, repeat)
    )


def expected(
    plan: DovetailPlan, height: float, reading: Reading, fit_terms: tuple[Term, ...]
) -> tuple[float, tuple[Term, ...]]:
    """Return what a reading of that kind shows by the bit's figures, mm, and by which causes it is
    off. fit_terms: those of the fit, of which they are some.
    """
    nominal, factors = _expected(plan, height, reading)
    causes = {t.key[0]: t for t in fit_terms}
    return nominal, tuple(
        Term(causes[name].key, factor, causes[name].mean, causes[name].sd)
        for name, factor in factors.items()
    )


def _expected(
    plan: DovetailPlan, height: float, reading: Reading
) -> tuple[float, dict[str, float]]:
    """Nominal value of a reading and its sensitivities to the true diameter, angle, pitch and
    height zero.
    """
    bit, theta = plan.bit, plan.bit.theta
    turn = geometry.slope_clearance_angle(height, theta)
    lift = geometry.slope_clearance_height(theta)
    if reading.kind == "mouth":
        return geometry.mouth(bit.diameter, height, theta), {
            "diameter": 1.0,
            "angle": turn,
            "height zero": lift,
        }
    if reading.kind == "tail_width":
        nominal = geometry.tail_end_width(bit.diameter, plan.pitch, height, theta)
        return nominal, {"pitch": 1.0, "diameter": -1.0, "angle": -turn, "height zero": -lift}
    rod = reading.rod or 0.0
    rod_turn = rod * (math.tan(theta) / math.cos(theta) + 1 / math.cos(theta) ** 2)
    if reading.kind == "between_rods":
        return geometry.between_rods(bit.diameter, rod, theta), {
            "diameter": 1.0,
            "angle": -rod_turn,
        }
    narrow = geometry.tail_root_width(bit.diameter, plan.pitch)
    return geometry.over_rods(narrow, rod, theta), {
        "pitch": 1.0,
        "diameter": -1.0,
        "angle": rod_turn,
    }
