"""A set-up of each joint that is drawn by data, just begun, and its real boards; all invented."""

from __future__ import annotations

from typing import Any

from building import STARTED

from fitlog.advice import advise
from fitlog.advice.craft import craft_for, craft_of
from fitlog.advice.history import History
from fitlog.domain import Bit, Machine, SetUp, Stock
from fitlog.domain.machines import Part
from fitlog.families.boards import Job, boards_of
from fitlog.families.wanted import Wanted

DOVETAIL = Bit("wren", 12.7, 14.0, 14.0)
LOCK = Bit("lock", 50.8, 45.0, 22.0)
PLAY = Stock("ply", "plywood (invented)", 12.0, 280.0)
FINE = Machine("fine", {"fence": Part(step=0.05, zero=0.3), "height": Part(step=0.05, zero=-0.2)})


def _plain(diameter: float) -> Bit:
    return Bit("plain", diameter, 0.0, 32.0)


def _wood(thickness: float, width: float) -> Stock:
    return Stock("wood", "oak (invented)", thickness, width)


# Each with its bit, its two stocks, and what was said of its plan.
SHOPS: dict[str, tuple[Bit, Stock, Stock, dict[str, Any]]] = {
    "box": (_plain(9.525), _wood(12, 120), _wood(12, 120), {}),
    "box-steps": (_plain(12.7), _wood(14, 150), _wood(14, 150), {}),
    "sliding": (DOVETAIL, _wood(18, 150), _wood(20, 150), {"clear_width": 600.0}),
    "tenon": (_plain(8.0), _wood(20, 70), _wood(22, 70), {"clear": 400.0}),
    "tongue-groove": (_plain(6.0), _wood(18, 120), _wood(18, 120), {"clear": 110.0}),
    "half-lap": (_plain(16.0), _wood(18, 45), _wood(18, 45), {}),
    "housing": (
        _plain(12.7),
        _wood(20, 280),
        PLAY,
        {"sheet": 17.6, "place": 100.0, "spacing": 200.0},
    ),
    "rabbet": (_plain(19.05), _wood(20, 280), PLAY, {"sheet": 11.6}),
    "lock-mitre": (LOCK, _wood(19, 140), _wood(19, 140), {}),
}
JOINTS = tuple(SHOPS)


def begun(joint: str, machine: Machine | None = FINE, **said: Any) -> SetUp:
    """Return a set-up of a joint, with these figures of its plan beside its own."""
    bit, stock, other, own = SHOPS[joint]
    wanted = Wanted(bit, stock, other, machine, joint, {**own, **said})
    plan = craft_for(joint).plan_of(wanted, (), History(), "")
    first = craft_of(plan).first_settings(plan, History())
    return SetUp(1, plan, first, first, STARTED)


def job_of(setup: SetUp, tails: int | None = None) -> Job:
    """Return the real boards of a set-up."""
    past = History()
    return boards_of(setup.plan.joint).real_boards(setup, advise(setup, past), past, tails)
