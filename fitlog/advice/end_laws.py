"""The laws of an end that is cut again, and of a machine that stands as it was set."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ..domain import Aspect, Piece, Settings
from ..estimator.evidence import Evidence
from ..estimator.linearised import uncoupled
from ..estimator.nibble import of_an_end
from ..estimator.posterior import Normal, Posterior, posterior
from ..estimator.prior import Prior
from .knowledge import Knowledge
from .laws import law_if_good, noise_of, nominal_of
from .settled import SAME


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


def as_it_stands(
    know: Knowledge, aspect: Aspect, settings: Settings, law: Posterior
) -> tuple[Posterior, float] | None:
    """Return the law of the misfit less its nominal value of one more piece where the machine
    stands as the last ones left it, and by how much pieces then still differ, mm; None where it is
    set anew, or where that is no matter of ends. law: of one cut at the same settings set anew.

    An error of the setting itself is in those pieces and in every one that follows.
    """
    joint, own = know.joint, know.joint.end_sd(aspect)
    by_setting = math.sqrt(max(joint.piece_sd(aspect) ** 2 - own**2, 0.0))
    at, stood = nominal_of(know, aspect, settings), set[int]()
    for piece in reversed(know.pieces):
        if abs(nominal_of(know, aspect, piece.settings) - at) > SAME:
            break
        stood.add(piece.number)
    if not own or not by_setting or not stood:
        return None
    prior, said, further = _as_taken(know, aspect, law)
    others = [e for e in said if e.piece not in stood]
    # What hangs on another aspect counts how it was set as noise of its verdicts (`heard`).
    within = by_setting if know.kind(aspect).driver is not None else 0.0
    here = [_set_alike(e, own, within) for e in said if e.piece in stood]
    found = of_an_end(posterior(prior, others), by_setting, here)
    return Posterior(found.grid + further, found.weight), own


def _set_alike(e: Evidence, own: float, within: float) -> Evidence:
    """What a verdict says of the misfit that is set, whatever its piece is thicker than others.
    within: how much of its noise is of the setting, as an sd, mm.
    """
    other = None if e.other is None else _set_alike(e.other, own, within)
    word, read = (math.sqrt(max(sd**2 - within**2, 0.0)) for sd in (e.word_noise, e.read_sd))
    told = replace(e, word_noise=word, read_sd=read, piece_sd=own, other=other)
    return replace(told, end=None, end_sd=0.0)
