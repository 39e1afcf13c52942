"""What stays as it is: aspects that a word, a reading or the figures settle, and what the real
boards are set to for them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from .. import defaults
from ..domain import Aspect, Piece, Settings, Settled
from ..families import Limit
from .knowledge import Knowledge
from .laws import law_of, limit_of, nominal_of
from .settled import SAME, half_told, settled_by
from .sides import narrowed, word_bounds
from .stages import frozen
from .sure import Sure, best_setting, by_figures, chance_inside


@dataclass
class Aim:
    """The settings being worked out, and what held them: notes for the remarks that follow.

    wanted: unrounded settings before limits.  limited: aspects that a limit stopped.  slips:
    aspects where the model wanted to go against the word just said.  held: aspects held by a word
    or a reading, with their piece.  settled: by what, for every settled aspect.  asked: aspects
    held because the sides of their words may have been swapped.  waiting: aspects of later stages
    than the present one.  frozen: aspects whose setting is frozen, with the one they would need.
    end: the end that is cut again, None for a fresh one.
    """

    settings: Settings
    wanted: dict[Aspect, float] = field(default_factory=dict)
    limited: dict[Aspect, tuple[Limit, float]] = field(default_factory=dict)
    slips: list[Aspect] = field(default_factory=list)
    held: dict[Aspect, Piece] = field(default_factory=dict)
    settled: dict[Aspect, Settled] = field(default_factory=dict)
    asked: list[Aspect] = field(default_factory=list)
    waiting: list[Aspect] = field(default_factory=list)
    frozen: dict[Aspect, float] = field(default_factory=dict)
    faulty: bool = False
    end: int | None = None


def settle(
    know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], out: Aim, *, stays: bool
) -> bool:
    """Hold an aspect that a word or a reading settled; set one that the figures settle to the best
    that can be set. stays: its setting is not moved, since it is frozen or its stage has not come.
    """
    fit_open = fit_is_open(know, out)
    if half_told(know.joint, aspect) and know.joint.plan.family.lead in out.settled:
        fit_open = False  # no piece is cut for the lead, and none would say more of this
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
    if stays or know.joint.window(aspect).one_sided:  # further in is never worse: nothing is moved
        chance = chance_inside(know, aspect, out.settings, fit_open=fit_open)
        if chance >= defaults.SETTLED_CHANCE:
            out.settled[aspect] = Settled("figures", chance)
        if stays or aspect in out.settled:
            return aspect in out.settled
    value, limit = out.settings.of(aspect), limit_of(know, aspect, out.settings)
    low, high = narrowed((limit.low, limit.high), word_bounds(know, aspect, pieces, out.settings))
    best = min(max(sure.setting, low), high)  # not against the word just said
    window = know.joint.window(aspect)
    if not kind.zeroed and abs(best - sure.setting) > (
        defaults.TRIFLE if window.one_sided else window.half
    ):
        return False  # what would come out inside can't be set before that word is cleared up
    out.settled[aspect] = Settled("nearest" if sure.nearest else "figures", sure.chance)
    least = know.joint.trifle(aspect)
    if abs(best - value) > (defaults.TRIFLE if least is None else least) or not _reachable(
        know, aspect, value
    ):
        out.wanted[aspect] = best
        out.settings = out.settings.moved(aspect, best)
    return True


def accepted(know: Knowledge, aspect: Aspect, piece: Piece) -> bool:
    """Tell whether a piece was good in an aspect by the person's own word."""
    said = piece.verdict.of(aspect)
    own = said is not None and said.settles
    return own and (know.kind(aspect).tried or know.joint.window(aspect).holds(0.0))


def fit_is_open(know: Knowledge, out: Aim) -> bool:
    """Tell whether the lead aspect is still tuned, so that another piece is cut anyway. One that
    hangs on another is solved after it: what settles it is looked up.
    """
    lead = know.joint.plan.family.lead
    if lead not in know.joint.plan.in_play or lead in out.held:
        return False
    driven = know.kind(lead).driver is not None
    return not driven or settled_by(know.joint, lead, know.pieces) is None


def _inside(know: Knowledge, aspect: Aspect, settings: Settings, *, fit_open: bool) -> float:
    if know.kind(aspect).tried and know.kind(aspect).driver is None:
        return know.real_chance(nominal_of(know, aspect, settings))
    return chance_inside(know, aspect, settings, fit_open=fit_open)


def _reachable(know: Knowledge, aspect: Aspect, value: float) -> bool:
    """Tell whether the machine can be set to a value, which a typed setting need not be."""
    can = know.joint.plan.adjuster(aspect)
    return not can.coarse or abs(can.nearest(value) - value) < 1e-6


def _still_good(know: Knowledge, aspect: Aspect, holder: Piece, settings: Settings) -> bool:
    """Tell whether a settled aspect stays in its window where other settings that its misfit hangs
    on have been moved.
    """
    others = _hangs_on(know, aspect, settings)
    if all(abs(settings[name] - holder.settings[name]) <= SAME for name in others):
        return True
    misfit = nominal_of(know, aspect, settings) + law_of(know, aspect, settings).mean
    return know.joint.window(aspect).holds(misfit)


def _hangs_on(know: Knowledge, aspect: Aspect, settings: Settings) -> set[str]:
    """The settings beside its own that move the misfit of an aspect: by themselves, or through its
    driver.
    """
    own, driver = settings.family.setting_of[aspect], know.kind(aspect).driver
    through = {settings.family.setting_of[driver]} if driver else set()
    for one in (aspect, *((driver,) if driver else ())):
        through |= {name for name in settings if know.joint.slope(one, settings, name)}
    return through - {own}


def not_tried(know: Knowledge) -> tuple[Aspect, ...]:
    """The aspects that have a setting and need no joint that was tried."""
    family = know.joint.plan.family
    return tuple(a for a in family.tuned if not family.kind(a).tried)


def for_real_boards(know: Knowledge, found: Aim) -> Settings:
    """Return what to set for the real boards, which may be wider or thicker than the test pieces.

    The fence goes to the mark nearest to the known zero, the depth where the boards come out inside
    with the best chance, unless the step was accepted in the person's own word or another depth
    would be no better.
    """
    plan, settings = know.joint.plan, found.settings
    for aspect in not_tried(know):
        if frozen(know.joint, plan.family.adjusted(aspect), know.pieces):
            continue
        if aspect in plan.in_play and (best := _better(know, aspect, found)) is not None:
            settings = settings.moved(aspect, best.setting)
    return know.joint.carried(settings)


def _better(know: Knowledge, aspect: Aspect, found: Aim) -> Sure | None:
    """The best setting of an aspect, where it is worth being said besides the one that stands."""
    by = found.settled.get(aspect)
    zeroed = know.kind(aspect).zeroed
    if by is None or by.way in ("figures", "nearest") or (by.way == "word" and not zeroed):
        return None
    best = best_setting(know, aspect, found.settings, fit_open=fit_is_open(know, found))
    if abs(best.setting - found.settings.of(aspect)) <= defaults.TRIFLE:
        return None
    gain = best.chance - by.chance if not zeroed else math.inf
    return best if gain > defaults.WORTH_SAYING else None
