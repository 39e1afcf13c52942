"""What words and readings of a piece of a half-blind dovetail say of its misfits, as evidence."""

from __future__ import annotations

import math
from dataclasses import replace

from ... import defaults
from ...domain import Aspect, Piece
from ...estimator.evidence import Evidence, Voices
from ..family import Joint
from . import figures as usual
from .names import CENTRE, FIT, SEAT, SETTLING_WORD, WORDS
from .plan import DovetailPlan


class Heard:
    """The evidence of one joint's pieces, each weighed once. voices: how people use their words."""

    def __init__(self, joint: Joint, plan: DovetailPlan, voices: Voices) -> None:
        self._joint, self._plan, self._voices = joint, plan, voices
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
        return self._joint.nominal(aspect, piece.settings, self._plan.figures(piece.sizes))

    def _weighed(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        found = self._as_said(aspect, piece)
        said = piece.verdict.of(aspect)
        if found is None or said is None or said.side == 0:
            return self._maybe_again(piece, found)
        turned = replace(piece, verdict=piece.verdict.with_(said.turned))
        found = replace(found, other=self._as_said(aspect, turned), swap=defaults.SWAP_ONCE)
        return self._maybe_again(piece, found)

    def _as_said(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        said, reading = piece.verdict.of(aspect), self._joint.reading_of(aspect, piece)
        # A joint held off at the baseline binds for that reason: its fit word says nothing about
        # the fit.
        if (said is None and reading is None) or (
            aspect == FIT and piece.verdict.has_fault("baseline")
        ):
            return None
        read, read_sd = reading or (None, 0.0)
        background = 1.0 if said is None else 1 / len(WORDS[aspect])
        if read is not None and aspect == CENTRE and any(r.kind == "walls" for r in piece.readings):
            background *= self._misread_walls(read - self.nominal(CENTRE, piece))
        elif read is not None:
            background /= usual.SLIP_RANGE[aspect]
        bands = None if said is None else self._joint.word_bands(aspect, piece.by)[said.index]
        if read is not None and aspect != FIT and said is not None:
            bands = self._off(aspect, said.side, piece.by)
        # A number beside a word measures; the word's own edges are rougher than that and must not
        # overrule it.
        noise = self._joint.word_noise(aspect, piece.by)
        if read is not None:
            voice = self._voices.get((piece.by, aspect))
            noise = math.hypot(noise, defaults.BAND_EDGES if voice is None else voice.doubt)
        spread = self._joint.piece_sd(aspect)
        if aspect == SEAT:
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
        )

    def _misread_walls(self, off: float) -> float:
        """Density of an error of the centre that comes from a misread wall, `off` from the expected
        one, mm.
        """
        zero = usual.FENCE_ZERO_BY_EYE if self._plan.by_eye else usual.FENCE_ZERO_MEASURED
        sd = math.hypot(zero, usual.MISREAD_WALL)
        return math.exp(-0.5 * (off / sd) ** 2) / (sd * math.sqrt(2 * math.pi)) + 1e-12

    def _maybe_again(self, piece: Piece, found: Evidence | None) -> Evidence | None:
        """A piece that may be the one before it, logged twice, says nothing new with
        that chance.
        """
        if found is None or not piece.again:
            return found
        slip = defaults.AGAIN + (1 - defaults.AGAIN) * found.slip
        same = 1.0 if found.read is None else 1 / defaults.AGAIN_STEP
        background = (
            defaults.AGAIN * same + (1 - defaults.AGAIN) * found.slip * found.background
        ) / slip
        return replace(found, slip=slip, background=background)

    def _off(self, aspect: Aspect, side: int, by: str) -> tuple[defaults.Band, ...] | None:
        """All words on one side of flush or centred: what is said with a number was called that,
        whatever its degree.

        None for flush or centred itself with a number, which says all.
        """
        if side == 0:
            return None
        settling = WORDS[aspect].index(SETTLING_WORD[aspect])
        ((low, high, _),) = self._joint.word_bands(aspect, by)[settling]
        return ((high, math.inf, 1.0),) if side > 0 else ((-math.inf, low, 1.0),)
