"""Two peaks of a law that tie exactly: the choice takes one of them and ends. No outside source."""

from __future__ import annotations

import numpy as np
import pytest

from fitlog.domain import Window
from fitlog.estimator.choice import best_chance
from fitlog.estimator.posterior import from_log_density


@pytest.mark.parametrize("apart", [0.5, 2.0, 8.0])
def test_peaks_that_tie_are_no_plateau(apart: float) -> None:
    grid = np.linspace(-10.0, 10.0, 4001)
    density = sum(np.exp(-0.5 * ((grid - at) / 0.05) ** 2) for at in (-apart, apart))
    law = from_log_density(grid, np.log(density + 1e-300))
    found = best_chance(law, Window(-0.1, 0.1), 0.03)
    assert abs(found) == pytest.approx(apart, abs=0.01)
