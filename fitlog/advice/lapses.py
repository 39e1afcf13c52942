"""Lapses that the verdicts tell of, as questions: sides swapped all along or once, a zero that is
far off. Codes are stable.

The chances are those that the settings were chosen by (`Knowledge`), so that advice and note cannot
contradict each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from ..domain import Aspect, Piece, Remark, remark
from ..estimator.evidence import Evidence
from ..estimator.likelihood import Verdicts
from ..estimator.linearised import uncoupled
from ..estimator.prior import Normal
from .aim import MAYBE, SURELY
from .knowledge import FAR_OFF, SWAPPED, Knowledge
from .laws import law_of
from .settled import nominal

ONCE = 0.5  # chance from which on one verdict is asked about
_LOOK_BACK = 6  # newest pieces


def lapses(know: Knowledge, pieces: Sequence[Piece]) -> Iterable[Remark]:
    """Return what is asked about the verdicts of a set-up."""
    for aspect in know.joint.plan.in_play if pieces else ():
        swapped, far = know.chance_of(aspect, SWAPPED), know.chance_of(aspect, FAR_OFF)
        if swapped > MAYBE:
            yield _all_swapped(know, aspect, pieces, swapped)
        elif far > ONCE:
            yield _far(know, aspect, pieces[-1], far)
        else:
            yield from _once(know, aspect, pieces[-_LOOK_BACK:])


def _all_swapped(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], chance: float) -> Remark:
    said = [s for p in pieces if (s := p.verdict.of(aspect)) is not None and s.side]
    return remark(
        "sides-swapped",
        aspect,
        said=said[-1].word,
        turned=said[-1].turned.word,
        chance=chance,
        taken=chance >= SURELY and not know.kind(aspect).tried,
    )


def _far(know: Knowledge, aspect: Aspect, last: Piece, chance: float) -> Remark:
    law = law_of(know, aspect, last.settings)
    off = abs(law.mean - know.cold[aspect].mean)
    return remark("far-off-zero", aspect, off=off, chance=chance)


def _once(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece]) -> Iterable[Remark]:
    """One verdict that goes together with the others only when its sides are swapped."""
    found = list(_verdicts(know, aspect, pieces))
    for (piece, _), chance in zip(found, _each_turned(know, aspect, found), strict=True):
        said = piece.verdict.of(aspect)
        if said is not None and chance > ONCE:
            newest = max(p.number for p in pieces if p.verdict.of(aspect) is not None)
            yield remark(
                "side-swapped-once",
                aspect,
                piece=piece.number,
                meant=(said.turned.word, said.turned.size),
                said=(said.word, said.size),
                chance=chance,
                newest=piece.number == newest,
            )


def _verdicts(
    know: Knowledge, aspect: Aspect, pieces: Sequence[Piece]
) -> Iterable[tuple[Piece, Evidence]]:
    by_number = {p.number: p for p in pieces}
    driver = know.kind(aspect).driver
    if driver is not None:
        law = Normal(know.law(driver).mean, know.law(driver).sd)
        found = tuple(uncoupled(c, law)[0] for c in know.joint.coupled(pieces))
    else:
        found = know.joint.evidence(aspect, pieces)
    return ((by_number[e.piece], e) for e in found if e.other is not None)


def _each_turned(
    know: Knowledge, aspect: Aspect, found: Sequence[tuple[Piece, Evidence]]
) -> list[float]:
    """Chance of each verdict that it alone had its sides swapped, given all of them."""
    if not found:
        return []
    laws = [law_of(know, aspect, piece.settings) for piece, _ in found]
    if know.kind(aspect).driver is not None:  # the law of such a piece is put at its own place
        places = [nominal(know.joint, aspect, piece) for piece, _ in found]
    else:
        places = [evidence.nominal for _, evidence in found]
    misfit = np.array([place + law.grid for place, law in zip(places, laws, strict=True)])
    said = [evidence for _, evidence in found]
    whole = Verdicts(said).log(misfit)
    other = Verdicts([e.other for e in said if e.other is not None])._log(misfit)
    other += np.log([[(1 - e.slip) * e.swap] for e in said])
    share = np.exp(np.minimum(other - whole, 0.0))
    return [float(law.weight @ row) for law, row in zip(laws, share, strict=True)]
