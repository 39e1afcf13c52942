"""What a reading of a sliding dovetail means: from what an instrument shows to a misfit, or to the
causes that the tongue and the socket show by themselves.
"""

from __future__ import annotations

import math
from dataclasses import replace

from ... import defaults
from ...domain import Piece, Reading
from ...estimator.evidence import Term, TermReading
from ..heard import Known
from . import figures, geometry
from .names import EXPOSURE, FIT, HEIGHT, TONGUE
from .plan import SlidingPlan

TELLING = ("mouth", "between_rods", "over_rods", "wide_end")


def measured_play(piece: Piece, lift: float) -> list[Known]:
    """Return the clearance of a piece by its pulled gap, c = lift q with lift = faces tan(theta),
    and by its sideways play, mm.
    """
    gaps = [r.value for r in piece.readings if r.kind == "pull_gap"]
    play = [r.value for r in piece.readings if r.kind == "play"]
    pulled = [(lift * gap, lift * defaults.FEELER) for gap in gaps]
    return [*pulled, *((value, figures.PLAY_READ) for value in play)]


def term_readings(
    plan: SlidingPlan, piece: Piece, fit_terms: tuple[Term, ...]
) -> tuple[TermReading, ...]:
    """Return what the socket's mouth and rods, the tongue's rods and its wide end say of diameter,
    angle, zeros and thickness. Socket and tongue together give the clearance, tight or not:
    c = m - (x - d k), or y - x + 2 d k - 2 h tan(theta), or m - E + 2 g tan(theta).
    """
    known = {t.key[0]: t for t in fit_terms}
    return tuple(_told(plan, piece, r, known) for r in piece.readings if r.kind in TELLING)


def _told(plan: SlidingPlan, piece: Piece, reading: Reading, known: dict[str, Term]) -> TermReading:
    nominal, factors = _expected(plan, piece, reading)
    terms = tuple(replace(known[name], factor=factor) for name, factor in factors.items())
    # A tongue's own thickness and its fence as it was set for it.
    own = 0.0
    if reading.kind in ("over_rods", "wide_end"):
        own = math.hypot(figures.THICKNESS, plan.faces * plan.adjuster(FIT).sd)
    sd = math.hypot(defaults.CALIPER, own)
    return TermReading(reading.kind, terms, reading.value - nominal, sd)


def _expected(plan: SlidingPlan, piece: Piece, reading: Reading) -> tuple[float, dict[str, float]]:
    """Nominal value of a reading and its sensitivities to the causes of the fit."""
    bit, theta, faces = plan.bit, plan.bit.theta, plan.faces
    at, rod = piece.settings, reading.rod or 0.0
    rise, turn = math.tan(theta), 1 / math.cos(theta) ** 2
    rod_turn = rod * (rise / math.cos(theta) + turn)
    if reading.kind == "mouth":
        return geometry.mouth(bit.diameter, at[HEIGHT], theta), {
            "diameter": 1.0,
            "angle": -2 * at[HEIGHT] * turn,
            "height zero": -2 * rise,
        }
    if reading.kind == "between_rods":
        return geometry.between_rods(bit.diameter, rod, theta), {
            "diameter": 1.0,
            "angle": -rod_turn,
        }
    thick = plan.figures(piece.sizes)["thickness"]
    tongue = {"exposure zero": -float(faces), "shelf thickness": 1.0}
    if plan.to_axis:
        tongue["diameter"] = -faces / 2
    if reading.kind == "over_rods":
        narrow = geometry.root(thick, at[EXPOSURE], faces)
        return geometry.over_rods(narrow, rod, theta, faces), {
            **tongue,
            "angle": faces * rod_turn / 2,
        }
    wide = geometry.tongue_end(thick, at[EXPOSURE], at[TONGUE], theta, faces)
    if wide >= thick:  # the flank ends on the face: only the shelf's thickness is measured
        return thick, {"shelf thickness": 1.0}
    return wide, {
        **tongue,
        "angle": faces * at[TONGUE] * turn,
        "height zero": faces * rise,
    }
