"""Whether the next cut is on the end of the last piece or on a fresh one, and how far it goes."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..domain import Aspect, Piece, Remark, Settings, remark
from ..estimator.evidence import Evidence
from ..estimator.linearised import uncoupled
from ..estimator.nibble import next_cut, of_an_end
from ..estimator.posterior import Normal, Posterior, posterior
from ..estimator.prior import Prior
from .knowledge import Knowledge
from .laws import law_if_good, noise_of, nominal_of
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


def aimed(
    know: Knowledge,
    aspect: Aspect,
    settings: Settings,
    end: Piece | None,
    marks: Sequence[float] = (),
) -> tuple[float, float]:
    """Return the nominal misfit to cut at next and what that costs, in pieces. end: the last piece,
    whose end is cut again; None: a fresh end, whose own cost is not counted; marks: the only
    misfits that can be set, none for any.
    """
    joint, free = know.joint, know.joint.plan.family.adjusted(aspect).free
    slope, at = joint.slope(aspect, settings), settings.of(aspect)
    upwards = (slope > 0) == (free == "+")
    # Where wood is still to come off, some aspects cannot be measured: a tight fit shows no play.
    kind = know.kind(aspect)
    read = kind.words[0 if upwards else -1] not in kind.unread and reads(know, aspect, know.pieces)
    now = None if end is None else nominal_of(know, aspect, end.settings)
    step = joint.plan.adjuster(aspect, at).step + (joint.trifle(aspect) or 0.0)
    return next_cut(
        law_on_end(know, aspect, settings, end),
        joint.window(aspect),
        noise_on_end(know, aspect),
        upwards=upwards,
        now=now,
        least=abs(slope) * step,  # no less is a move at all
        read_sd=joint.read_sd(aspect) if read else None,
        marks=marks,
    )


def law_on_end(know: Knowledge, aspect: Aspect, settings: Settings, end: Piece | None) -> Posterior:
    """Return the law of the misfit less its nominal value on an end: of one that was cut, with what
    its cuts said under the likeliest way to take them.
    """
    sd, law = know.joint.end_sd(aspect), law_if_good(know, aspect, settings)
    if end is None or not sd:
        return of_an_end(law, sd, ()) if sd else law
    prior, said, further = _as_taken(know, aspect, law)
    cuts = [e for e in said if e.end == end.own_end]
    others = [e for e in said if e.end != end.own_end]
    found = of_an_end(posterior(prior, others), sd, cuts)
    return Posterior(found.grid + further, found.weight)


def _as_taken(
    know: Knowledge, aspect: Aspect, law: Posterior
) -> tuple[Prior, Sequence[Evidence], float]:
    """Return an aspect's prior and verdicts as they are taken, and what is to be added to the law
    that they give: nothing, or what its driver takes at the settings that `law` is of.
    """
    driver = know.kind(aspect).driver
    if driver is None:
        taken = know.weighed(aspect).likeliest
        return taken.prior, taken.evidence, 0.0
    about = Normal(know.law(driver).mean, know.law(driver).sd)
    said = [uncoupled(one, about)[0] for one in know.joint.coupled(know.pieces)]
    return know.prior(aspect), said, law.mean - know.law(aspect).mean


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
