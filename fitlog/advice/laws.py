"""The law of a piece that is cut at given settings: of each aspect's misfit less its nominal value,
mm.
"""

from __future__ import annotations

import math

from ..domain import Aspect, Settings
from ..estimator.likelihood import Array, band_chance
from ..estimator.posterior import Posterior
from ..families import Limit
from .knowledge import Knowledge


def noise_of(know: Knowledge, aspect: Aspect) -> float:
    """Standard deviation of a word about the misfit that its setting gives, mm."""
    kind = know.kind(aspect)
    # What neither wants to be tried nor only known settles by its number where the word is off.
    read = 0.0 if kind.tried or kind.zeroed else know.joint.read_sd(aspect)
    return math.hypot(max(know.joint.word_noise(aspect), read), know.joint.piece_sd(aspect))


def law_of(know: Knowledge, aspect: Aspect, settings: Settings) -> Posterior:
    """Law of (misfit - nominal) of a piece cut at `settings`; for a coupled aspect this includes
    what its driver takes.
    """
    driver = know.kind(aspect).driver
    if driver is None:
        return know.law(aspect)
    return _coupled_law(know, aspect, driver, settings, good=False)


def law_if_good(know: Knowledge, aspect: Aspect, settings: Settings) -> Posterior:
    """Law of (misfit - nominal) on a piece that is good in the aspect's driver: where it counts."""
    driver = know.kind(aspect).driver
    if driver is None:
        return know.law(aspect)
    return _coupled_law(know, aspect, driver, settings, good=True)


def _coupled_law(
    know: Knowledge, aspect: Aspect, driver: Aspect, settings: Settings, *, good: bool
) -> Posterior:
    window = know.joint.window(driver)

    def within(c: Array) -> Array:
        return band_chance(window.low, window.high, c, know.joint.word_noise(driver)) + 1e-9

    at, observed = nominal_of(know, driver, settings), know.joint.observed(settings)
    key = (aspect, at, observed, good)
    if key not in know.taken:
        sd, given = know.joint.coupling_sd(settings), within if good else None
        know.taken[key] = know.coupled(aspect).taken(at, observed, sd, given=given)
    return know.taken[key]


def nominal_of(know: Knowledge, aspect: Aspect, settings: Settings) -> float:
    """Nominal misfit of the set-up's own test piece at `settings`, mm."""
    plan = know.joint.plan
    return know.joint.nominal(aspect, settings, plan.figures())


def limit_of(know: Knowledge, aspect: Aspect, settings: Settings) -> Limit:
    """The range in which the own setting of an aspect may be proposed."""
    return know.joint.limit(settings.family.setting_of[aspect], settings)
