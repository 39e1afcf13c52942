"""What a simulated lock mitre hides, and what is invented for it: see `simulation.simulated` for
what each name promises. Lengths are mm.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from statistics import NormalDist

from ...domain import Aspect, Bit, Machine, Plan, Settings, Stock
from ..drawn import Drawn, Shown
from .figures import MARKED
from .joint import LockMitre
from .names import FENCE, HEIGHT, set_to
from .plan import MitrePlan, mitre

CLOSED: tuple[str, ...] = ()
CAUSES = (
    *("profile height", "height zero", "thickness", "height day", "middle height"),
    *("profile reach", "exposure zero", "fence day", "middle reach"),
)
ANOTHER = "in boards of another thickness"
STEPS: Mapping[Aspect, float] = {HEIGHT: 0.3, FENCE: 0.3}
TUNED: Mapping[tuple[str, str, str], Mapping[Aspect, float]] = {}
START_BIAS = 0.0
USUAL = ""
THICKER = 0.1  # share by which a season's boards differ from the stock, either way

BITS = (
    Bit("mitre small", 38.1, 45.0, 16.0),
    Bit("mitre middle", 50.8, 45.0, 22.2),
    Bit("mitre large", 69.9, 45.0, 30.0),
)
SHARES = (0.62, 0.72, 0.82)  # of the profile's height that the boards are thick


def misfits(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """Two flats and two uprights are straight lines; each end lies down otherwise."""
    joint, figures = LockMitre(plan), plan.figures()
    ends = {HEIGHT: own, FENCE: _another(own)}
    return {
        aspect: joint.nominal(aspect, settings, figures)
        + drawn.shift[aspect]
        + joint.piece_sd(aspect) * ends[aspect]
        for aspect in (HEIGHT, FENCE)
    }


def _another(own: float) -> float:
    """A second standard normal draw, from the later digits of the first; 0 of 0."""
    digits = NormalDist().cdf(own) * 1e6 + 0.5
    return NormalDist().inv_cdf(min(max(digits - math.floor(digits), 1e-9), 1 - 1e-9))


def fitting(plan: Plan, drawn: Drawn) -> float:
    """The height that brings two flats flush."""
    return LockMitre(plan).setting_for(HEIGHT, -drawn.shift[HEIGHT], set_to(1.0, 1.0))


def stands_for(plan: Plan, drawn: Drawn) -> dict[Aspect, float]:
    """Every number is the misfit itself."""
    return dict.fromkeys(plan.family.aspects, 1.0)


def slot(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
    """None is measured."""
    raise AssertionError("nothing is cut in waste here")


def shown(
    plan: Plan, drawn: Drawn, settings: Settings, own: float, by: str
) -> tuple[Shown | None, float | None]:
    """Nothing is shown in more than one way."""
    return None, None


def shown_by(at: Settings, zero: float | None, short: bool) -> str:
    """There is one way."""
    return ""


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...],
    words_only: bool,
) -> MitrePlan:
    """Boards of one thickness, that of the first."""
    least, most = (share * bit.cutting_length for share in MARKED)
    sizes = stock.width, stock.thickness, stock.thickness
    parts = bit, stock, pin_stock, machine
    return MitrePlan(
        *parts,
        *sizes,
        in_play,
        words_only,
        middle=bit.cutting_length / 2,
        thinnest=least,
        thickest=most,
    )


def season(
    plan: Plan, shares: Sequence[float], sds: float, bias: Mapping[str, float]
) -> list[Plan]:
    """Boards of other thicknesses."""
    return [_of_thickness(mitre(plan), share) for share in shares]


def _of_thickness(plan: MitrePlan, share: float) -> Plan:
    thick = plan.stock.thickness * (1 - THICKER + 2 * THICKER * share)
    return replace(plan, tail_thickness=thick, pin_thickness=thick)


def invented(
    draw: Sequence[float],
    share: float,
    machine: Machine,
    in_play: tuple[Aspect, ...],
    words_only: bool,
    bias: Mapping[str, float] | None,
) -> Plan:
    """A bit of the shop and boards that it is marked for."""
    bit = BITS[int(draw[0] * len(BITS))]
    thick = round(SHARES[int(draw[1] * len(SHARES))] * bit.cutting_length, 1)
    stock = Stock("box oak (invented)", "oak", thick, 140.0)
    return _of_thickness(plan_for(bit, stock, stock, machine, in_play, words_only), share)
