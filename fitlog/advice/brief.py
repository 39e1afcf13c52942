"""The advice in a line an aspect: what was said, and where its setting goes for it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ..domain import Aspect, Misfit, Remark, Settings, remark
from .decision import Decision
from .laws import law_of, nominal_of

_SEEN = 0.005  # mm: what reads as zero to a hundredth is no move


def brief(made: Decision, misfit: Mapping[str, Misfit | None]) -> Iterable[Remark]:
    """Yield a line for each aspect that was judged, or whose setting moves.

    misfit: what is known of the last piece's own misfits.
    """
    if not made.pieces:
        return
    for aspect in made.known.joint.plan.in_play:
        told = _of(made, aspect, misfit[aspect])
        if told is not None:
            yield told


def _of(made: Decision, aspect: Aspect, at: Misfit | None) -> Remark | None:
    last, new = made.pieces[-1], made.settings
    said = last.verdict.of(aspect)
    side = said.side if said else 0
    moved = new.of(aspect) - last.settings.of(aspect)
    stays = abs(moved) < _SEEN
    if stays and said is None:
        return None
    own, others = _changes(made, aspect, last.settings, at)
    window, was = made.known.joint.window(aspect), at.mean if at else 0.0
    turned = side * (was - window.middle) > 0 > side * (was + others - window.middle)
    contrary = side * own > 0
    size = said.size if said is not None and said.size is not None else 0.0
    short = contrary and abs(others) < size - window.half  # of what was said
    if not side or abs(others) <= window.half / 5 or (contrary and not turned) or short:
        others = 0.0  # it is not by them that the word is contradicted
    return remark(
        "stays" if stays else "moves",
        aspect,
        said=(said.word, said.size) if said else None,
        read=made.known.joint.reading_of(aspect, last) is not None,
        way=made.known.joint.plan.family.adjusted(aspect).ways[moved < 0],
        others=others,
        contrary=contrary,
    )


def _changes(
    made: Decision, aspect: Aspect, last: Settings, at: Misfit | None
) -> tuple[float, float]:
    """Return by how much the move of its own setting changes a misfit, and by how much those of all
    others do, as expected, mm.
    """
    known, new = made.known, made.settings
    stayed = new.moved(aspect, last.of(aspect))
    own = nominal_of(known, aspect, new) - nominal_of(known, aspect, stayed)
    if at is None or stayed == last:
        return own, 0.0
    then = nominal_of(known, aspect, stayed) + law_of(known, aspect, stayed).mean
    return own, then - at.mean
