"""Stages of a set-up: settings that wait for those before them, and settings that are frozen since
pieces of a later stage depend on them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..domain import Aspect, Piece, Remark, SettingKind, remark
from ..families import Joint
from .knowledge import Knowledge
from .settled import SAME


def frozen(joint: Joint, kind: SettingKind, pieces: Sequence[Piece]) -> bool:
    """Tell whether a setting is no longer moved, since a later stage has a piece and a move would
    make scrap.
    """
    return bool(kind.scraps) and any(_reached(joint, kind.stage, piece) for piece in pieces)


def _reached(joint: Joint, stage: int, piece: Piece) -> bool:
    """Whether a piece was judged or read in an aspect of a later stage."""
    family = joint.plan.family
    return any(
        piece.verdict.of(aspect) is not None or joint.reading_of(aspect, piece) is not None
        for aspect in family.tuned
        if family.stage_of(aspect) > stage
    )


def by_stage(
    joint: Joint, open_aspects: Sequence[Aspect], pieces: Sequence[Piece]
) -> list[list[Aspect]]:
    """Return aspects in groups that one piece can settle together, stage by stage; those that are
    frozen are judged again on every piece and go with the first.
    """
    family, found = joint.plan.family, dict[int, list[Aspect]]()
    held = [a for a in open_aspects if frozen(joint, family.adjusted(a), pieces)]
    for aspect in open_aspects:
        if aspect not in held:
            found.setdefault(family.stage_of(aspect), []).append(aspect)
    groups = [found[stage] for stage in sorted(found)] or [[]]
    first = [a for a in open_aspects if a in held or a in groups[0]]
    return [first, *groups[1:]]


def moved_all_the_same(joint: Joint, pieces: Sequence[Piece]) -> Iterable[Remark]:
    """Say what has become scrap where the last piece was cut with a frozen setting moved."""
    if len(pieces) < 2:
        return
    before, last = pieces[-2:]
    figures = [joint.plan.figures(piece.sizes) for piece in (before, last)]
    for kind in joint.plan.family.settings:
        carried = sum(
            by * (figures[1][name] - figures[0][name]) for name, by in kind.with_figures.items()
        )
        moved = last.settings[kind.name] - before.settings[kind.name] - carried
        if abs(moved) > SAME and frozen(joint, kind, pieces[:-1]):
            yield remark("frozen-moved", setting=kind.called, scrap=kind.scraps, piece=last.number)


def kept(know: Knowledge, aspect: Aspect, wanted: float | None) -> Remark:
    """Say why the setting of an open aspect is not moved. wanted: what a frozen one would have to
    be, true mm; None: its stage has not come.
    """
    kind = know.joint.plan.family.adjusted(aspect)
    if wanted is None:
        return remark("waits", aspect, setting=kind.called)
    machine = know.joint.plan.machine
    zero = machine.zero(kind.part) if machine else 0.0
    return remark("frozen", aspect, setting=kind.called, scrap=kind.scraps, wanted=wanted + zero)
