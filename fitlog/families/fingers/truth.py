"""What simulated box joints have in common: see `simulation.simulated` for what each name promises.
Names and numbers of the shops are all invented. Lengths are mm.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from statistics import NormalDist
from typing import TypeVar

from ...domain import Aspect, Bit, Plan, Settings, Stock
from ..drawn import Drawn, Shown
from .joint import Fingers
from .names import ENDS, FIT
from .plan import FingerPlan

P = TypeVar("P", bound=FingerPlan)
_NORMAL = NormalDist()

CLOSED = ("diameter",)
CAUSES = (*CLOSED, "species", "stock", "fit day", "chips")
ANOTHER = "on boards of another width"
STEPS: Mapping[Aspect, float] = {ENDS: 0.2}
USUAL = ""
BITS = (
    Bit("plain 6", 6.0, 0.0, 20.0),
    Bit("plain 9", 9.525, 0.0, 25.0),
    Bit("plain 10", 10.0, 0.0, 25.0),
    Bit("plain 12", 12.7, 0.0, 32.0),
)
STOCKS = (
    Stock("box maple", "maple", 12.0, 110.0),
    Stock("box cherry", "cherry", 10.0, 90.0),
    Stock("tray ash", "ash", 14.0, 120.0),
    Stock("drawer beech", "beech", 13.0, 140.0),
)


def cutter_moves(joint: Fingers, drawn: Drawn, aspect: Aspect, settings: Settings) -> float:
    """Return by how much a misfit is off because the cutter is, mm."""
    terms = joint.terms(aspect, settings)
    return sum(t.factor * drawn.off["diameter"] for t in terms if t.key[0] == "diameter")


def misfits(joint: Fingers, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """Return the true misfits of a piece, each with a draw of its own made from the piece's."""
    figures = joint.plan.figures()
    found = {
        aspect: joint.nominal(aspect, settings, figures)
        + drawn.shift[aspect]
        + cutter_moves(joint, drawn, aspect, settings)
        for aspect in joint.plan.family.setting_of
    }
    return {a: m + joint.piece_sd(a) * another(own, i) for i, (a, m) in enumerate(found.items())}


def another(own: float, nth: int) -> float:
    """Return a standard normal draw that depends on another one as its later digits do: the nth of
    them, the first being itself; 0 of 0.
    """
    if nth == 0 or own == 0:
        return own
    share = math.modf(_NORMAL.cdf(own) * 1000003 * nth)[0]
    return _NORMAL.inv_cdf(min(max(share, 1e-9), 1 - 1e-9))


def fitting(joint: Fingers, drawn: Drawn, about: Settings) -> float:
    """Return the lead's setting that truly brings the middle of its window."""
    off = drawn.shift[FIT] + cutter_moves(joint, drawn, FIT, about)
    return joint.setting_for(FIT, joint.window(FIT).middle - off, about)


def stands_for(plan: Plan, drawn: Drawn) -> dict[Aspect, float]:
    """Every number is the misfit itself."""
    return dict.fromkeys(plan.family.aspects, 1.0)


def slot(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
    """Its width."""
    return Shown("slot", plan.bit.diameter + drawn.off["diameter"])


def shown(
    plan: Plan, drawn: Drawn, settings: Settings, own: float, by: str
) -> tuple[Shown | None, float | None]:
    """Nothing is shown in more than one way."""
    return None, None


def shown_by(at: Settings, zero: float | None, short: bool) -> str:
    """There is one way."""
    return ""


def of_width(plan: P, share: float) -> P:
    """Return a plan on boards 0.7 to 1.3 times as wide."""
    return replace(plan, board_width=plan.board_width * (0.7 + 0.6 * share))


def season(plan: P, shares: Sequence[float], sds: float, bias: Mapping[str, float]) -> list[P]:
    """Boards of other widths."""
    return [of_width(plan, share) for share in shares]


def drawn_from(draw: Sequence[float]) -> tuple[Bit, Stock]:
    """Return the cutter and the boards of an invented shop."""
    return BITS[int(draw[0] * len(BITS))], STOCKS[int(draw[1] * len(STOCKS))]
