"""What a simulated shop is like, as typed."""

from __future__ import annotations

import math
from typing import NamedTuple

from ...domain import Aspect, Plan
from ...errors import Clause, Mm, Refused
from ...simulation import Conditions, plan_for
from ..again import Named
from ..limits import Limit
from ..session import Session
from .lengths import Reader
from .wood import percent

_MOST_SETUPS, _LONGEST_ROW = 100_000, 60
_MOST_LAPSES = 50.0  # per cent: beyond, a word says the opposite
_MOST_SDS, _FARTHEST_ZERO, _COARSEST, _FARTHEST_EDGE = 5.0, 5.0, 1.0, 0.5  # multiples; mm; mm; mm


class Runs(NamedTuple):
    """How many set-ups each way of working makes, how many of them in a shop, and which shops are
    drawn.
    """

    setups: int
    in_a_row: int
    seed: int

    def check(self) -> Runs:
        """Return them; raise Refused ("out-of-range") for more than a command can do, or none."""
        _within("--setups", self.setups, _MOST_SETUPS)
        _within("--in-a-row", self.in_a_row, _LONGEST_ROW)
        return self


class Shops(NamedTuple):
    """What the simulated shops are like, as typed: how often a verdict is another word (`slips`)
    or said of the other side, how far zeros and words lie from where they are assumed; None: as
    usual.
    """

    sds: float
    slips: str | None
    swaps: str | None
    readings: str | None
    fence_zero: str | None
    height_zero: str | None
    edges: str | None
    repeats: bool


def rehearsal_of(
    session: Session, named: Named, aspects: tuple[Aspect, ...], words_only: bool, shops: Shops
) -> tuple[Plan, Conditions]:
    """Return the plan of what is named or alone in the catalogue, chosen as `start` does, and what
    the shops are like.
    """
    bit, boards = session.bits.only(named.bit), session.boards(named.stock, named.pin_stock)
    machine = session.machine(named.machine)
    plan = plan_for(bit, *boards, machine, aspects, words_only, named.joint)
    return plan, _conditions(session.reader, shops)


def _conditions(reader: Reader, told: Shops) -> Conditions:
    """Return what the shops are like; raises Refused or NotUnderstood for what no shop is like."""
    if not (math.isfinite(told.sds) and 0 <= told.sds <= _MOST_SDS):
        raise Refused(
            "out-of-range",
            "--sds cannot be {sds:g}",
            "give 0 to {most:g}",
            sds=told.sds,
            most=_MOST_SDS,
        )
    usual = Conditions()
    return Conditions(
        sds=told.sds,
        slips=_share(told.slips, "--slips", usual.slips),
        swaps=_share(told.swaps, "--swaps", usual.swaps),
        readings=_readings(reader, told.readings),
        zeros_off={
            "fence": _zero(reader, told.fence_zero, "--fence-zero-off"),
            "height": _zero(reader, told.height_zero, "--height-zero-off"),
        },
        edges_off=_edges(reader, told.edges),
        repeats=told.repeats,
    )


def _within(option: str, value: int, most: int) -> None:
    if not 1 <= value <= most:
        raise Refused(
            "out-of-range",
            "{option} cannot be {value}",
            "give 1 to {most}",
            option=option,
            value=value,
            most=most,
        )


def _share(text: str | None, option: str, usual: float) -> float:
    if text is None:
        return usual
    value = percent(text, option)
    if not 0 <= value <= _MOST_LAPSES:
        raise Refused(
            "out-of-range",
            "{option} cannot be {value:g} %",
            "give 0 to {most:g} %",
            option=option,
            value=value,
            most=_MOST_LAPSES,
        )
    return value / 100


def _readings(reader: Reader, text: str | None) -> float | None:
    if text is not None and text.strip().casefold() == "none":
        return None
    why = Clause("{most:g}: coarser, nothing is read", most=Mm(_COARSEST))
    limit = Limit("--readings (a length, or none)", 0.0, _COARSEST, why)
    return reader.maybe(text, limit) or 0.0


def _edges(reader: Reader, text: str | None) -> float:
    why = Clause("{most:g}: farther off, the words mean something else", most=Mm(_FARTHEST_EDGE))
    return reader.maybe(text, Limit("--edges-off", 0.0, _FARTHEST_EDGE, why)) or 0.0


def _zero(reader: Reader, text: str | None, option: str) -> float:
    why = Clause("the {most:g} by which a zero may be off here", most=Mm(_FARTHEST_ZERO))
    return reader.maybe(text, Limit(option, -_FARTHEST_ZERO, _FARTHEST_ZERO, why)) or 0.0
