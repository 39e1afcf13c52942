"""The seat's evidence as a straight line in the fit's offset, where the whole of `coupled` is not
needed: for the history, and for weighing lapses roughly.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

import numpy as np

from .evidence import Coupled, Evidence
from .likelihood import Array
from .prior import Normal


def uncoupled(said: Coupled, driver: Normal) -> tuple[Evidence, float]:
    """Return the seat's evidence with the depth that the clearance took put in as a straight line
    in the driver's offset.

    Statistical linearisation (the best straight line over the driver's law, by Gauss and Hermite):
    misfit = nominal + offset - slope * (driver offset - driver.mean) + noise; what is left over is
    added to the piece's own sd. Returns that slope too.
    """
    nodes, weights = _hermite()
    sd = math.hypot(driver.sd, said.driver_sd)
    clearance = said.driver_nominal + driver.mean + sd * nodes
    depth = said.observed.taken(clearance)
    mean = float(weights @ depth)
    slope = float(weights @ (nodes * depth)) / sd if sd > 0 else 0.0
    left = float(weights @ (depth - mean - slope * sd * nodes) ** 2) + (slope * said.driver_sd) ** 2
    return _lifted(said.evidence, mean, math.sqrt(left)), slope


def _lifted(e: Evidence, depth: float, sd: float) -> Evidence:
    other = None if e.other is None else _lifted(e.other, depth, sd)
    return replace(e, nominal=e.nominal - depth, piece_sd=math.hypot(e.piece_sd, sd), other=other)


@lru_cache(maxsize=1)
def _hermite() -> tuple[Array, Array]:
    nodes, weights = np.polynomial.hermite_e.hermegauss(9)
    return np.asarray(nodes, dtype=np.float64), np.asarray(
        weights / weights.sum(), dtype=np.float64
    )
