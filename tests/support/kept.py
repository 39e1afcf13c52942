"""A kept sample for the tests of `recover`: theta 14 deg, D 12.7, h 9.5, clearance 0.10, and what
it measures.

Its widths are worked out from Machinery's Handbook, "Measuring dovetail slides"; the bits are
invented.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from building import make_plan

from fitlog.advice.history import History
from fitlog.domain import Bit, Plan, Reading
from fitlog.families.half_blind.recovery import Recovery, recover
from fitlog.families.half_blind.sample import Sample

D, H, P = 12.7, 9.5, 20.5628
THETA = math.radians(14)
LIFT = 2 * math.tan(THETA)
HERON = Bit("heron", D, 14.0, 15.0, measured=True)
ROD = 4.0
MIDDLE = 0.07  # of the window that counts as good, 0.04 to 0.10
MOUTH, TAIL = Reading("mouth", 7.9628), Reading("tail_width", 12.6)
OVER, BETWEEN = Reading("over_rods", 16.9825, rod=ROD), Reading("between_rods", 3.5802, rod=ROD)
GAP = Reading("pull_gap", 0.10 / LIFT)
ALL = (MOUTH, TAIL, OVER, BETWEEN, GAP)


def joint_plan(**changes: object) -> Plan:
    """A plan with the sample's bit and pitch, boards of 17 mm."""
    return replace(make_plan(HERON, pitch=P, rabbet_depth=6.35), **changes)  # type: ignore[arg-type]


PLAN = joint_plan()


def found(readings: Sequence[Reading], plan: Plan = PLAN, *, pitch_known: bool = True) -> Recovery:
    """What these readings give back, without any history."""
    return recover(plan, History(), Sample(plan, tuple(readings), pitch_known))
