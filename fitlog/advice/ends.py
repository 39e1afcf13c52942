"""Whether the next cut is on the end of the last piece or on a fresh one, and how far it goes."""

from __future__ import annotations

import math

from ..domain import Aspect, Piece, Remark, Settings, remark
from ..estimator.nibble import next_cut, of_an_end
from ..estimator.posterior import Posterior, posterior
from .knowledge import Knowledge
from .laws import law_if_good, noise_of, nominal_of
from .sure import reads


def has_ends(know: Knowledge) -> bool:
    """Tell whether an end can be cut again at all."""
    return know.joint.plan.family.recuts


def nibbles(know: Knowledge, aspect: Aspect) -> bool:
    """Tell whether an aspect is come up to from one side, since its setting goes on one way only on
    an end that was cut.
    """
    one_way = know.joint.plan.family.adjusted(aspect).free in ("+", "-")
    return one_way and not know.joint.window(aspect).one_sided


def aimed(
    know: Knowledge, aspect: Aspect, settings: Settings, end: Piece | None
) -> tuple[float, float]:
    """Return the nominal misfit to cut at next and what that costs, in pieces. end: the last piece,
    whose end is cut again; None: a fresh end, whose own cost is not counted.
    """
    joint, free = know.joint, know.joint.plan.family.adjusted(aspect).free
    now = None if end is None else nominal_of(know, aspect, end.settings)
    slope, at = joint.slope(aspect, settings), settings.of(aspect)
    step = joint.plan.adjuster(aspect, at).step + (joint.trifle(aspect) or 0.0)
    return next_cut(
        law_on_end(know, aspect, settings, end),
        joint.window(aspect),
        noise_on_end(know, aspect),
        upwards=(slope > 0) == (free == "+"),
        now=now,
        least=abs(slope) * step,  # no less is a move at all
        read_sd=joint.read_sd(aspect) if reads(know, aspect, know.pieces) else None,
    )


def law_on_end(know: Knowledge, aspect: Aspect, settings: Settings, end: Piece | None) -> Posterior:
    """Return the law of the misfit less its nominal value on an end: of one that was cut, with what
    its cuts said under the likeliest way to take them.
    """
    sd, law = know.joint.end_sd(aspect), law_if_good(know, aspect, settings)
    if end is None or know.kind(aspect).driver is not None:
        return of_an_end(law, sd, ()) if sd else law
    if not sd:
        return law
    taken = know.weighed(aspect).likeliest
    cuts = [e for e in taken.evidence if e.end == end.own_end]
    others = [e for e in taken.evidence if e.end != end.own_end]
    return of_an_end(posterior(taken.prior, others), sd, cuts)


def noise_on_end(know: Knowledge, aspect: Aspect) -> float:
    """Return the sd of a word about the misfit of its end, mm."""
    return math.sqrt(max(noise_of(know, aspect) ** 2 - know.joint.end_sd(aspect) ** 2, 0.0))


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
