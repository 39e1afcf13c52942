"""The plans of a rehearsal: of the user's own bit, boards and machine, and of invented shops."""

from __future__ import annotations

from collections.abc import Mapping

from ..domain import Aspect, Bit, Machine, Plan, Stock
from ..domain.setups import EVERY
from ..families.names import family_of, first_joint
from .conditions import Conditions
from .draws import uniforms
from .simulated import simulated

MACHINE = Machine("invented table")


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...] = EVERY,
    words_only: bool = False,
    joint: str | None = None,
) -> Plan:
    """Return a sensible plan for a bit and boards, its sizes the stocks' own."""
    family = simulated(joint or first_joint())
    return family.plan_for(bit, stock, pin_stock, machine, in_play, words_only)


def season_plans(
    plan: Plan, seed: int, setups: int, conditions: Conditions | None = None
) -> list[Plan]:
    """Return a season's plans, drawn clear of what limits them; raise `Refused` where the boards
    allow no joint.

    Where the set-ups are repeats, all are the first one.
    """
    told = conditions or Conditions()
    numbers = (1 if told.repeats else n for n in range(1, setups + 1))
    shares = [uniforms(seed, "season", n)[0] for n in numbers]
    return simulated(plan.joint).season(plan, shares, told.sds, told.bias)


def year(
    seed: int,
    setups: int = 60,
    in_play: tuple[Aspect, ...] | None = None,
    words_only: bool = False,
    joint: str | None = None,
) -> list[Plan]:
    """Return the plans of an invented shop's year, in order. in_play: None: the lead alone."""
    name = joint or first_joint()
    family, judged = simulated(name), in_play or (family_of(name).lead,)
    draws = [uniforms(int(seed), "plan", n) for n in range(1, setups + 1)]
    return [family.invented(draw, draw[2], MACHINE, judged, words_only, None) for draw in draws]


def one_joint(
    seed: int,
    machine: Machine,
    in_play: tuple[Aspect, ...] | None = None,
    words_only: bool = False,
    bias: Mapping[str, float] | None = None,
    nth: int = 1,
    joint: str | None = None,
) -> Plan:
    """Return one plan for a machine, so far from every limit that true causes twice as wide still
    find a setting.

    in_play: None: the lead alone.  bias: how far causes may be off besides, mm.  nth: another one
    is of the same bit and boards.
    """
    name, draw = joint or first_joint(), uniforms(int(seed), "joint")
    judged, share = in_play or (family_of(name).lead,), uniforms(int(seed), "joint", nth)[0]
    return simulated(name).invented(draw, share, machine, judged, words_only, bias or {})
