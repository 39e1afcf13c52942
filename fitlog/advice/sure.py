"""How sure an aspect is by figures alone: whether the real boards come out inside at the best that
can be set.

What is known by its zero (the centre of a half-blind dovetail) is to be known, not hit, since every
stop of the real boards is computed from it; any other (its seat) wants a setting that the adjuster
can be set to. What is tried (its fit) wants a joint that was tried, and is never settled here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from .. import defaults
from ..domain import Aspect, Piece, Settings
from ..estimator.choice import chance_good
from ..estimator.likelihood import Array, band_chance
from ..estimator.posterior import Posterior
from ..estimator.worth import after_a_reading, after_a_word, best_of, shrunk
from .end_laws import as_it_stands
from .knowledge import SWAPPED, Knowledge
from .laws import law_if_good, law_of, limit_of, noise_of, nominal_of
from .settled import half_told

_NONE = 0.05  # chance of the best mark below which none is taken to lie inside
_PLACES = 81  # nominal misfits that are looked at where the adjuster is fine


class Sure(NamedTuple):
    """The best that can be set for the real boards: the setting, mm, and the chance that they come
    out inside.

    enough: whether that settles the aspect.  nearest: it does only because no other mark or piece
    would do better.
    """

    setting: float
    chance: float
    enough: bool = False
    nearest: bool = False


def chance_inside(know: Knowledge, aspect: Aspect, settings: Settings, *, fit_open: bool) -> float:
    """Return the chance that the real boards come out inside an aspect's window at `settings`.

    Of what is known by its zero: that it is known to within the window, wherever it is set.
    """
    if know.kind(aspect).zeroed:
        return best_setting(know, aspect, settings, fit_open=fit_open).chance
    at = np.array([nominal_of(know, aspect, settings)])
    law = _law(know, aspect, settings, fit_open=fit_open)
    window, kind = know.joint.window(aspect), know.kind(aspect)
    if kind.tried:  # a real board is one more piece
        stands = as_it_stands(know, aspect, settings, law)
        law, varies = stands or (law, know.joint.piece_sd(aspect))
        return float(chance_good(law, at, window, varies)[0])
    return float(law.cdf(window.high - at)[0] - law.cdf(window.low - at)[0])


def board_inside(know: Knowledge, aspect: Aspect, settings: Settings, *, fit_open: bool) -> float:
    """Return the same with what differs from piece to piece: a real board is one more. What settles
    an aspect leaves that out, since no test piece tells it.
    """
    kind = know.kind(aspect)
    if kind.zeroed or kind.driver is not None:
        return chance_inside(know, aspect, settings, fit_open=fit_open)
    at, law = nominal_of(know, aspect, settings), _law(know, aspect, settings, fit_open=fit_open)
    window, vary = know.joint.window(aspect), know.joint.piece_sd(aspect)
    return float(chance_good(law, np.array([at]), window, vary)[0])


def best_setting(know: Knowledge, aspect: Aspect, settings: Settings, *, fit_open: bool) -> Sure:
    """Return the best setting of an aspect that can be made, with its chance."""
    law, window = _law(know, aspect, settings, fit_open=fit_open), know.joint.window(aspect)
    targets = _targets(know, aspect, law, settings)
    target, chance = best_of(law, targets, window, 0.0)
    if chance < _NONE:  # no mark lies inside: the nearest, not whichever has the longest tail
        off = np.abs(targets + law.mean - window.middle)
        target = float(targets[int(np.argmin(off))])
    value = know.joint.setting_for(aspect, target, settings)
    return Sure(know.joint.plan.adjuster(aspect).nearest(value), chance)


def by_figures(
    know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], settings: Settings, *, fit_open: bool
) -> Sure:
    """Return the best setting of an aspect and whether it settles it, once it was judged."""
    found = best_setting(know, aspect, settings, fit_open=fit_open)
    if (
        not heard(know, aspect, pieces) or know.chance_of(aspect, SWAPPED) > 0.5
    ):  # what is asked about settles nothing
        return found
    if found.chance >= defaults.SETTLED_CHANCE:
        return Sure(found.setting, found.chance, enough=True)
    if fit_open and aspect != know.joint.plan.family.lead:  # another piece is cut anyway
        return found
    if _another(know, aspect, pieces, settings, fit_open=fit_open) - found.chance < _worth(
        know, aspect, pieces
    ):
        return Sure(found.setting, found.chance, enough=True, nearest=True)
    return found


def _worth(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece]) -> float:
    """How much surer another piece must make an aspect to be worth its wood."""
    if reads(know, aspect, pieces):
        return defaults.NO_BETTER
    coarse = know.joint.plan.adjuster(aspect).step > defaults.TRIFLE
    return defaults.NO_BETTER_ON_MARKS if coarse else defaults.NO_BETTER_IN_WORDS


def heard(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece]) -> bool:
    """Tell whether a word or a reading of this set-up speaks of an aspect."""
    return any(
        p.verdict.of(aspect) is not None or know.joint.reading_of(aspect, p) is not None
        for p in pieces
    )


def reads(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece]) -> bool:
    """Tell whether the next verdict that is not the settling word can be expected to come with a
    number.

    As they were on this set-up's pieces (a tight joint, which no feeler opens, tells nothing of
    that); before the first, unless it was said that nothing is measured.
    """
    if any(know.joint.reading_of(aspect, p) is not None for p in pieces):
        return True
    sides = [said.side for p in pieces if (said := p.verdict.of(aspect)) is not None]
    off = any(side > 0 if know.kind(aspect).tried else side for side in sides)
    return not off and not know.joint.plan.words_only


def _law(know: Knowledge, aspect: Aspect, settings: Settings, *, fit_open: bool) -> Posterior:
    # The real boards are cut only once the lead aspect is good.
    return (law_if_good if fit_open else law_of)(know, aspect, settings)


def _targets(know: Knowledge, aspect: Aspect, law: Posterior, settings: Settings) -> Array:
    """Nominal misfits that can be set: of what is known by its zero all, since a stop can be
    computed from any.
    """
    window = know.joint.window(aspect)
    low, high = window.middle - law.quantile(0.995), window.middle - law.quantile(0.005)
    can = know.joint.plan.adjuster(aspect)
    if know.kind(aspect).zeroed or can.step <= defaults.TRIFLE:
        return np.linspace(low, high, _PLACES)
    limit = limit_of(know, aspect, settings)
    ends = sorted(know.joint.setting_for(aspect, t, settings) for t in (low, high))
    first, last = max(limit.low, can.below(ends[0])), min(limit.high, can.above(ends[1]))
    now, slope = nominal_of(know, aspect, settings), know.joint.slope(aspect, settings)
    made = list(can.within(first, last)) or [can.nearest(min(max(ends[0], limit.low), limit.high))]
    return np.array([now + slope * (v - settings.of(aspect)) for v in made])


def _another(
    know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], settings: Settings, *, fit_open: bool
) -> float:
    """Best chance to be expected after one more piece."""
    if not reads(know, aspect, pieces):
        return most_telling(know, aspect, settings, fit_open=fit_open)[1]
    law = _law(know, aspect, settings, fit_open=fit_open)
    vary, window = varies(know, aspect, settings), know.joint.window(aspect)
    noise = math.hypot(know.joint.read_sd(aspect), vary)
    told, targets = _told(law, vary), _targets(know, aspect, law, settings)
    if not half_told(know.joint, aspect):
        return after_a_reading(told, targets, window, vary, noise)
    # A number is there for some of the words alone; after the others only the word is known.
    found, seen = 0.0, _shown(know, aspect, told, settings)
    for part, read in ((seen, True), (1 - seen, False)):
        share = float(part @ told.weight)
        if share < 1e-6:
            continue
        law = Posterior(told.grid, part * told.weight / share)
        if read:
            found += share * after_a_reading(law, targets, window, vary, noise)
        else:
            found += share * best_of(law, targets, window, vary)[1]
    return found


def _shown(know: Knowledge, aspect: Aspect, law: Posterior, settings: Settings) -> Array:
    """The chance at each offset of a law that the next piece's word is one that a number can go
    with.
    """
    bands, noise = know.joint.word_bands(aspect), know.joint.word_noise(aspect)
    misfit = nominal_of(know, aspect, settings) + law.grid
    out: Array = sum(
        (
            share * band_chance(low, high, misfit, noise)
            for index in know.kind(aspect).readable
            for low, high, share in bands[index]
        ),
        np.zeros_like(misfit),
    )
    return out


def chance_shown(know: Knowledge, aspect: Aspect, settings: Settings) -> float:
    """Return the chance that the next piece can be measured in an aspect."""
    law = law_of(know, aspect, settings)
    return float(_shown(know, aspect, law, settings) @ law.weight)


def most_telling(
    know: Knowledge,
    aspect: Aspect,
    settings: Settings,
    allowed: tuple[float, float] = (-math.inf, math.inf),
    *,
    fit_open: bool,
) -> tuple[float, float]:
    """Return the setting near the best one where the next piece's word tells most, and the chance
    then to be expected.

    On coarse marks the best setting may be one where nothing is learnt: the same word again.
    allowed: its range, mm.
    """
    joint, window = know.joint, know.joint.window(aspect)
    law, vary = _law(know, aspect, settings, fit_open=fit_open), varies(know, aspect, settings)
    targets, told = _targets(know, aspect, law, settings), _told(law, vary)
    wanted = joint.setting_for(aspect, best_of(law, targets, window, 0.0)[0], settings)
    wanted = min(max(wanted, allowed[0]), allowed[1])
    can, now = joint.plan.adjuster(aspect), nominal_of(know, aspect, settings)
    near = (can.below(wanted), can.above(wanted), settings.of(aspect))
    marks = [v for v in near if allowed[0] - 1e-6 <= v <= allowed[1] + 1e-6]
    noise, bands = math.hypot(noise_of(know, aspect), vary), joint.word_bands(aspect)
    found = [
        (
            after_a_word(
                told,
                targets,
                window,
                vary,
                now + joint.slope(aspect, settings) * (v - settings.of(aspect)),
                bands,
                noise,
            ),
            v,
        )
        for v in marks or [settings.of(aspect)]
    ]
    best = max(found)[0]
    value = min(
        (v for chance, v in found if chance > best - 1e-3), key=lambda v: (abs(v - wanted), v)
    )
    return value, best


def _told(law: Posterior, vary: float) -> Posterior:
    """That part of a law which another piece can tell."""
    return shrunk(law, math.sqrt(max(law.sd**2 - vary**2, 0.05 * law.sd**2)))


def varies(know: Knowledge, aspect: Aspect, settings: Settings) -> float:
    """How much the misfit varies from piece to piece at one setting, mm: what no piece can tell of
    the next.
    """
    own = know.joint.piece_sd(aspect)
    driver = know.kind(aspect).driver
    if driver is None:
        return own
    taken = nominal_of(know, driver, settings) + know.law(driver).mean
    clearance = max(taken, know.joint.window(driver).low)
    steep = know.joint.observed(settings).steepness(clearance)
    return math.hypot(own, steep * know.joint.coupling_sd(settings))
