"""Posterior of a coupled offset over the whole posterior of its driver: misfit = nominal + offset -
what the driver's misfit c takes (`evidence.Observed`): of the half-blind dovetail the seat over the
fit, sqrt(r max(0, c)); a broken line elsewhere (`observed`).

The clearance c of a piece is its nominal plus the fit's offset plus that piece's own variation,
which the fit word of the same piece also speaks of. So each seat verdict is averaged over the c of
its piece given what was said of the fit, for every offset of the fit. The fit in turn does not
listen to the seat: the corner that seats is a far rougher thing than a flank that binds.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np

from .depths import REACH, Depths, Shares, depths
from .evidence import Coupled, Observed
from .likelihood import Array, Verdicts
from .posterior import Posterior
from .prior import Prior

_DRIVER_NODES = 28  # at least; more where the depth runs over many noise widths
_DRIVER_NODES_OF_MANY = 18  # one a standard deviation: the trapezoidal rule is good to 1e-8 there
_NODES = 81
_FEW = 12  # pieces
_TAKEN = 64  # steps of depth for a piece to come
_SPACING = 0.8  # of the finest noise: steps that the trapezoidal rule resolves to 1e-8


class Leaning(NamedTuple):
    """How the prior of the seat's offset leans on the fit's: its mean is larger by slope * (fit's
    offset - about), mm.
    """

    slope: float = 0.0
    about: float = 0.0


class CoupledPosterior(NamedTuple):
    """Joint weights, shape (len(driver), len(offset)), of the fit's offset and the seat's.
    log_evidence: of the seats.
    """

    driver: Array
    offset: Array
    weight: Array
    log_evidence: float = 0.0

    @property
    def marginal(self) -> Posterior:
        """Posterior of the seat's offset alone."""
        return Posterior(self.offset, self.weight.sum(axis=0))

    def taken(
        self,
        driver_nominal: float,
        observed: Observed,
        driver_sd: float,
        given: Callable[[Array], Array] | None = None,
        bins: int = 513,
    ) -> Posterior:
        """Law of offset - observed.taken(c) for a piece cut where the nominal clearance is
        driver_nominal.

        driver_sd: how much c varies from piece to piece.  given: chance of what is taken for
        granted at each c, such as a good fit; the law is then the conditional one.
        """
        return _binned(*self.weighed(driver_nominal, observed, driver_sd, given), bins)

    def weighed(
        self,
        driver_nominal: float,
        observed: Observed,
        driver_sd: float,
        given: Callable[[Array], Array] | None,
    ) -> tuple[Array, Array]:
        """Return the values of that law and their weights, in no order."""
        c = driver_nominal + self.driver[[0, -1]] + driver_sd * np.array([-REACH, REACH])
        step = max(_range_of(observed, c), driver_sd) / _TAKEN
        law = depths(self.driver, [driver_nominal], [observed], [driver_sd], step)
        share = law.share(
            self.driver, given(law.clearance) if given else None, whole=given is not None
        )[0]
        weight = self.weight.T @ share
        return (self.offset[:, None] - law.depth[0][None, :]).ravel(), weight.ravel()


class CoupledMixture(NamedTuple):
    """The joint posterior under several hypotheses of what was meant. parts: (chance,
    posterior).
    """

    parts: tuple[tuple[float, CoupledPosterior], ...]

    @property
    def marginal(self) -> Posterior:
        """Posterior of the seat's offset alone."""
        if len(self.parts) == 1:
            return self.parts[0][1].marginal
        values = np.concatenate([p.offset for _, p in self.parts])
        return _binned(
            values,
            np.concatenate([chance * p.weight.sum(axis=0) for chance, p in self.parts]),
            2049,
        )

    def taken(
        self,
        driver_nominal: float,
        observed: Observed,
        driver_sd: float,
        given: Callable[[Array], Array] | None = None,
        bins: int = 513,
    ) -> Posterior:
        """Return what `CoupledPosterior.taken` does, over all of them."""
        if len(self.parts) == 1:
            return self.parts[0][1].taken(driver_nominal, observed, driver_sd, given, bins)
        found = [(c, *p.weighed(driver_nominal, observed, driver_sd, given)) for c, p in self.parts]
        values, weights = (
            np.concatenate([v for _, v, _ in found]),
            np.concatenate([c * w for c, _, w in found]),
        )
        return _binned(values, weights, bins)


def coupled_posterior(
    prior: Prior, driver: Posterior, pieces: Sequence[Coupled], leaning: Leaning = Leaning()
) -> CoupledPosterior:
    """Return the joint posterior of the fit's offset and the seat's, exact up to the grids.

    driver: posterior of the fit's offset; it must carry its `log_density`.  leaning: how the seat's
    prior hangs on it.
    """
    seats = _Seats(pieces)
    # Two grid points a noise width give 1e-6; a set-up of many pieces, narrow by then, makes do
    # with one.
    fineness, least = (0.5, _DRIVER_NODES) if len(pieces) <= _FEW else (1.0, _DRIVER_NODES_OF_MANY)
    span = seats.span(_nodes_of(driver, 2)) / seats.noise
    few = _nodes_of(driver, min(48, 6 + math.ceil(span / 3)))
    widest = math.hypot(prior.sd, leaning.slope * driver.sd)
    marks = (
        prior.mean
        + leaning.slope * (driver.mean - leaning.about)
        + widest * np.linspace(-8.0, 8.0, 49)
    )
    for _ in range(3):
        joint = _log_joint(prior, driver, few, marks, seats, leaning).max(axis=0)
        kept = np.flatnonzero(joint > joint.max() - 36)
        low, high = marks[max(kept[0] - 1, 0)], marks[min(kept[-1] + 1, len(marks) - 1)]
        if kept[-1] - kept[0] > 16:
            break
        marks = np.linspace(low, high, 33)
    noise = min(seats.noise, prior.sd) if leaning.slope else seats.noise
    nodes = (
        max(_NODES, min(401, math.ceil((high - low) / (fineness * noise))))
        if seats.count or leaning.slope
        else _NODES
    )
    fine = _nodes_of(driver, max(least, min(240, math.ceil(span / fineness))))
    grid = np.linspace(low, high, nodes)
    logs = _log_joint(prior, driver, fine, grid, seats, leaning)
    top = float(logs.max())
    weight = np.exp(logs - top)
    weight[:, [0, -1]] /= 2
    total = float(weight.sum())
    step = float(grid[1] - grid[0]) * float(fine[1] - fine[0])
    return CoupledPosterior(fine, grid, weight / total, top + math.log(total * step))


def _nodes_of(driver: Posterior, count: int) -> Array:
    used = np.flatnonzero(driver.weight > driver.weight.max() * 1e-14)
    return np.linspace(driver.grid[used[0]], driver.grid[used[-1]], count)


def _log_joint(
    prior: Prior, driver: Posterior, nodes: Array, grid: Array, seats: _Seats, leaning: Leaning
) -> Array:
    if driver.log_density is None:
        raise ValueError("the driver's posterior must carry its density")
    alone = driver.log_density(nodes)
    logs: Array = (alone - alone.max())[:, None] + prior.log(
        grid[None, :] - leaning.slope * (nodes - leaning.about)[:, None]
    )
    return logs + seats.log(nodes, grid) if seats.count else logs


class _Seats:
    """All seat verdicts of a set-up, weighed together; arrays have one row a piece."""

    def __init__(self, pieces: Sequence[Coupled]) -> None:
        self.count = len(pieces)
        self.verdicts = Verdicts([p.evidence for p in pieces])
        self.said = np.array(
            [i for i, p in enumerate(pieces) if p.driver is not None], dtype=np.intp
        )
        self.driver = Verdicts([p.driver for p in pieces if p.driver is not None])
        self.nominal = [p.driver_nominal for p in pieces]
        self.observed = [p.observed for p in pieces]
        self.sd = [p.driver_sd for p in pieces]
        noise = [
            p.evidence.word_noise if p.evidence.read is None else p.evidence.read_sd for p in pieces
        ]
        self.noise = min(noise, default=1.0)
        drivers = [p.driver for p in pieces if p.driver is not None]
        self.sharpest = min(
            (d.word_noise if d.read is None else d.read_sd for d in drivers), default=math.inf
        )

    def span(self, nodes: Array) -> float:
        """Over how much depth the range of the fit's offset runs, at most, mm."""
        if not self.count:
            return 0.0
        ends = np.array(self.nominal)[:, None] + nodes[[0, -1]][None, :]
        return max(_range_of(o, row) for o, row in zip(self.observed, ends, strict=True))

    def log(self, nodes: Array, grid: Array) -> Array:
        """Log likelihood of the verdicts, shape (nodes, grid), each averaged over the clearance of
        its piece.
        """
        finest = grid[1] - grid[0]
        times = max(
            1, int(_SPACING * self.noise / finest)
        )  # depths on every so manieth step of the grid
        law = depths(nodes, self.nominal, self.observed, self.sd, times * finest, self.sharpest)
        share = law.share(nodes, self._tilt(law.clearance))
        seats = self._seats(grid, law, times) if isinstance(law, Depths) else self._each(grid, law)
        each = share @ seats
        each += 1e-300
        out: Array = np.log(each, out=each).sum(axis=0)
        return out

    def _each(self, grid: Array, law: Shares) -> Array:
        """Likelihood of each verdict at every node and offset, shape (pieces, nodes, grid), where
        the nodes lie on no lattice.
        """
        left = grid[None, None, :] - law.depth[:, :, None]
        found = self.verdicts.plain(self.verdicts.nominal + left.reshape(self.count, -1))
        return found.reshape(left.shape)

    def _seats(self, grid: Array, law: Depths, times: int) -> Array:
        """Likelihood of each verdict at every depth and offset, shape (pieces, depths, grid).

        It depends on offset less depth alone, and both lie on one lattice: each verdict is weighed
        once along it.
        """
        count, finest = law.depth.shape[1] - 1, grid[1] - grid[0]
        behind = (count - 1) * times
        along = grid[0] + finest * (np.arange(len(grid) + behind) - behind)
        table = self.verdicts.plain(self.verdicts.nominal + along[None, :] - law.depth[:, 1:2])
        step = table.strides[1]
        slack = np.lib.stride_tricks.as_strided(
            table[:, behind:],
            (self.count, count, len(grid)),
            (table.strides[0], -times * step, step),
            writeable=False,
        )
        tight = self.verdicts.plain(self.verdicts.nominal + grid[None, :])
        return np.concatenate([tight[:, None, :], slack], axis=1)

    def _tilt(self, clearance: Array) -> Array:
        """What the fit's verdict on the same piece says of its clearance."""
        tilt = np.ones_like(clearance)
        if len(self.said):
            tilt[self.said] = self.driver.plain(clearance[self.said])
        return tilt


def _range_of(observed: Observed, ends: Array) -> float:
    """How much more is taken at one end of a range of c than at the other, at a bend or between."""
    bends = [k for k in observed.kinks() if ends[0] < k < ends[-1]]
    return float(np.ptp(observed.taken(np.array([ends[0], *bends, ends[-1]]))))


def _binned(value: Array, weight: Array, bins: int) -> Posterior:
    """Share weights between neighbouring bins so that the mean stays exact."""
    used = weight > weight.max() * 1e-12
    value, weight = value[used], weight[used]
    low, high = float(value.min()), float(value.max())
    if high <= low:
        low, high = low - 1e-6, high + 1e-6
    place = (value - low) / (high - low) * (bins - 1)
    left = np.minimum(place.astype(np.int64), bins - 2)
    part = place - left
    total = np.bincount(left, weight * (1 - part), bins) + np.bincount(
        left + 1, weight * part, bins
    )
    return Posterior(np.linspace(low, high, bins), total / total.sum())
