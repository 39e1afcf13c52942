"""The law of a piece that is cut at given settings: of each aspect's misfit less its nominal value,
mm.
"""

from __future__ import annotations

import math

from ..domain import Aspect, Settings
from ..estimator.likelihood import Array, band_chance
from ..estimator.posterior import Posterior
from .knowledge import Knowledge


def noise_of(know: Knowledge, aspect: Aspect) -> float:
    """Standard deviation of a word about the misfit that its setting gives, mm."""
    read = (
        know.joint.read_sd(aspect) if aspect == "seat" else 0.0
    )  # a seat that is not flush settles by its number
    return math.hypot(max(know.joint.word_noise(aspect), read), know.joint.piece_sd(aspect))


def law_of(know: Knowledge, aspect: Aspect, settings: Settings) -> Posterior:
    """Law of (misfit - nominal) of a piece cut at `settings`; for the seat this includes what the
    clearance takes.
    """
    if aspect == "fit":
        return know.fit
    if aspect == "centre":
        return know.centre
    return _seat_law(know, settings, fit_good=False)


def seat_law_if_fit_good(know: Knowledge, settings: Settings) -> Posterior:
    """Law of the seat's (misfit - nominal) on a piece whose fit is good: where the seat counts."""
    return _seat_law(know, settings, fit_good=True)


def _seat_law(know: Knowledge, settings: Settings, *, fit_good: bool) -> Posterior:
    window = know.joint.window("fit")

    def good(c: Array) -> Array:
        return band_chance(window.low, window.high, c, know.joint.word_noise("fit")) + 1e-9

    clearance, radius = nominal_of(know, "fit", settings), know.joint.round_end(settings)
    key = (clearance, radius, fit_good)
    if key not in know.seats:
        sd = know.joint.coupling_sd(settings)
        know.seats[key] = know.seat.taken(clearance, radius, sd, given=good if fit_good else None)
    return know.seats[key]


def nominal_of(know: Knowledge, aspect: Aspect, settings: Settings) -> float:
    """Nominal misfit of the set-up's own test piece at `settings`, mm."""
    plan = know.joint.plan
    return know.joint.nominal(aspect, settings, plan.width_of(None), plan.thickness_of(None))
