"""What the log shows unasked, as notices: moves that did not do what was asked, misfits that drift.
Codes are stable.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..domain import Aspect, Remark
from ..families.half_blind.names import SETTING_OF
from ..language.units import Ruler
from .aim import Aim
from .drift import Finding
from .knowledge import Knowledge

ASKED = ("sides-swapped", "side-swapped-once", "far-off-zero")
_CODES = {"nothing": "move-did-nothing", "twice": "move-overshot"}
_DRIFTS: dict[Aspect, str] = {"fit": "fit-drifts", "centre": "centre-drifts"}


def telltales(know: Knowledge, found: Sequence[Finding], ruler: Ruler) -> tuple[Remark, ...]:
    """Return a remark for each finding."""
    return tuple(Remark(code_of(f), _text(know, f, ruler), f.aspect) for f in found)


def code_of(finding: Finding) -> str:
    """Return the stable code of a finding."""
    return _DRIFTS[finding.aspect] if finding.kind == "drift" else _CODES[finding.kind]


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
    odd = tuple(
        r
        for r in odd
        if r.aspect not in asked or not r.code.startswith(("slip-", "surprise-", "far-off-seat"))
    )
    echoes = {f"{kind}-{f.aspect}" for f in found for kind in ("slip", "surprise")}
    return tuple(r for r in odd if r.code not in echoes), found


def _text(know: Knowledge, found: Finding, ruler: Ruler) -> str:
    if found.kind == "drift":
        return _drift(know, found, ruler)
    name = "height" if found.aspect == "fit" else "fence"
    move = ruler.move(SETTING_OF[found.aspect], found.move)
    seems = (
        "seems to have done nothing"
        if found.kind == "nothing"
        else "seems to have done twice what was asked"
    )
    cause = (
        "the lift's play, a lock that held or slipped"
        if found.aspect == "fit"
        else "a lock that held or slipped, another edge at the fence"
    )
    where = (
        "how high the bit really stands"
        if found.aspect == "fit"
        else "how far the bit's centre really is from the fence"
    )
    asks = f" `fitlog fault move {found.kind}` has the tests." if found.aspect == "fit" else ""
    between = f"between pieces {found.before} and {found.after} ({move})"
    return (
        f"The {name}'s move {between} {seems} (chance {_percent(found.chance)}): {cause}. "
        f"Measure {where} before you move again, and cut the same setting again.{asks}"
    )


def _drift(know: Knowledge, found: Finding, ruler: Ruler) -> str:
    each = abs(found.move)
    span = f"from piece {found.before} to piece {found.after}"
    if found.aspect == "centre":
        way = "out" if found.move > 0 else "in"
        return (
            f"The centre seems to drift {span} (chance {_percent(found.chance)}): about "
            f"{ruler.length(each)} {way} a piece, "
            "as a fence that creeps in its lock. Measure from the fence to the bit's centre before "
            "and after a piece."
        )
    way, word = ("looser", "loose") if found.move > 0 else ("tighter", "tight")
    height = each / abs(know.joint.slope("fit"))
    return (
        f"The fit seems to grow {way} {span} (chance {_percent(found.chance)}): about "
        f"{ruler.length(each)} of clearance a "
        f"piece, {ruler.length(height)} of height. The bit may creep in its collet or the lift in "
        "its lock, or the wood "
        "changes. Measure the bit's height before and after a piece; `fitlog fault later joints "
        f"{word}` has the tests."
    )


def _percent(chance: float) -> str:
    return "over 99%" if chance > 0.99 else f"{chance:.0%}"
