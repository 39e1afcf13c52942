"""The next settings: where each aspect aims, within limits, what the machine can make, and the word
just said.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .. import defaults
from ..domain import Aspect, Piece, Settings
from ..estimator.choice import best_target, chance_good
from .ends import aimed, can_go_on, has_ends, nibbles
from .knowledge import SWAPPED, Knowledge
from .laws import law_if_good, law_of, limit_of, noise_of, nominal_of
from .settled import nominal
from .settling import Aim, fit_is_open, for_real_boards, settle
from .sides import MAYBE, SURELY, narrowed, unmoved, word_bounds
from .stages import frozen
from .sure import most_telling, reads

__all__ = ["MAYBE", "SURELY", "Aim", "aim", "for_real_boards", "moves", "set_to", "target"]


def aim(know: Knowledge, pieces: Sequence[Piece], base: Settings) -> Aim:
    """Return the next settings. base: those of the last piece, or the first guess before there is
    one. Where an end can be cut again, that of the last piece is if it can still come out good for
    less than a fresh one.
    """
    lead = know.kind(know.joint.plan.family.lead)
    # What no setting cures, such as fingers that creep, another cut on that end does not either.
    if pieces and has_ends(know) and not pieces[-1].verdict.silenced(lead):
        again = _aim(know, pieces, base, pieces[-1])
        if can_go_on(again.settings, pieces[-1]) and _worth_it(know, pieces[-1], again):
            again.end = pieces[-1].own_end
            return again
    return _aim(know, pieces, base, None)


def _worth_it(know: Knowledge, end: Piece, again: Aim) -> bool:
    """Tell whether going on costs less than a fresh end, for the aspect in which it costs most."""
    moved = [a for a in again.wanted if a not in again.settled and nibbles(know, a)]
    costs = [
        (aimed(know, a, again.settings, end).cost, 1 + aimed(know, a, again.settings, None).cost)
        for a in moved
    ]
    return all(on < fresh for on, fresh in costs)


def _aim(know: Knowledge, pieces: Sequence[Piece], base: Settings, end: Piece | None) -> Aim:
    """Return the next settings on the end of the last piece, or with None on a fresh one."""
    plan, out = know.joint.plan, Aim(_for_own_size(know, pieces, base))
    out.faulty = bool(pieces) and any(
        pieces[-1].verdict.has_fault(place) for place in plan.family.faults[:-1]
    )
    present: int | None = None  # the first stage with an aspect that is open and can be moved
    for aspect in (a for a in plan.family.tuned if a in plan.in_play):
        stage = plan.family.stage_of(aspect)
        fixed = frozen(know.joint, plan.family.adjusted(aspect), pieces)
        waits = present is not None and stage > present
        # A zero that is known stays on an end that is cut again: the stops are reckoned from it.
        kept = end is not None and know.kind(aspect).zeroed
        if settle(know, aspect, pieces, out, stays=fixed or waits or kept):
            continue
        if fixed:
            out.frozen[aspect] = _wanted(know, aspect, pieces, out.settings)
            continue
        if waits:
            out.waiting.append(aspect)
            continue
        present = stage
        if pieces and pieces[-1].silent and _may_stay(know, aspect, out.settings):
            continue  # nothing was learnt from it: the same again
        if not (know.kind(aspect).tried and out.faulty):
            _move(know, aspect, pieces, out, end)
    return out


def _may_stay(know: Knowledge, aspect: Aspect, settings: Settings) -> bool:
    """Tell whether a setting can be proposed again as it stands: within its limits, and no harm in
    it.
    """
    limit = limit_of(know, aspect, settings)
    if not limit.low - 1e-6 <= settings.of(aspect) <= limit.high + 1e-6:
        return False
    misfit = nominal_of(know, aspect, settings) + law_of(know, aspect, settings).mean
    return know.joint.may_stay(aspect, misfit)


def _for_own_size(know: Knowledge, pieces: Sequence[Piece], settings: Settings) -> Settings:
    """Carry the last piece's settings over to a piece of the set-up's own size, the misfits
    unchanged.
    """
    plan = know.joint.plan
    for kind in plan.family.settings if pieces else ():
        if plan.family.aspect_of[kind.name] is None:  # nothing tunes it: it goes with the board
            sizes = plan.figures(), plan.figures(pieces[-1].sizes)
            grown = sum(by * (sizes[0][n] - sizes[1][n]) for n, by in kind.with_figures.items())
            settings = settings.with_(kind.name, round(settings[kind.name] + grown, 6))
    for aspect in plan.family.tuned if pieces else ():
        same = nominal(know.joint, aspect, pieces[-1])
        if know.kind(aspect).tried and same == nominal_of(know, aspect, settings):
            continue  # a size that it does not hang on
        settings = settings.moved(aspect, round(know.joint.setting_for(aspect, same, settings), 6))
    return settings


def target(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], settings: Settings) -> float:
    """Return the nominal misfit to aim at, unrounded, before the limits of steps and the word just
    said.
    """
    law, window, kind = law_of(know, aspect, settings), know.joint.window(aspect), know.kind(aspect)
    if kind.driver in know.joint.plan.in_play:
        # A piece whose driver (the fit) is off is cut again anyway: aim for those where it is good.
        law = law_if_good(know, aspect, settings)
    noise, prior_sd = noise_of(know, aspect), law.sd if kind.driver else know.cold[aspect].sd
    fresh = not any(know.joint.reading_of(aspect, p) or p.verdict.of(aspect) for p in pieces)
    outside = know.joint.first_outside(aspect, law.sd)
    if outside is not None:  # no piece is aimed inside
        return (
            outside - law.mean
            if fresh
            else max(best_target(law, window, noise, prior_sd=prior_sd), -law.mean)
        )
    return best_target(law, window, noise, prior_sd=prior_sd)


def _wanted(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], settings: Settings) -> float:
    """Return the setting that an aspect would be given, before any limit; the one that stands where
    it is far enough inside a one-sided window.
    """
    law, window = law_if_good(know, aspect, settings), know.joint.window(aspect)
    if pieces and window.one_sided:
        at = np.array([nominal_of(know, aspect, settings)])
        if chance_good(law, at, window, noise_of(know, aspect))[0] >= defaults.ONE_SIDED_CHANCE:
            return settings.of(aspect)
    return know.joint.setting_for(aspect, target(know, aspect, pieces, settings), settings)


def _move(
    know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], out: Aim, end: Piece | None
) -> None:
    joint, settings = know.joint, out.settings
    wanted = _wanted(know, aspect, pieces, settings)
    if nibbles(know, aspect):
        wanted = joint.setting_for(aspect, aimed(know, aspect, settings, end).misfit, settings)
    limit = limit_of(know, aspect, settings)
    if not limit.low <= wanted <= limit.high:
        out.limited[aspect] = (limit, wanted)
    bounds = word_bounds(know, aspect, pieces, settings)
    if not bounds[0] - 1e-9 <= wanted <= bounds[1] + 1e-9:
        out.slips.append(aspect)
    allowed = narrowed((limit.low, limit.high), bounds)
    out.wanted[aspect] = min(max(wanted, allowed[0]), allowed[1])
    held = settings.of(aspect) if pieces else None
    if held is not None and not limit.low - 1e-6 <= held <= limit.high + 1e-6:
        out.limited.setdefault(aspect, (limit, held))  # the last piece itself was cut past it
    if held is not None and _asks(know, aspect) and limit.low <= held <= limit.high:
        out.asked.append(aspect)
        still = unmoved(know, aspect, pieces[-1], settings)
        if abs(still - held) > 1e-6:
            out.settings = settings.moved(
                aspect, set_to(know, aspect, still, held, allowed, settings)
            )
        return
    value = set_to(know, aspect, out.wanted[aspect], held, allowed, settings)
    coarse = joint.plan.adjuster(aspect).step > defaults.TRIFLE
    if not know.kind(aspect).tried and pieces and coarse and not reads(know, aspect, pieces):
        value, _ = most_telling(know, aspect, settings, allowed, fit_open=fit_is_open(know, out))
    if held is not None and allowed[0] <= held <= allowed[1]:
        value = held if abs(value - held) <= _trifle(know, aspect) + 1e-9 else value
    out.settings = settings.moved(aspect, value)


def _asks(know: Knowledge, aspect: Aspect) -> bool:
    """Whether the sides of an aspect's words may have been swapped, so that it is asked before
    anything moves.
    """
    chance = know.chance_of(aspect, SWAPPED)
    return chance > MAYBE and (
        know.kind(aspect).tried or chance < SURELY
    )  # the fit, with words alone, is never that sure


def _trifle(know: Knowledge, aspect: Aspect) -> float:
    """The largest move that is not worth making: of the height, one that no known step of the lift
    stands for.
    """
    own = know.joint.trifle(aspect)
    if own is not None:
        return own
    return defaults.TRIFLE


def set_to(
    know: Knowledge,
    aspect: Aspect,
    wanted: float,
    held: float | None,
    allowed: tuple[float, float],
    settings: Settings,
) -> float:
    """Return what the machine can make of a wanted setting: of the two marks about it, inside
    `allowed`, the better one.

    Where none lies inside, the setting that stands if it does, else the mark below the upper end;
    of a set, which may end above it, the setting that stands.
    """
    can = know.joint.plan.adjuster(aspect, held)
    low, high = allowed
    near = sorted(
        {
            min(max(v, can.above(low)), can.below(high))
            for v in (can.below(wanted), can.above(wanted))
        }
    )
    near = [v for v in near if low - 1e-6 <= v <= high + 1e-6]
    if not near:
        stays = held is not None and (can.kind == "set" or low - 1e-6 <= held <= high + 1e-6)
        return held if held is not None and stays else can.below(high)
    nearest = min(near, key=lambda v: (abs(v - wanted), v))
    if can.coarse and nibbles(know, aspect):  # the mark that takes less off, but some
        way = 1 if know.joint.plan.family.adjusted(aspect).free == "+" else -1
        # Not where it stands, nor where a word said already that too little comes off.
        used = [v for v in (held, low if way > 0 else high) if v is not None]
        less = [v for v in near if all(abs(v - one) > 1e-6 for one in used)]
        return min(less, key=lambda v: way * v, default=nearest)
    if know.kind(aspect).zeroed or len(near) < 2 or not can.coarse:
        return nearest
    slope, window = know.joint.slope(aspect, settings), know.joint.window(aspect)
    at = np.array(
        [nominal_of(know, aspect, settings) + slope * (v - settings.of(aspect)) for v in near]
    )
    law = law_if_good(know, aspect, settings)
    chances = chance_good(law, at, window, noise_of(know, aspect))
    return nearest if abs(chances[0] - chances[1]) < 1e-3 else near[int(np.argmax(chances))]


def moves(settings: Settings, last: Piece) -> dict[str, float]:
    """Differences to dial from the last piece's settings, by setting, mm."""
    return {name: round(settings[name] - last.settings[name], 6) for name in settings}
