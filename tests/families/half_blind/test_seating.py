"""How the seat hangs on the fit: the square root of a round end, against its closed form.

Outside source: calculus, d sqrt(r c) / dc = sqrt(r / c) / 2; no figure of the trade.
"""

from __future__ import annotations

import math

import pytest

from fitlog.families.half_blind.seating import RoundEnd


@pytest.mark.parametrize("clearance", [0.02, 0.07, 0.3])
def test_the_slope_is_that_of_the_root(clearance: float) -> None:
    end, small = RoundEnd(6.3), 1e-6
    rise = math.sqrt(6.3 * (clearance + small)) - math.sqrt(6.3 * (clearance - small))
    assert end.steepness(clearance) == pytest.approx(rise / (2 * small), rel=1e-6)


@pytest.mark.parametrize("clearance", [0.0, -0.02, -1.0])
def test_a_person_whose_good_binds_has_a_slope_all_the_same(clearance: float) -> None:
    """A window learned from words may reach below no clearance, where the root has no slope."""
    assert RoundEnd(6.3).steepness(clearance) == RoundEnd(6.3).steepness(0.01) < math.inf
