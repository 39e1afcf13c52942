"""Whether the next cut is on the end of the last piece or on a fresh one, and how far it goes."""

from __future__ import annotations

from ..domain import Aspect, Piece, Remark, Settings, Window, remark
from ..estimator.nibble import Planned, Told, Words, next_cut
from ..estimator.posterior import Posterior
from .end_laws import law_on_end, noise_on_end
from .knowledge import Knowledge
from .laws import limit_of, nominal_of
from .settled import half_told
from .sure import reads


def has_ends(know: Knowledge) -> bool:
    """Tell whether an end can be cut again at all."""
    return know.joint.plan.family.recuts


def nibbles(know: Knowledge, aspect: Aspect) -> bool:
    """Tell whether an aspect is come up to from one side, since its setting goes on one way only on
    an end that was cut. Not one whose settling word shows one side alone: what is not told cannot
    be come up to.
    """
    one_way = know.joint.plan.family.adjusted(aspect).free in ("+", "-")
    shown = not half_told(know.joint, aspect)
    return one_way and shown and not know.joint.window(aspect).one_sided


def aimed(know: Knowledge, aspect: Aspect, settings: Settings, end: Piece | None) -> Planned:
    """Return the nominal misfit to cut at next and what is to be expected from there. end: the last
    piece, whose end is cut again; None: a fresh end, whose own cost is not counted.
    """
    joint, free = know.joint, know.joint.plan.family.adjusted(aspect).free
    slope, can = joint.slope(aspect, settings), joint.plan.adjuster(aspect, settings.of(aspect))
    kind = know.kind(aspect)
    upwards = (slope > 0) == (free == "+")
    now = None if end is None else nominal_of(know, aspect, end.settings)
    step = can.step + (joint.trifle(aspect) or 0.0)  # no less is a move at all
    told = Told(
        _about(joint.word_bands(aspect), kind.settled_at, joint.window(aspect)),
        kind.settled_at,
        noise_on_end(know, aspect),
        joint.read_sd(aspect) if reads(know, aspect, know.pieces) else None,
        kind.readable,
        joint.end_sd(aspect),
        upwards,
        abs(slope) * can.step if can.coarse else 0.0,
    )
    law = law_on_end(know, aspect, settings, end)
    made = _made(know, aspect, settings, law)
    return next_cut(law, told, now=now, least=abs(slope) * step, made=made)


def _about(words: Words, good: int, window: Window) -> Words:
    """The bands of words where good is what lies inside a window, whatever it is called."""
    below, within, above = words[:good], ((window.low, window.high, 1.0),), words[good + 1 :]
    under = [[(min(a, window.low), min(b, window.low), w) for a, b, w in one] for one in below]
    over = [[(max(a, window.high), max(b, window.high), w) for a, b, w in one] for one in above]
    under[-1:] = [[(a, window.low, w) for a, _, w in one] for one in under[-1:]]
    over[:1] = [[(window.high, b, w) for _, b, w in one] for one in over[:1]]
    return (*map(tuple, under), within, *map(tuple, over))


def _made(know: Knowledge, aspect: Aspect, settings: Settings, law: Posterior) -> list[float]:
    """The nominal misfits that can be set; none where the machine can make any."""
    joint, can = know.joint, know.joint.plan.adjuster(aspect, settings.of(aspect))
    if not can.coarse:
        return []
    window, limit = joint.window(aspect), limit_of(know, aspect, settings)
    span = 2 * (window.high - window.low) + float(law.grid[-1] - law.grid[0])
    middle = window.middle - law.mean
    ends = sorted(joint.setting_for(aspect, middle + side * span, settings) for side in (-1, 1))
    now, slope = nominal_of(know, aspect, settings), joint.slope(aspect, settings)
    marks = can.within(max(limit.low, ends[0]), min(limit.high, ends[1]))
    return [now + slope * (mark - settings.of(aspect)) for mark in marks]


def can_go_on(settings: Settings, last: Piece) -> bool:
    """Tell whether settings can be cut on the end of the last piece: something moves, and all that
    does goes the way that is free.
    """
    moves = {
        kind: settings[kind.name] - last.settings[kind.name] for kind in settings.family.settings
    }
    moved = [(kind, move) for kind, move in moves.items() if abs(move) > 1e-6]
    return bool(moved) and all(kind.goes_on(move) for kind, move in moved)


def where(know: Knowledge, end: int | None) -> Remark | None:
    """Say which end is cut next; nothing where no end can be cut again."""
    if not has_ends(know) or not know.pieces:
        return None
    told = remark("same-end", piece=end) if end is not None else remark("fresh-end")
    return told.of(know.joint.plan.joint)  # not every joint calls it an end
