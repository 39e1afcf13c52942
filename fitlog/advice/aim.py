"""The next settings: where each aspect aims, within limits, what the machine can make, and the word
just said.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from .. import defaults
from ..domain import Aspect, Piece, Settings, Settled
from ..estimator.choice import best_target, chance_good
from ..families import Limit
from .knowledge import SWAPPED, Knowledge
from .laws import law_if_good, law_of, limit_of, noise_of, nominal_of
from .settled import SAME, nominal, settled_by
from .sure import Sure, best_setting, by_figures, chance_inside, most_telling, reads

SURELY, MAYBE = (
    0.8,
    0.2,
)  # chance of swapped sides from which on the other side is taken as meant; as possible


@dataclass
class Aim:
    """The settings being worked out, and what held them: notes for the remarks that follow.

    wanted: unrounded settings before limits.  limited: aspects that a limit stopped.  slips:
    aspects where the model wanted to go against the word just said.  held: aspects held by a word
    or a reading, with their piece.  settled: by what, for every settled aspect.  asked: aspects
    held because the sides of their words may have been swapped.
    """

    settings: Settings
    wanted: dict[Aspect, float] = field(default_factory=dict)
    limited: dict[Aspect, tuple[Limit, float]] = field(default_factory=dict)
    slips: list[Aspect] = field(default_factory=list)
    held: dict[Aspect, Piece] = field(default_factory=dict)
    settled: dict[Aspect, Settled] = field(default_factory=dict)
    asked: list[Aspect] = field(default_factory=list)
    faulty: bool = False


def aim(know: Knowledge, pieces: Sequence[Piece], base: Settings) -> Aim:
    """Return the next settings. base: those of the last piece, or the first guess before there is
    one.
    """
    plan, out = know.joint.plan, Aim(_for_own_size(know, pieces, base))
    out.faulty = bool(pieces) and any(
        pieces[-1].verdict.has_fault(place) for place in plan.family.faults[:-1]
    )
    for aspect in plan.family.aspects:
        if aspect not in plan.in_play:
            continue
        if _settle(know, aspect, pieces, out):
            continue
        if pieces and pieces[-1].silent and _may_stay(know, aspect, out.settings):
            continue  # nothing was learnt from it: the same again
        if not (know.kind(aspect).tried and out.faulty):
            _move(know, aspect, pieces, out)
    return out


def _settle(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], out: Aim) -> bool:
    """Hold an aspect that a word or a reading settled; set one that the figures settle to the best
    that can be set.
    """
    fit_open = _fit_open(know, out)
    holder = settled_by(know.joint, aspect, pieces)
    if holder is not None and _still_good(know, aspect, holder, out.settings):
        out.held[aspect] = holder
        chance = _inside(know, aspect, out.settings, fit_open=fit_open)
        out.settled[aspect] = Settled(
            "word" if accepted(know, aspect, holder) else "reading", chance, holder.number
        )
        return True
    kind = know.kind(aspect)
    if kind.tried or not pieces:
        return False
    sure = by_figures(know, aspect, pieces, out.settings, fit_open=fit_open)
    if not sure.enough:
        return False
    value, limit = out.settings.of(aspect), limit_of(know, aspect, out.settings)
    low, high = _within((limit.low, limit.high), _word_bounds(know, aspect, pieces, out.settings))
    best = min(max(sure.setting, low), high)  # not against the word just said
    if not kind.zeroed and abs(best - sure.setting) > know.joint.window(aspect).half:
        return False  # what would come out inside can't be set before that word is cleared up
    out.settled[aspect] = Settled("nearest" if sure.nearest else "figures", sure.chance)
    if abs(best - value) > defaults.TRIFLE or not _reachable(know, aspect, value):
        out.wanted[aspect] = best
        out.settings = out.settings.moved(aspect, best)
    return True


def accepted(know: Knowledge, aspect: Aspect, piece: Piece) -> bool:
    """Tell whether a piece was good in an aspect by the person's own word."""
    said = piece.verdict.of(aspect)
    own = said is not None and said.settles
    return own and (know.kind(aspect).tried or know.joint.window(aspect).holds(0.0))


def _fit_open(know: Knowledge, out: Aim) -> bool:
    lead = know.joint.plan.family.lead
    return lead in know.joint.plan.in_play and lead not in out.held


def _inside(know: Knowledge, aspect: Aspect, settings: Settings, *, fit_open: bool) -> float:
    if know.kind(aspect).tried:
        return know.real_chance(nominal_of(know, aspect, settings))
    return chance_inside(know, aspect, settings, fit_open=fit_open)


def _reachable(know: Knowledge, aspect: Aspect, value: float) -> bool:
    """Tell whether the machine can be set to a value, which a typed setting need not be."""
    can = know.joint.plan.adjuster(aspect)
    return not can.coarse or abs(can.nearest(value) - value) < 1e-6


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
    for aspect in _not_tried(know) if pieces else ():
        same = nominal(know.joint, aspect, pieces[-1])
        settings = settings.moved(aspect, round(know.joint.setting_for(aspect, same, settings), 6))
    return settings


def _not_tried(know: Knowledge) -> tuple[Aspect, ...]:
    """The aspects that have a setting and need no joint that was tried."""
    family = know.joint.plan.family
    return tuple(a for a in family.setting_of if not family.kind(a).tried)


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


def _move(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], out: Aim) -> None:
    joint, settings = know.joint, out.settings
    wanted = joint.setting_for(aspect, target(know, aspect, pieces, settings), settings)
    limit = limit_of(know, aspect, settings)
    if not limit.low <= wanted <= limit.high:
        out.limited[aspect] = (limit, wanted)
    bounds = _word_bounds(know, aspect, pieces, settings)
    if not bounds[0] - 1e-9 <= wanted <= bounds[1] + 1e-9:
        out.slips.append(aspect)
    allowed = _within((limit.low, limit.high), bounds)
    out.wanted[aspect] = min(max(wanted, allowed[0]), allowed[1])
    held = settings.of(aspect) if pieces else None
    if held is not None and not limit.low - 1e-6 <= held <= limit.high + 1e-6:
        out.limited.setdefault(aspect, (limit, held))  # the last piece itself was cut past it
    if held is not None and _asks(know, aspect) and limit.low <= held <= limit.high:
        out.asked.append(aspect)
        still = _unmoved(know, aspect, pieces[-1], settings)
        if abs(still - held) > 1e-6:
            out.settings = settings.moved(
                aspect, set_to(know, aspect, still, held, allowed, settings)
            )
        return
    value = set_to(know, aspect, out.wanted[aspect], held, allowed, settings)
    coarse = joint.plan.adjuster(aspect).step > defaults.TRIFLE
    if not know.kind(aspect).tried and pieces and coarse and not reads(know, aspect, pieces):
        value, _ = most_telling(know, aspect, settings, allowed, fit_open=_fit_open(know, out))
    if held is not None and allowed[0] <= held <= allowed[1]:
        value = held if abs(value - held) <= _trifle(know, aspect, pieces) + 1e-9 else value
    out.settings = settings.moved(aspect, value)


def _asks(know: Knowledge, aspect: Aspect) -> bool:
    """Whether the sides of an aspect's words may have been swapped, so that it is asked before
    anything moves.
    """
    chance = know.chance_of(aspect, SWAPPED)
    return chance > MAYBE and (
        know.kind(aspect).tried or chance < SURELY
    )  # the fit, with words alone, is never that sure


def _trifle(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece]) -> float:
    """The largest move that is not worth making: of the height, one that no known step of the lift
    stands for.
    """
    own = know.joint.trifle(aspect)
    if own is not None:
        return own
    return defaults.TRIFLE if pieces[-1].verdict.of(aspect) is None else 0.0


def _word_bounds(
    know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], settings: Settings
) -> tuple[float, float]:
    """Return the range of a setting that does not go against the word last said of its aspect."""
    said = [
        p
        for p in pieces
        if p.verdict.of(aspect) is not None and not p.verdict.silenced(know.kind(aspect))
    ]
    side = _side(know, aspect, said[-1]) if said else 0
    if side == 0:
        return -math.inf, math.inf
    bound = _unmoved(know, aspect, said[-1], settings)
    return (
        (-math.inf, bound) if side * know.joint.slope(aspect, settings) > 0 else (bound, math.inf)
    )


def _unmoved(know: Knowledge, aspect: Aspect, piece: Piece, settings: Settings) -> float:
    """Return the setting of an aspect that leaves its misfit what it was on a piece, the other
    settings being new ones.
    """
    before = nominal(know.joint, aspect, piece)
    if know.kind(aspect).driver:  # another fit also moves the step: the steps stay alike
        before += law_of(know, aspect, piece.settings).mean - law_of(know, aspect, settings).mean
    return know.joint.setting_for(aspect, before, settings)


def _side(know: Knowledge, aspect: Aspect, piece: Piece) -> int:
    """On which side of what is wanted a verdict lies: +1 above, -1 below, 0 when the word does not
    tell.

    A joint wanted half a millimetre proud and called slightly proud lies below.  Sides that are
    surely swapped are taken so.
    """
    said, middle = piece.verdict.of(aspect), know.joint.window(aspect).middle
    if said is None:
        return 0
    tried = know.kind(aspect).tried
    if not tried and know.chance_of(aspect, SWAPPED) >= SURELY:
        said = said.turned
    if said.size is not None and not tried:
        low = high = know.joint.misfit_of(said)
    else:
        bands = know.joint.word_bands(aspect)[said.index]
        low, high = min(b[0] for b in bands), max(b[1] for b in bands)
    return 1 if low >= middle else -1 if high <= middle else 0


def _within(first: tuple[float, float], then: tuple[float, float]) -> tuple[float, float]:
    """Narrow a range by a second one where they meet; else keep the end of the first that is nearer
    to the second.
    """
    low, high = max(first[0], then[0]), min(first[1], then[1])
    if low <= high:
        return low, high
    end = first[0] if then[1] < first[0] else first[1]
    return end, end


def _still_good(know: Knowledge, aspect: Aspect, holder: Piece, settings: Settings) -> bool:
    """Tell whether a settled seat stays in its window at the new bit height; what is not coupled
    depends on no other setting.
    """
    driver = know.kind(aspect).driver
    if driver is None or abs(settings.of(driver) - holder.settings.of(driver)) <= SAME:
        return True
    misfit = nominal_of(know, aspect, settings) + law_of(know, aspect, settings).mean
    return know.joint.window(aspect).holds(misfit)


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

    Where none lies inside, the setting that stands if it does, else the mark below the upper end.
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
        return held if held is not None and low - 1e-6 <= held <= high + 1e-6 else can.below(high)
    nearest = min(near, key=lambda v: (abs(v - wanted), v))
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


def for_real_boards(know: Knowledge, found: Aim) -> Settings:
    """Return what to set for the real boards, which may be wider or thicker than the test pieces.

    The fence goes to the mark nearest to the known zero, the depth where the boards come out inside
    with the best chance, unless the step was accepted in the person's own word or another depth
    would be no better.
    """
    plan, settings = know.joint.plan, found.settings
    for aspect in _not_tried(know):
        if aspect in plan.in_play and (best := _better(know, aspect, found)) is not None:
            settings = settings.moved(aspect, best.setting)
    return know.joint.carried(settings)


def _better(know: Knowledge, aspect: Aspect, found: Aim) -> Sure | None:
    """The best setting of an aspect, where it is worth being said besides the one that stands."""
    by = found.settled.get(aspect)
    zeroed = know.kind(aspect).zeroed
    if by is None or by.way in ("figures", "nearest") or (by.way == "word" and not zeroed):
        return None
    best = best_setting(know, aspect, found.settings, fit_open=_fit_open(know, found))
    gain = best.chance - by.chance if not zeroed else math.inf
    return best if gain > defaults.WORTH_SAYING else None
