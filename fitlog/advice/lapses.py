"""Lapses that the verdicts tell of, as questions: sides swapped all along or once, a zero that is
far off. Codes are stable.

The chances are those that the settings were chosen by (`Knowledge`), so that advice and note cannot
contradict each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from ..domain import Aspect, Piece, Remark, Said
from ..estimator.evidence import Evidence
from ..estimator.likelihood import Verdicts
from ..estimator.linearised import uncoupled
from ..estimator.prior import Normal
from ..language.units import Ruler
from .aim import MAYBE, SURELY
from .knowledge import FAR_OFF, SWAPPED, Knowledge
from .laws import law_of
from .settled import nominal

ONCE = 0.5  # chance from which on one verdict is asked about
_LOOK_BACK = 6  # newest pieces
_PLACE: dict[Aspect, str] = {
    "fit": "how high the bit really stands above the table",
    "centre": "from the fence to the far edge of the bit's tip, and mark the edge of the board "
    "that touches the fence",
    "seat": "the socket's depth, from the board's end to the deepest point of its mouth",
}
_NAME: dict[Aspect, str] = {"fit": "height", "centre": "fence", "seat": "depth stop"}


def lapses(know: Knowledge, pieces: Sequence[Piece], ruler: Ruler) -> Iterable[Remark]:
    """Return what is asked about the verdicts of a set-up."""
    for aspect in know.joint.plan.in_play if pieces else ():
        swapped, far = know.chance_of(aspect, SWAPPED), know.chance_of(aspect, FAR_OFF)
        if swapped > MAYBE:
            yield _all_swapped(aspect, pieces, swapped)
        elif far > ONCE:
            yield _far(know, aspect, pieces[-1], far, ruler)
        else:
            yield from _once(know, aspect, pieces[-_LOOK_BACK:], ruler)


def _all_swapped(aspect: Aspect, pieces: Sequence[Piece], chance: float) -> Remark:
    said = [s for p in pieces if (s := p.verdict.of(aspect)) is not None and s.side]
    word, other = said[-1].word, said[-1].turned.word
    taken = f'they are taken so, and the setting moves for "{other}"'
    what = (
        taken if chance >= SURELY and aspect != "fit" else "the setting stays until that is clear"
    )
    mark = " Mark the edge that touches the fence at the second pass." if aspect == "centre" else ""
    return Remark(
        "sides-swapped",
        f'Did you mean "{other}" where you said "{word}"? What you said moved the wrong way with '
        "the setting: the sides seem "
        f"to be swapped (chance {percent(chance)}); {what}. If so, `fitlog undo` and log it "
        f"again.{mark}",
        aspect,
    )


def _far(know: Knowledge, aspect: Aspect, last: Piece, chance: float, ruler: Ruler) -> Remark:
    law = law_of(know, aspect, last.settings)
    off = abs(law.mean - know.cold[aspect].mean)
    setting = know.joint.plan.family.adjusted(aspect)
    return Remark(
        "far-off-zero",
        f"The {_NAME.get(aspect, setting.noun)}'s zero seems to be off by about "
        f"{ruler.length(off)}, far more than usual "
        f"(chance {percent(chance)}); the setting allows for it. Measure "
        f"{_PLACE.get(aspect, setting.called)}.",
        aspect,
    )


def _once(
    know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], ruler: Ruler
) -> Iterable[Remark]:
    """One verdict that goes together with the others only when its sides are swapped."""
    for piece, evidence in _verdicts(know, aspect, pieces):
        said, chance = piece.verdict.of(aspect), _turned_once(know, aspect, piece, evidence)
        if said is not None and chance > ONCE:
            meant, heard = _spoken(said.turned, ruler), _spoken(said, ruler)
            newest = piece.number == max(
                p.number for p in pieces if p.verdict.of(aspect) is not None
            )
            # No setting goes against the newest word (`aim`), whatever it is taken for.
            what = (
                "; the setting does not go against your word until that is clear"
                if newest
                else ", and is taken so"
            )
            yield Remark(
                "side-swapped-once",
                f'Did you mean "{meant}" where piece {piece.number} says "{heard}"? It goes '
                f"together with the other pieces only so (chance {percent(chance)}){what}. If it "
                "was, "
                f"`fitlog undo --piece {piece.number}` and log it again.",
                aspect,
            )


def _verdicts(
    know: Knowledge, aspect: Aspect, pieces: Sequence[Piece]
) -> Iterable[tuple[Piece, Evidence]]:
    by_number = {p.number: p for p in pieces}
    if know.kind(aspect).driver is not None:
        fit = Normal(know.fit.mean, know.fit.sd)
        found = tuple(uncoupled(c, fit)[0] for c in know.joint.coupled(pieces))
    else:
        found = know.joint.evidence(aspect, pieces)
    return ((by_number[e.piece], e) for e in found if e.other is not None)


def _turned_once(know: Knowledge, aspect: Aspect, piece: Piece, evidence: Evidence) -> float:
    """Chance that this one verdict had its sides swapped, given all of them."""
    if (
        know.kind(aspect).driver is not None
    ):  # the law of the misfit of such a piece, put at this piece's own place
        law = law_of(know, aspect, piece.settings)
        misfit = (nominal(know.joint, aspect, piece) + law.grid)[None, :]
    else:
        law = law_of(know, aspect, piece.settings)
        misfit = (evidence.nominal + law.grid)[None, :]
    whole = Verdicts([evidence]).log(misfit)[0]
    assert evidence.other is not None
    other = Verdicts([evidence.other])._log(misfit)[0] + np.log((1 - evidence.slip) * evidence.swap)
    return float(law.weight @ np.exp(np.minimum(other - whole, 0.0)))


def _spoken(said: Said, ruler: Ruler) -> str:
    return said.word if said.size is None else f"{said.word} {ruler.length(said.size)}"


def percent(chance: float) -> str:
    """Return a chance as text."""
    return "over 99%" if chance > 0.99 else f"{chance:.0%}"
