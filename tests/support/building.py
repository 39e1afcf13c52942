"""Builders that several tests share: plans, set-ups and pieces with invented numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from fitlog.domain import (
    Bit,
    Machine,
    Piece,
    Plan,
    Reading,
    Remark,
    Said,
    Settings,
    SetUp,
    Stock,
    TrialCut,
    merge,
)
from fitlog.families import telling
from fitlog.families.half_blind.names import judged, say, set_to
from fitlog.families.half_blind.plan import DovetailPlan
from fitlog.language.units import Ruler

BIT = Bit("invented 8", 12.6, 8.0, 16.0)
STOCK = Stock("invented oak", "oak (invented)", 17.0, 150.0)
STARTED = datetime(2031, 3, 4, 5, 6, 7, tzinfo=UTC)


def make_plan(bit: Bit = BIT, machine: Machine | None = None, **changes: Any) -> Plan:
    """A sound plan: 12.6 mm bit at 8 deg, pitch 22.6 (height about 8.7), boards 17 mm thick and 150
    mm wide.
    """
    plan = DovetailPlan(
        bit,
        STOCK,
        STOCK,
        machine,
        pitch=22.6,
        board_width=150.0,
        tail_thickness=17.0,
        pin_thickness=17.0,
        rabbet_depth=6.3,
    )
    return replace(plan, **changes)


def about(height: float) -> Settings:
    """Settings at a bit height, mm; the other two are any."""
    return set_to(height, 80.0, 10.0)


def make_cut(
    piece: int,
    settings: Settings,
    fit: str | Said | None = None,
    centre: str | Said | None = None,
    seat: str | Said | None = None,
    readings: Sequence[Reading] = (),
    **more: Any,
) -> TrialCut:
    """A trial cut with words, each as text or as `Said`."""
    said = {"fit": fit, "centre": centre, "seat": seat}
    words = {a: say(a, w) if isinstance(w, str) else w for a, w in said.items()}
    return TrialCut(piece, piece, settings, judged(**words), tuple(readings), **more)


def make_setup(
    plan: Plan, first: Settings, cuts: Sequence[TrialCut] = (), number: int = 1, **more: Any
) -> SetUp:
    """A set-up of these cuts."""
    return SetUp(number, plan, first, first, STARTED, cuts=tuple(cuts), **more)


def make_piece(settings: Settings, *args: Any, number: int = 1, **kwargs: Any) -> Piece:
    """One piece on its own, as the joints and the advisor see it."""
    return merge((make_cut(number, settings, *args, **kwargs),))[0]


def in_words(remark: Remark, units: str = "mm") -> str:
    """The sentence of a remark, as a command prints it."""
    return telling.say(remark, Ruler(units))
