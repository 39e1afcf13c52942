"""The next settings: where each aspect aims, within limits, steps and the word just said."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from .. import defaults
from ..domain import SETTING_OF, Aspect, Machine, Piece, Plan, Settings
from ..estimator.choice import best_target
from ..estimator.likelihood import Array, band_chance
from ..estimator.posterior import Posterior
from ..joints import Limit
from .knowledge import Knowledge
from .settled import SAME, nominal, settled_by

PLACED = ("baseline", "inside", "flank")


@dataclass
class Aim:
    """The settings being worked out, and what held them: notes for the remarks that follow.

    wanted: unrounded settings before limits.  limited: aspects that a limit stopped.  slips: aspects where the model
    wanted to go against the word just said.  held: aspects held because they are settled, with their piece.
    """

    settings: Settings
    wanted: dict[Aspect, float] = field(default_factory=dict)
    limited: dict[Aspect, tuple[Limit, float]] = field(default_factory=dict)
    slips: list[Aspect] = field(default_factory=list)
    held: dict[Aspect, Piece] = field(default_factory=dict)
    faulty: bool = False


def noise_of(know: Knowledge, aspect: Aspect) -> float:
    """Standard deviation of a word about the misfit that its setting gives, mm."""
    read = know.joint.read_sd(aspect) if aspect == "seat" else 0.0  # a seat that is not flush settles by its number
    return math.hypot(max(know.joint.word_noise(aspect), read), know.joint.piece_sd(aspect))


def aim(know: Knowledge, pieces: Sequence[Piece], base: Settings) -> Aim:
    """Return the next settings. base: those of the last piece, or the first guess before there is one."""
    plan, out = know.joint.plan, Aim(_for_own_size(know, pieces, base))
    out.faulty = bool(pieces) and any(pieces[-1].verdict.has_fault(place) for place in PLACED)
    for aspect in ("fit", "centre", "seat"):
        if aspect not in plan.in_play:
            continue
        holder = settled_by(know.joint, aspect, pieces)
        if holder is not None and _still_good(know, aspect, holder, out.settings):
            out.held[aspect] = holder
        elif pieces and pieces[-1].silent and _may_stay(know, aspect, out.settings):
            continue  # nothing was learnt from it: the same again
        elif not (aspect == "fit" and out.faulty):
            _move(know, aspect, pieces, out)
    return out


def _may_stay(know: Knowledge, aspect: Aspect, settings: Settings) -> bool:
    """Tell whether a setting can be proposed again as it stands: within its limits, the fence on the safe side."""
    limit = know.joint.limit(aspect)
    if not limit.low - 1e-6 <= settings.of(aspect) <= limit.high + 1e-6:
        return False
    error = nominal_of(know, "centre", settings) + know.centre.mean if aspect == "centre" else 0.0
    return -defaults.FENCE_SIDE_ROUNDING <= error <= defaults.MOST_SHAVING / 2


def _for_own_size(know: Knowledge, pieces: Sequence[Piece], settings: Settings) -> Settings:
    """Carry the last piece's settings over to a piece of the set-up's own size, the misfits unchanged."""
    for aspect in ("centre", "seat") if pieces else ():
        same = nominal(know.joint, aspect, pieces[-1])
        settings = settings.with_(aspect, round(know.joint.setting_for(aspect, same, settings), 6))
    return settings


def law_of(know: Knowledge, aspect: Aspect, settings: Settings) -> Posterior:
    """Law of (misfit - nominal) of a piece cut at `settings`; for the seat this includes what the clearance takes."""
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


def target(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], settings: Settings) -> float:
    """Return the nominal misfit to aim at, unrounded, before the limits of steps and the word just said."""
    law, window = law_of(know, aspect, settings), know.joint.window(aspect)
    if aspect == "seat" and "fit" in know.joint.plan.in_play:
        # A piece whose fit is off is cut again anyway: aim the seat for the pieces whose fit is good.
        law = seat_law_if_fit_good(know, settings)
    noise, prior_sd = noise_of(know, aspect), law.sd if aspect == "seat" else know.cold[aspect].sd
    fresh = not any(know.joint.reading_of(aspect, p) or p.verdict.of(aspect) for p in pieces)
    if aspect == "centre":
        # The fence side is where a shaving can snatch: a first piece lies surely outside, none is aimed inside.
        outside = min(defaults.START_OUTSIDE, max(0.0, 1.645 * law.sd - defaults.FENCE_SIDE_SHAVING / 2))
        return outside - law.mean if fresh else max(best_target(law, window, noise, prior_sd=prior_sd), -law.mean)
    wanted = best_target(law, window, noise, prior_sd=prior_sd)
    if aspect == "fit" and fresh and not know.joint.plan.words_only and law.sd > window.half:
        wanted += defaults.FIRST_PIECE_LOOSER * law.sd
    return wanted


def _move(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], out: Aim) -> None:
    joint, settings = know.joint, out.settings
    wanted = joint.setting_for(aspect, target(know, aspect, pieces, settings), settings)
    limit = joint.limit(aspect)
    if not limit.low <= wanted <= limit.high:
        out.limited[aspect] = (limit, wanted)
    bounds = _word_bounds(know, aspect, pieces, settings)
    if not bounds[0] - 1e-9 <= wanted <= bounds[1] + 1e-9:
        out.slips.append(aspect)
    allowed = _within((limit.low, limit.high), bounds)
    best = allowed
    if aspect == "centre":  # rounding does not cross to the fence side
        outside = joint.setting_for(aspect, -know.centre.mean - defaults.FENCE_SIDE_ROUNDING, settings)
        best = _within(allowed, (outside, math.inf))
    out.wanted[aspect] = min(max(wanted, best[0]), best[1])
    held = settings.of(aspect) if pieces else None
    if held is not None and not limit.low - 1e-6 <= held <= limit.high + 1e-6:
        out.limited.setdefault(aspect, (limit, held))  # the last piece itself was cut past it
    value = rounded(joint.plan, aspect, out.wanted[aspect], held, best, allowed)
    if held is not None and best[0] <= held <= best[1] and abs(value - held) <= _trifle(joint.plan, aspect, pieces) + 1e-9:
        value = held
    out.settings = settings.with_(aspect, value)


def _trifle(plan: Plan, aspect: Aspect, pieces: Sequence[Piece]) -> float:
    """The largest move that is not worth making: of the height, one that no known step of the lift stands for."""
    if aspect == "fit":
        stepped = plan.machine is not None and (plan.machine.height_step or plan.machine.height_turn)
        return 0.0 if stepped else defaults.PLAIN_STEP
    return defaults.TRIFLE if pieces[-1].verdict.of(aspect) is None else 0.0


def _word_bounds(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], settings: Settings) -> tuple[float, float]:
    """Return the range of a setting that does not go against the word last said of its aspect."""
    said = [p for p in pieces if p.verdict.of(aspect) is not None and not _unheard(aspect, p)]
    side = _side(know, aspect, said[-1]) if said else 0
    if side == 0:
        return -math.inf, math.inf
    piece = said[-1]
    before = nominal(know.joint, aspect, piece)
    if aspect == "seat":  # here another fit also moves the step: compare the steps themselves
        before += law_of(know, "seat", piece.settings).mean - law_of(know, "seat", settings).mean
    bound = know.joint.setting_for(aspect, before, settings)
    return (-math.inf, bound) if side * know.joint.slope(aspect) > 0 else (bound, math.inf)


def _side(know: Knowledge, aspect: Aspect, piece: Piece) -> int:
    """On which side of what is wanted a verdict lies: +1 above, -1 below, 0 when the word does not tell.

    A joint wanted half a millimetre proud and called slightly proud lies below.
    """
    said, middle = piece.verdict.of(aspect), know.joint.window(aspect).middle
    if said is None:
        return 0
    if said.size is not None and aspect != "fit":
        low = high = said.side * (said.size / 2 if aspect == "centre" else said.size)
    else:
        bands = know.joint.word_bands(aspect)[said.index]
        low, high = min(b[0] for b in bands), max(b[1] for b in bands)
    return 1 if low >= middle else -1 if high <= middle else 0


def _within(first: tuple[float, float], then: tuple[float, float]) -> tuple[float, float]:
    """Narrow a range by a second one where they meet; else keep the end of the first that is nearer to the second."""
    low, high = max(first[0], then[0]), min(first[1], then[1])
    if low <= high:
        return low, high
    end = first[0] if then[1] < first[0] else first[1]
    return end, end


def _unheard(aspect: Aspect, piece: Piece) -> bool:
    return aspect == "fit" and piece.verdict.has_fault("baseline")


def _still_good(know: Knowledge, aspect: Aspect, holder: Piece, settings: Settings) -> bool:
    """Tell whether a settled seat stays in its window at the new bit height; the others depend on no other setting."""
    if aspect != "seat" or abs(settings.bit_height - holder.settings.bit_height) <= SAME:
        return True
    step = nominal_of(know, "seat", settings) + law_of(know, "seat", settings).mean
    return know.joint.window("seat").holds(step)


def step_of(machine: Machine | None, aspect: Aspect) -> float | None:
    """Smallest step of an aspect's setting that the machine is known to have, mm."""
    if machine is None or aspect == "seat":
        return None
    return machine.height_step if aspect == "fit" else machine.fence_step


def rounded(
    plan: Plan, aspect: Aspect, value: float, last: float | None, best: tuple[float, float], allowed: tuple[float, float]
) -> float:
    """Round a setting to what the machine can set, on the user's own scale: the nearest step within `best`, or else
    the last setting if it lies there; then the same within `allowed`; past a limit the step below it.

    A lift with a known travel per turn and no known step is moved from where it stands by parts of a turn.
    """
    step, origin = _grid(plan, aspect, last)
    for low, high in (best, allowed):
        first, final = math.ceil((low - origin) / step - 1e-6), math.floor((high - origin) / step + 1e-6)
        if first <= final:
            return round(origin + min(max(round((value - origin) / step), first), final) * step, 6)
        if last is not None and low - 1e-6 <= last <= high + 1e-6:
            return last
    return round(origin + math.floor((allowed[1] - origin) / step + 1e-6) * step, 6)


def _grid(plan: Plan, aspect: Aspect, last: float | None) -> tuple[float, float]:
    """Return the step of a setting and a true value on its grid, mm."""
    machine, step, origin = plan.machine, step_of(plan.machine, aspect), 0.0
    if machine is not None:
        origin = -{"fit": machine.height_zero, "centre": machine.fence_zero, "seat": 0.0}[aspect]
        if aspect == "fit" and step is None and machine.height_turn is not None and last is not None:
            return machine.height_turn / defaults.TURN_PARTS, last
    return step or defaults.PLAIN_STEP, origin


def moves(settings: Settings, last: Piece) -> dict[str, float]:
    """Differences to dial from the last piece's settings, by setting, mm."""
    return {
        name: round(getattr(settings, name) - getattr(last.settings, name), 6) for name in SETTING_OF.values()
    }
