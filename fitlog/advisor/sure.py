"""How sure the centre and the seat are by figures alone: whether the real boards come out inside at the best that can be set.

The real boards want the centre known, not hit, since every stop is computed from the set-up's own zero; the seat wants a depth
that the stop can be set to. The fit wants a joint that was tried, and is never settled here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .. import defaults
from ..domain import Aspect, Piece, Settings, adjuster
from ..estimator.likelihood import Array
from ..estimator.posterior import Posterior
from ..estimator.worth import after_a_reading, after_a_word, best_of, shrunk
from .knowledge import Knowledge
from .laws import law_of, noise_of, nominal_of, seat_law_if_fit_good

_PLACES = 81  # nominal misfits that are looked at where the adjuster is fine
_FINE = 0.02  # mm: a step up to this is as good as none


@dataclass(frozen=True, slots=True)
class Sure:
    """The best that can be set for the real boards: the setting, mm, and the chance that they come out inside.

    enough: whether that settles the aspect.  nearest: it does only because no other mark or piece would do better.
    """

    setting: float
    chance: float
    enough: bool = False
    nearest: bool = False


def chance_inside(know: Knowledge, aspect: Aspect, settings: Settings, *, fit_open: bool) -> float:
    """Return the chance that the real boards come out inside an aspect's window at `settings`.

    Of the centre: that its error is known to within the window, wherever the fence stands.
    """
    if aspect == "centre":
        return best_setting(know, aspect, settings, fit_open=fit_open).chance
    at = np.array([nominal_of(know, aspect, settings)])
    law = _law(know, aspect, settings, fit_open=fit_open)
    window = know.joint.window(aspect)
    return float(law.cdf(window.high - at)[0] - law.cdf(window.low - at)[0])


def best_setting(know: Knowledge, aspect: Aspect, settings: Settings, *, fit_open: bool) -> Sure:
    """Return the best setting of the centre or the seat that can be made, with its chance."""
    law = _law(know, aspect, settings, fit_open=fit_open)
    target, chance = best_of(law, _targets(know, aspect, law, settings), know.joint.window(aspect), 0.0)
    value = know.joint.setting_for(aspect, target, settings)
    return Sure(adjuster(know.joint.plan.machine, aspect).nearest(value), chance)


def by_figures(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], settings: Settings, *, fit_open: bool) -> Sure:
    """Return the best setting of the centre or the seat and whether it settles the aspect, which was judged before."""
    found = best_setting(know, aspect, settings, fit_open=fit_open)
    if not heard(know, aspect, pieces):
        return found
    if found.chance >= defaults.SETTLED_CHANCE:
        return Sure(found.setting, found.chance, enough=True)
    if _another(know, aspect, pieces, settings, fit_open=fit_open) - found.chance < defaults.NO_BETTER:
        return Sure(found.setting, found.chance, enough=True, nearest=True)
    return found


def heard(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece]) -> bool:
    """Tell whether a word or a reading of this set-up speaks of an aspect."""
    return any(p.verdict.of(aspect) is not None or know.joint.reading_of(aspect, p) is not None for p in pieces)


def reads(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece]) -> bool:
    """Tell whether the next verdict that is not the settling word can be expected to come with a number.

    As they were on this set-up's pieces; before the first, unless it was said that nothing is measured.
    """
    if any(know.joint.reading_of(aspect, p) is not None for p in pieces):
        return True
    off = any((said := p.verdict.of(aspect)) is not None and said.side for p in pieces)
    return not off and not know.joint.plan.words_only


def _law(know: Knowledge, aspect: Aspect, settings: Settings, *, fit_open: bool) -> Posterior:
    # The real boards are cut only once the fit is good.
    return seat_law_if_fit_good(know, settings) if aspect == "seat" and fit_open else law_of(know, aspect, settings)


def _targets(know: Knowledge, aspect: Aspect, law: Posterior, settings: Settings) -> Array:
    """Nominal misfits that can be set: of the centre all, since a stop can be computed from any zero."""
    window = know.joint.window(aspect)
    low, high = window.middle - law.quantile(0.995), window.middle - law.quantile(0.005)
    can = adjuster(know.joint.plan.machine, aspect)
    if aspect == "centre" or can.step <= _FINE:
        return np.linspace(low, high, _PLACES)
    limit = know.joint.limit(aspect)
    ends = sorted(know.joint.setting_for(aspect, t, settings) for t in (low, high))
    first, last = max(limit.low, can.below(ends[0])), min(limit.high, can.above(ends[1]))
    now, slope = nominal_of(know, aspect, settings), know.joint.slope(aspect)
    made = list(can.within(first, last)) or [can.nearest(min(max(ends[0], limit.low), limit.high))]
    return np.array([now + slope * (v - settings.of(aspect)) for v in made])


def _another(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], settings: Settings, *, fit_open: bool) -> float:
    """Best chance to be expected after one more piece."""
    joint, window = know.joint, know.joint.window(aspect)
    law = _law(know, aspect, settings, fit_open=fit_open)
    targets = _targets(know, aspect, law, settings)
    vary = varies(know, aspect, settings)
    told = shrunk(law, math.sqrt(max(law.sd**2 - vary**2, 0.05 * law.sd**2)))
    if reads(know, aspect, pieces):
        return after_a_reading(told, targets, window, vary, math.hypot(joint.read_sd(aspect), vary))
    at, _ = best_of(law, targets, window, 0.0)
    return after_a_word(told, targets, window, vary, at, joint.word_bands(aspect), math.hypot(noise_of(know, aspect), vary))


def varies(know: Knowledge, aspect: Aspect, settings: Settings) -> float:
    """How much the misfit varies from piece to piece at one setting, mm: what no piece can tell of the next."""
    own = know.joint.piece_sd(aspect)
    if aspect != "seat":
        return own
    clearance = max(nominal_of(know, "fit", settings) + know.fit.mean, know.joint.window("fit").low)
    steep = math.sqrt(know.joint.round_end(settings) / clearance) / 2
    return math.hypot(own, steep * know.joint.coupling_sd(settings))
