"""Quadrature over the driver's misfit c of each piece, given its offset: what c takes and how
likely it is, one row a piece.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

import numpy as np

from .evidence import Observed, Rooted
from .likelihood import Array

REACH = 6.0  # sds of a piece's own variation
_PANEL = 16  # points of one panel of the quadrature
_MOST_PANELS = 60


def depths(
    nodes: Array,
    nominal: Sequence[float],
    observed: Sequence[Observed],
    sd: Sequence[float],
    step: float,
    noise: float = math.inf,
) -> Shares:
    """Return the quadrature of some pieces. nodes: the driver's offsets, in order; step: of what is
    taken, noise: of the sharpest verdict on c itself, mm.
    """
    if all(isinstance(one, Rooted) for one in observed):
        rooted = [one for one in observed if isinstance(one, Rooted)]
        return Depths(nodes, nominal, rooted[0].stacked(rooted), sd, step)
    return Panels(nodes, nominal, observed, sd, step, noise)


class Shares:
    """How the law of c shares out among its nodes. clearance, depth, weight: c, what it takes, the
    part of its range that a node stands for, each one row a piece; the first `tight` nodes take
    alike and are one depth.
    """

    nominal: Array
    sd: Array
    clearance: Array
    depth: Array
    weight: Array
    tight: int

    def share(self, nodes: Array, tilt: Array | None, *, whole: bool = False) -> Array:
        """Weights of the depths for each fit offset, shape (pieces, nodes, depths).

        They add up to 1 after tilting, or with `whole` before it, so that unlikely fit offsets lose
        weight.
        """
        # Each step fills megabytes: it is done in place, as fresh memory costs as much as the sums.
        law = (self.clearance - self.nominal)[:, None, :] - nodes[None, :, None]
        law /= self.sd[:, :, None]
        np.square(law, out=law)
        law *= -0.5
        np.exp(law, out=law)
        law *= self.weight[:, None, :]
        total = law.sum(axis=-1, keepdims=True) if whole else None
        if tilt is not None:
            law *= tilt[:, None, :]
        if n := self.tight:
            law[..., n - 1] = law[..., :n].sum(axis=-1)
        share = law[..., max(n - 1, 0) :]
        if total is None:
            total = share.sum(axis=-1, keepdims=True)
        out: Array = np.full(share.shape, 1 / share.shape[-1])
        np.divide(share, total, out=out, where=total > 0)
        return out


class Depths(Shares):
    """Quadrature of the depth that c takes, one row a piece; the first depth is 0.

    Above c = 0 the depth itself is the variable, where the integrand is smooth, by the trapezoidal
    rule in even steps with the first Euler-Maclaurin term at depth 0. Below it all of the law sits
    at depth 0.
    """

    def __init__(
        self,
        nodes: Array,
        nominal: Sequence[float],
        observed: Rooted,
        sd: Sequence[float],
        step: float,
    ) -> None:
        self.nominal, self.sd = np.array(nominal)[:, None], np.array(sd)[:, None]
        low, high = (
            self.nominal + nodes[0] - REACH * self.sd,
            self.nominal + nodes[-1] + REACH * self.sd,
        )
        under, above = np.minimum(low, 0.0), np.minimum(high, 0.0)
        tight, tight_weight = _gauss(under, above, ((above - under) / (6 * self.sd)).max())
        first = np.floor(observed.taken(low) / step)
        last = np.ceil(observed.taken(high) / step)
        places = np.arange(int((last - first).max()) + 1, dtype=np.float64)
        depth = np.asarray(step * (first + places[None, :]), dtype=np.float64)
        weight = observed.weight(depth, step)
        self.tight = tight.shape[1]
        self.clearance = np.concatenate([tight, observed.driver(depth)], axis=1)
        self.weight = np.concatenate([tight_weight, weight], axis=1)
        self.depth = np.concatenate([np.zeros_like(self.nominal), depth], axis=1)


def _gauss(low: Array, high: Array, panels: float, most: int = 12) -> tuple[Array, Array]:
    """Nodes and weights, shape (pieces, points), of Gauss-Legendre quadrature in even panels;
    weight 0 if empty.
    """
    x, w = _legendre()
    count = int(min(most, max(1, math.ceil(panels))))
    half = (high - low) / (2 * count)
    middles = low + half * (2 * np.arange(count) + 1)[None, :]
    nodes = middles[:, :, None] + half[:, :, None] * x[None, None, :]
    return nodes.reshape(len(low), -1), np.tile(w, count)[None, :] * half


@lru_cache(maxsize=1)
def _legendre() -> tuple[Array, Array]:
    x, w = np.polynomial.legendre.leggauss(_PANEL)
    return np.asarray(x, dtype=np.float64), np.asarray(w, dtype=np.float64)


class Panels(Shares):
    """Any dependence, by Gauss and Legendre in panels that end at its bends; no two nodes are one
    depth, so that `tight` is 0.
    """

    tight = 0

    def __init__(
        self,
        nodes: Array,
        nominal: Sequence[float],
        observed: Sequence[Observed],
        sd: Sequence[float],
        step: float,
        noise: float,
    ) -> None:
        self.nominal, self.sd = np.array(nominal)[:, None], np.array(sd)[:, None]
        widths = [(REACH * s, 6 * min(s, noise)) for s in sd]
        rows = [
            _panels(n + nodes[0] - reach, n + nodes[-1] + reach, one, wide, 6 * step)
            for n, one, (reach, wide) in zip(nominal, observed, widths, strict=True)
        ]
        most = max(len(c) for c, _ in rows)
        self.clearance = np.array([np.pad(c, (0, most - len(c)), mode="edge") for c, _ in rows])
        self.weight = np.array([np.pad(w, (0, most - len(w))) for _, w in rows])
        taken = zip(observed, self.clearance, strict=True)
        self.depth = np.array([one.taken(c) for one, c in taken])


def _panels(
    low: float, high: float, observed: Observed, wide: float, deep: float
) -> tuple[Array, Array]:
    """Nodes and weights from `low` to `high`; no panel is wider than `wide` nor takes more than
    `deep`.
    """
    bends = [low, *(k for k in observed.kinks() if low < k < high), high]
    nodes, weights = [], []
    for left, right in pairwise(bends):
        rise = float(np.ptp(observed.taken(np.linspace(left, right, 33))))
        count = min(_MOST_PANELS, math.ceil(max((right - left) / wide, rise / deep, 1.0)))
        at, weight = _gauss(np.array([[left]]), np.array([[right]]), count, _MOST_PANELS)
        nodes.append(at[0])
        weights.append(np.broadcast_to(weight, at.shape)[0])
    return np.concatenate(nodes), np.concatenate(weights)
