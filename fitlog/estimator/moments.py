"""Mean and sd of many set-ups' offsets in one sweep: what of an earlier set-up is worth keeping."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from .evidence import Evidence
from .likelihood import Array, Verdicts
from .posterior import Normal

_COARSE = np.linspace(
    -5.5, 5.5, 49
)  # prior sds: where the whole law is looked over, what slips leave of it included
_FINE = np.linspace(
    -4.0, 4.0, 25
)  # noise widths about each place where a verdict has its edge or its peak
_AT_ONCE = 128  # set-ups whose tables stay in the processor's cache
_MOST_PLACES = 8  # newest: those of one set-up lie close together

Places = list[tuple[float, float]]


def moments(priors: Sequence[Normal], evidence: Sequence[Sequence[Evidence]]) -> list[Normal]:
    """Return the moment-matched posterior of each offset, to about 1 % of its sd.

    priors, evidence: one entry a set-up, each with at least one verdict and a finite prior.
    """
    places = [_places(found) for found in evidence]
    out: dict[int, Normal] = {}
    for count in {
        len(p) for p in places
    }:  # set-ups with as many places are worked out in one sweep
        chosen = [i for i, p in enumerate(places) if len(p) == count]
        for at in range(0, len(chosen), _AT_ONCE):
            part = chosen[at : at + _AT_ONCE]
            laws = _sweep(
                [priors[i] for i in part], [evidence[i] for i in part], [places[i] for i in part]
            )
            out.update(zip(part, laws, strict=True))
    return [out[i] for i in range(len(priors))]


def _places(evidence: Sequence[Evidence]) -> Places:
    """Offsets at which verdicts have a peak or an edge, each with its noise, oldest first."""
    found: Places = []
    for e in evidence:
        if e.read is not None:
            ways = (
                [e] if e.other is None or e.other.read == e.read else [e, e.other]
            )  # its sides may have been swapped
            found.extend(
                (way.read - e.nominal, math.hypot(e.read_sd, e.piece_sd))
                for way in ways
                if way.read is not None
            )
            continue
        edges = {x for low, high, _ in e.bands or () for x in (low, high) if math.isfinite(x)}
        found.extend((x - e.nominal, math.hypot(e.word_noise, e.piece_sd)) for x in sorted(edges))
    return found[-_MOST_PLACES:]


def _sweep(
    priors: Sequence[Normal], evidence: Sequence[Sequence[Evidence]], places: Sequence[Places]
) -> list[Normal]:
    mean, sd = (np.array(column)[:, None] for column in zip(*priors, strict=True))
    marks = mean + sd * _COARSE
    if places[0]:
        at, noise = np.moveaxis(np.array(places), 2, 0)
        marks = np.hstack(
            [marks, (at[:, :, None] + noise[:, :, None] * _FINE).reshape(len(priors), -1)]
        )
        marks.sort(axis=1)
    verdicts = Verdicts([e for found in evidence for e in found])
    counts = [len(found) for found in evidence]
    owner, first = np.repeat(np.arange(len(priors)), counts), np.cumsum([0, *counts[:-1]])
    logs = (
        np.add.reduceat(verdicts.log(verdicts.nominal + marks[owner]), first, axis=0)
        - 0.5 * ((marks - mean) / sd) ** 2
    )
    weight = np.exp(logs - logs.max(axis=1, keepdims=True)) * _widths(marks)
    weight /= weight.sum(axis=1, keepdims=True)
    middle = (weight * marks).sum(axis=1)
    spread = np.sqrt((weight * (marks - middle[:, None]) ** 2).sum(axis=1))
    return [Normal(float(m), float(s)) for m, s in zip(middle, spread, strict=True)]


def _widths(marks: Array) -> Array:
    """Weights of the trapezoidal rule on uneven marks, one row each."""
    step = np.diff(marks, axis=1) / 2
    out = np.zeros_like(marks)
    out[:, :-1] += step
    out[:, 1:] += step
    return out
