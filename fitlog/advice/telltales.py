"""What the log shows unasked, as notices: moves that did not do what was asked, misfits that drift.
Codes are stable.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..domain import Remark, remark
from .aim import Aim
from .drift import Finding
from .knowledge import Knowledge

ASKED = ("sides-swapped", "side-swapped-once", "far-off-zero")


def telltales(know: Knowledge, found: Sequence[Finding]) -> tuple[Remark, ...]:
    """Return a remark for each finding."""
    return tuple(_drift(know, f) if f.kind == "drift" else _move(f) for f in found)


def _move(found: Finding) -> Remark:
    return remark(
        "move-overshot" if found.kind == "twice" else "move-did-nothing",
        found.aspect,
        twice=found.kind == "twice",
        before=found.before,
        after=found.after,
        moved=found.move,
        chance=found.chance,
    )


def _drift(know: Knowledge, found: Finding) -> Remark:
    aspect, each = found.aspect, found.move
    return remark(
        f"{aspect}-drifts",
        aspect,
        pieces=(found.before, found.after),
        chance=found.chance,
        each=each,
        setting=abs(each) / abs(know.joint.slope(aspect, know.about)),
    )


def worth_saying(found: Sequence[Finding], aim: Aim, last: int) -> tuple[Finding, ...]:
    """Leave out what no longer matters: an old move of a setting that has been settled since."""
    return tuple(
        f for f in found if f.kind == "drift" or f.aspect not in aim.held or f.after == last
    )


def without_echoes(
    odd: Iterable[Remark], found: Sequence[Finding]
) -> tuple[tuple[Remark, ...], tuple[Finding, ...]]:
    """Return the surprises that say something else, and the findings that they don't say better.

    A slip or a surprise of the same aspect has its cause in the finding. A lapse looks like a
    setting that did otherwise than asked, and like a slip, and is asked about more plainly.
    """
    odd = tuple(odd)
    asked = {r.aspect for r in odd if r.code in ASKED}
    found = tuple(f for f in found if f.aspect not in asked)
    plainer = {f"{kind}-{aspect}" for aspect in asked for kind in ("slip", "surprise", "far-off")}
    odd = tuple(r for r in odd if r.code not in plainer)
    echoes = {f"{kind}-{f.aspect}" for f in found for kind in ("slip", "surprise")}
    return tuple(r for r in odd if r.code not in echoes), found
