"""What words and readings of a piece say of its misfits, as evidence: what holds for every family.

A family whose aspects are told in a way of their own says that over this one.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from .. import defaults
from ..domain import Aspect, Piece
from ..estimator.evidence import Evidence, Voices
from .family import Joint

Known = tuple[float, float]


def combine(readings: list[Known]) -> Known | None:
    """Return the weighted mean of (value, sd) readings and its sd, or None without any (GUM,
    inverse variances).
    """
    if not readings:
        return None
    weights = [1 / sd**2 for _, sd in readings]
    total = sum(weights)
    return sum(
        w * value for w, (value, _) in zip(weights, readings, strict=True)
    ) / total, 1 / math.sqrt(total)


class Heard:
    """The evidence of one joint's pieces, each weighed once. voices: how people use their words;
    slips: by aspect, the range in which a slipped reading may fall, mm.
    """

    def __init__(self, joint: Joint, voices: Voices, slips: Mapping[Aspect, float]) -> None:
        self._joint, self._voices, self._slips = joint, voices, slips
        # By identity, since hashing a piece is slow; the piece is kept, so that it stays its own.
        self._known: dict[tuple[Aspect, int], tuple[Piece, Evidence | None]] = {}

    def of(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        """Return what a piece says of an aspect, None for nothing."""
        key = (aspect, id(piece))
        if key not in self._known:
            self._known[key] = (piece, self._weighed(aspect, piece))
        return self._known[key][1]

    def nominal(self, aspect: Aspect, piece: Piece) -> float:
        """Return the misfit of a piece by printed figures, its own sizes taken into account, mm."""
        figures = self._joint.plan.figures(piece.sizes)
        return self._joint.nominal(aspect, piece.settings, figures)

    def _weighed(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        found = self._as_said(aspect, piece)
        said = piece.verdict.of(aspect)
        if found is None or said is None or said.side == 0:
            return _maybe_again(piece, found)
        turned = replace(piece, verdict=piece.verdict.with_(said.turned))
        found = replace(found, other=self._as_said(aspect, turned), swap=defaults.SWAP_ONCE)
        return _maybe_again(piece, found)

    def _as_said(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        kind = self._joint.plan.family.kind(aspect)
        said, reading = piece.verdict.of(aspect), self._joint.reading_of(aspect, piece)
        # A joint held off by a gap binds for that reason: its word says nothing about the fit.
        if (said is None and reading is None) or piece.verdict.silenced(kind):
            return None
        read, read_sd = reading or (None, 0.0)
        background = 1.0 if said is None else 1 / len(kind.words)
        if read is not None:
            background *= self._slipped(aspect, piece, read)
        bands = None if said is None else self._joint.word_bands(aspect, piece.by)[said.index]
        if read is not None and not kind.tried and said is not None:
            bands = self._off(aspect, said.side, piece.by)
        # A number beside a word measures; the word's own edges are rougher than that and must not
        # overrule it.
        noise = self._joint.word_noise(aspect, piece.by)
        if read is not None:
            voice = self._voices.get((piece.by, aspect))
            noise = math.hypot(noise, defaults.BAND_EDGES if voice is None else voice.doubt)
        spread, end_sd = self._joint.piece_sd(aspect), self._joint.end_sd(aspect)
        if end_sd:
            spread = math.sqrt(max(spread**2 - end_sd**2, 0.0))
        if kind.driver is not None:
            # Weighed at the piece's own misfit, so that how the stop was set counts as noise.
            noise, read_sd, spread = math.hypot(noise, spread), math.hypot(read_sd, spread), 0.0
        return Evidence(
            piece.number,
            self.nominal(aspect, piece),
            bands,
            noise,
            read,
            read_sd,
            spread,
            defaults.SLIP,
            background,
            end=piece.own_end if end_sd else None,
            end_sd=end_sd,
        )

    def _slipped(self, aspect: Aspect, piece: Piece, read: float) -> float:
        """Density of a reading that is a slip, 1/mm."""
        return 1 / self._slips[aspect]

    def _off(self, aspect: Aspect, side: int, by: str) -> tuple[defaults.Band, ...] | None:
        """All words on one side of the settling one: what is said with a number was called that,
        whatever its degree.

        None for the settling word itself with a number, which says all.
        """
        if side == 0:
            return None
        settling = self._joint.plan.family.kind(aspect).settled_at
        ((low, high, _),) = self._joint.word_bands(aspect, by)[settling]
        return ((high, math.inf, 1.0),) if side > 0 else ((-math.inf, low, 1.0),)


def _maybe_again(piece: Piece, found: Evidence | None) -> Evidence | None:
    """A piece that may be the one before it, logged twice, says nothing new with that chance."""
    if found is None or not piece.again:
        return found
    slip = defaults.AGAIN + (1 - defaults.AGAIN) * found.slip
    same = 1.0 if found.read is None else 1 / defaults.AGAIN_STEP
    background = (
        defaults.AGAIN * same + (1 - defaults.AGAIN) * found.slip * found.background
    ) / slip
    return replace(found, slip=slip, background=background)
