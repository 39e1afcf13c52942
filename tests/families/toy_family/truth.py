"""What simulated pegs hide: see `simulation.simulated` for what each name promises."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from fitlog.domain import Aspect, Bit, Machine, Plan, Settings, Stock
from fitlog.families.drawn import Drawn, Shown

from .joint import PEGS, WINDOWS, Pegs, PegsPlan

CAUSES = ("peg", "play day", "reach zero", "reach day")
CLOSED: tuple[str, ...] = ()
ANOTHER = "with another spacing"
STEPS: Mapping[Aspect, float] = {"play": 0.2, "place": 0.3}
TUNED: Mapping[tuple[str, str, str], Mapping[Aspect, float]] = {}
START_BIAS = 0.0
USUAL = ""
SPACINGS = (24.0, 36.0)  # mm


def misfits(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    joint, figures = Pegs(plan), plan.figures()
    settings = settings.with_("key_gap", settings["key_gap"] + joint.piece_sd("play") * own)
    return {a: joint.nominal(a, settings, figures) + drawn.shift[a] for a in PEGS.aspects}


def fitting(plan: Plan, drawn: Drawn) -> float:
    return Pegs(plan).peg + WINDOWS["play"].middle - drawn.shift["play"]


def stands_for(plan: Plan, drawn: Drawn) -> dict[Aspect, float]:
    return dict.fromkeys(PEGS.aspects, 1.0)


def slot(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
    raise AssertionError("nothing is cut in waste here")


def shown(
    plan: Plan, drawn: Drawn, settings: Settings, own: float, by: str
) -> tuple[Shown | None, float | None]:
    raise AssertionError("nothing is zeroed here")


def shown_by(at: Settings, zero: float | None, short: bool) -> str:
    raise AssertionError("nothing is zeroed here")


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...],
    words_only: bool,
) -> PegsPlan:
    return PegsPlan(
        bit,
        stock,
        pin_stock,
        machine,
        stock.width,
        stock.thickness,
        pin_stock.thickness,
        in_play,
        words_only,
        spacing=30.0,
    )


def season(
    plan: Plan, shares: Sequence[float], sds: float, bias: Mapping[str, float]
) -> list[Plan]:
    assert isinstance(plan, PegsPlan)
    low, high = SPACINGS
    return [replace(plan, spacing=low + share * (high - low)) for share in shares]


def invented(
    draw: Sequence[float],
    share: float,
    machine: Machine,
    in_play: tuple[Aspect, ...],
    words_only: bool,
    bias: Mapping[str, float] | None,
) -> Plan:
    bit = Bit(f"auger {int(3 * draw[0])}", 10.0, 8.0, 20.0)
    stock = Stock("board (invented)", "ash (invented)", 15.0 + int(5 * draw[1]), 150.0)
    plan = plan_for(bit, stock, stock, machine, in_play, words_only)
    return season(plan, [share], 1.0, {})[0]
