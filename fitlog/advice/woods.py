"""Pieces in other woods: what they say of the fit in the wood at work, and of the real boards."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from ..domain import Piece, Plan, Settings
from ..estimator.history import Lessons
from ..estimator.posterior import Normal, posterior
from ..estimator.prior import Prior, scaled
from ..families import Joint

Opener = Callable[[str], Joint]  # the joint of the same plan with pieces in another wood


def fit_before(
    plan: Plan,
    pieces: Sequence[Piece],
    wood: str,
    opened: Opener,
    lessons: Lessons,
    about: Settings,
    doubt: float,
) -> Normal:
    """Return the law of the fit's offset in `wood` before the pieces in it.

    Without pieces in other woods that is what the causes say; with them it is where they left the
    offset, shifted and widened once by what sets the two woods apart, however many pieces there
    are.  doubt: of the causes' scale, which those pieces have told.
    """
    lead = plan.family.lead
    others = list(dict.fromkeys(w for p in pieces if (w := plan.wood(p.scrap)) != wood))
    heard = [w for w in others if opened(w).evidence(lead, pieces)]
    if not heard:
        return lessons.law(opened(wood).terms(lead, about))
    law = lessons.law(opened(heard[0]).terms(lead, about))
    prior: Prior = scaled(law, doubt)
    for here, following in zip(heard, [*heard[1:], wood], strict=True):
        found = posterior(prior, opened(here).evidence(lead, pieces))
        apart = lessons.law(opened(here).wood_terms(following))
        prior = law = Normal(found.mean + apart.mean, math.hypot(found.sd, apart.sd))
    return law
