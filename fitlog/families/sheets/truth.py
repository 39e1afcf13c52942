"""What simulated cuts for a sheet have in common: see `simulation.simulated` for what each name
promises. Names and numbers of the shops are all invented. Lengths are mm.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from ...domain import Aspect, Bit, Machine, Plan, Settings, Stock
from ..drawn import Drawn, Shown
from .joint import Sheeted
from .plan import SheetPlan

P = TypeVar("P", bound=SheetPlan)

CLOSED = ("diameter",)
CAUSES = (
    *CLOSED,
    *("sheet", "within the sheet", "sheet as measured", "species", "stock"),
    *("height zero", "depth day"),
)
ANOTHER = "for sheets of another thickness"
TUNED: Mapping[tuple[str, str, str], Mapping[Aspect, float]] = {}
DEPTH_STEP = 0.2
START_BIAS = 0.0
USUAL = ""
BITS = (Bit("plain 8", 8.0, 0.0, 20.0), Bit("plain 12", 12.0, 0.0, 25.0))
SIDES = (
    Stock("case beech", "beech", 20.0, 280.0),
    Stock("case oak", "oak", 22.0, 250.0),
    Stock("shelf ash", "ash", 24.0, 220.0),
)
SHEETS = (11.0, 17.0)  # as measured, for each bit
SPREAD = 0.4  # by how much a season's sheets differ, either way


@dataclass(frozen=True)
class Shop:
    """One joint's shops. joint, plan: what they are made of; share: of the side's thickness, how
    deep it is cut; about: settings to work out what is not straight, mm; bit: the only one, None:
    those above.
    """

    joint: Callable[[Plan], Sheeted]
    plan: Callable[..., SheetPlan]
    share: float
    about: Settings
    bit: Bit | None = None

    def misfits(
        self, plan: Plan, drawn: Drawn, settings: Settings, own: float
    ) -> dict[Aspect, float]:
        """Everything is a straight line."""
        joint, figures = self.joint(plan), plan.figures()
        return {
            aspect: joint.nominal(aspect, settings, figures)
            + off(joint, drawn, aspect, settings)
            + joint.piece_sd(aspect) * own
            for aspect in joint.plan.family.setting_of
        }

    def fitting(self, plan: Plan, drawn: Drawn) -> float:
        """The lead's setting that truly brings the middle of its window."""
        joint, lead = self.joint(plan), plan.family.lead
        wanted = joint.window(lead).middle - off(joint, drawn, lead, self.about)
        return joint.setting_for(lead, wanted, self.about)

    def plan_for(
        self,
        bit: Bit,
        stock: Stock,
        pin_stock: Stock,
        machine: Machine | None,
        in_play: tuple[Aspect, ...],
        words_only: bool,
    ) -> SheetPlan:
        """As deep as usual, the sheet measured at the joint."""
        parts, thick = (bit, stock, pin_stock, machine), stock.thickness
        sizes = stock.width, thick, pin_stock.thickness
        sheet, depth = pin_stock.thickness, self.share * thick
        return self.plan(*parts, *sizes, in_play, words_only, sheet=sheet, depth=depth)

    def invented(
        self,
        draw: Sequence[float],
        share: float,
        machine: Machine,
        in_play: tuple[Aspect, ...],
        words_only: bool,
        bias: Mapping[str, float] | None,
    ) -> Plan:
        """A bit, a side and a sheet of the shop."""
        bit, side, sheet = drawn_from(draw)
        plan = self.plan_for(self.bit or bit, side, sheet, machine, in_play, words_only)
        return of_sheet(plan, share)


def off(joint: Sheeted, drawn: Drawn, aspect: Aspect, settings: Settings) -> float:
    """Return how far the truth of an aspect lies off its printed figures, mm."""
    terms = joint.terms(aspect, settings)
    closed = sum(t.factor * drawn.off[t.key[0]] for t in terms if t.key[0] in CLOSED)
    return closed + drawn.shift[aspect]


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


def of_sheet(plan: P, share: float) -> P:
    """Return a plan for a sheet a little thinner or thicker."""
    return replace(plan, sheet=plan.figures()["sheet"] + SPREAD * (2 * share - 1))


def season(plan: P, shares: Sequence[float], sds: float, bias: Mapping[str, float]) -> list[P]:
    """Sheets of other thicknesses."""
    return [of_sheet(plan, share) for share in shares]


def drawn_from(draw: Sequence[float]) -> tuple[Bit, Stock, Stock]:
    """Return the bit, the side and the sheet of an invented shop."""
    which = int(draw[0] * len(BITS))
    side = SIDES[int(draw[1] * len(SIDES))]
    sheet = Stock(f"ply {SHEETS[which]:.0f}", "birch plywood", SHEETS[which], side.width)
    return BITS[which], side, sheet
