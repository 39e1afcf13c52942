"""What simulated parts cut from both faces have in common: see `simulation.simulated` for what each
name promises. Names and numbers of the shops are all invented. Lengths are mm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from ...domain import Aspect, Bit, Plan, Settings, Stock
from ..drawn import Drawn, Shown
from .joint import Flipped, least_web
from .names import FACES, FIT, HEIGHT, SHOULDER
from .plan import FlipPlan

P = TypeVar("P", bound=FlipPlan)

CLOSED = ("diameter", "fence zero")
CAUSES = (
    *CLOSED,
    *("height zero", "thickness", "stop zero", "depth", "species", "stock", "fit day", "fence day"),
)
ANOTHER = "in boards of another thickness"
STEPS: Mapping[Aspect, float] = {FIT: 0.05, FACES: 0.2, SHOULDER: 0.5}
TUNED: Mapping[tuple[str, str, str], Mapping[Aspect, float]] = {}
START_BIAS = 0.0
USUAL = ""
BITS = (
    Bit("plain 6", 6.0, 0.0, 20.0),
    Bit("plain 8", 8.0, 0.0, 25.0),
    Bit("plain 10", 10.0, 0.0, 25.0),
)
STOCKS = (
    Stock("frame ash", "ash", 20.0, 60.0),
    Stock("door oak", "oak", 22.0, 70.0),
    Stock("table beech", "beech", 25.0, 90.0),
    Stock("face cherry", "cherry", 19.0, 45.0),
)
ROOM = 0.5  # mm that a cutter is wider than what must be left: far from that limit
THICKER = 0.1  # share by which a season's boards differ from the stock, either way


def misfits(joint: Flipped, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """Return the true misfits of a piece; its own is that of what its height is set for."""
    figures, found = joint.plan.figures(), {}
    for aspect, name in joint.plan.family.setting_of.items():
        found[aspect] = joint.nominal(aspect, settings, figures) + off(
            joint, drawn, aspect, settings
        )
        if name == HEIGHT:
            found[aspect] += joint.piece_sd(aspect) * own
    return found


def off(joint: Flipped, drawn: Drawn, aspect: Aspect, settings: Settings) -> float:
    """Return how far the truth of an aspect lies off its printed figures, mm."""
    terms = joint.terms(aspect, settings)
    closed = sum(t.factor * drawn.off.get(t.key[0], 0.0) for t in terms if t.key[0] in CLOSED)
    return closed + drawn.shift.get(aspect, 0.0)


def fitting(joint: Flipped, drawn: Drawn, about: Settings) -> float:
    """Return the height that truly brings the middle of its window."""
    lead = joint.plan.family.lead
    wanted = joint.window(lead).middle - off(joint, drawn, lead, about)
    return joint.setting_for(lead, wanted, about)


def stands_for(plan: Plan, drawn: Drawn) -> dict[Aspect, float]:
    """Every number is the misfit itself."""
    return dict.fromkeys(plan.family.aspects, 1.0)


def shown(
    plan: Plan, drawn: Drawn, settings: Settings, own: float, by: str
) -> tuple[Shown | None, float | None]:
    """Nothing is shown in more than one way."""
    return None, None


def shown_by(at: Settings, zero: float | None, short: bool) -> str:
    """There is one way."""
    return ""


def of_thickness(plan: P, share: float) -> P:
    """Return a plan on boards 0.9 to 1.1 times as thick."""
    by = 1 - THICKER + 2 * THICKER * share
    return replace(
        plan,
        tail_thickness=plan.tail_thickness * by,
        pin_thickness=plan.pin_thickness * by,
    )


def season(plan: P, shares: Sequence[float], sds: float, bias: Mapping[str, float]) -> list[P]:
    """Boards of other thicknesses."""
    return [of_thickness(plan, share) for share in shares]


def drawn_from(draw: Sequence[float]) -> tuple[Bit, Stock]:
    """Return the cutter and the boards of an invented shop, of which a season's thickest keep as
    much as they must beside two cuts.
    """
    stock = STOCKS[int(draw[1] * len(STOCKS))]
    least = least_web((1 + THICKER) * stock.thickness)
    bits = [bit for bit in BITS if bit.diameter > least + ROOM]
    return bits[int(draw[0] * len(bits))], stock
