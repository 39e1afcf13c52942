"""What a slot in waste is worth: its mouth, measured, narrows the fit before the first joint is
made.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ...advice.chances import Outlook
from ...advice.decision import Decision
from ...advice.knowledge import Knowledge
from ...domain import Piece, Reading, Remark, Settings, Verdict, remark
from . import figures


def slot_saves(made: Decision) -> float | None:
    """Return how many test pieces a slot cut and measured now would save, by what is to be
    expected; None where it is not worth its minute, or once a piece was cut.

    What a reading tells does not depend on its value (the causes are a linear Gaussian model), so
    that it can be said before.
    """
    known, settings = made.known, made.settings
    if made.pieces or "fit" not in made.unsettled or known.joint.plan.words_only:
        return None
    now = made.outlook.pieces_left(made.unsettled)
    after = Outlook(_measured(known, settings), settings).pieces_left(made.unsettled)
    return now - after if now - after >= figures.SLOT_WORTH else None


def offer(made: Decision, saves: float | None) -> Iterable[Remark]:
    """Offer a slot where it is worth its minute."""
    if saves is None:
        return
    height = made.settings.on_scale(made.known.joint.plan.machine)["bit_height"]
    another = bool(made.known.measured)
    yield remark("slot-first", "fit", another=another, saves=saves, height=height)


def _measured(known: Knowledge, settings: Settings) -> Knowledge:
    """What would be known after the mouth of a slot at these settings was measured just as
    expected.
    """
    slot = Piece(0, settings, Verdict(), (Reading("mouth", 1.0),), ())
    heard = known.past.of("fit").and_(known.measured)
    (reading,) = known.joint.term_readings([slot])
    terms = known.joint.terms("fit", settings)
    before, after = heard.law(terms), heard.and_([reading]).law(terms)
    fit = known.before._replace(
        sd=known.before.sd * (after.sd / before.sd if before.sd > 0 else 1.0)
    )
    return replace(known, before=fit, cold={**known.cold, "fit": fit})
