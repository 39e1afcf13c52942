"""What only words and readings of a sliding dovetail say: a fit that is felt through its
shoulder.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ...domain import Aspect, Piece
from ...estimator.evidence import Coupled, Evidence
from ...estimator.observed import PiecewiseLinear
from .. import heard
from .names import FIT, SHOULDER

_AS_IT_IS = PiecewiseLinear.straight(0.0)


class Heard(heard.Heard):
    """The evidence of one joint's pieces."""

    def alone(self, piece: Piece) -> Evidence | None:
        """Return what a piece says of the fit, with what its own shoulder took already put in."""
        found = self.of(FIT, piece)
        said = piece.verdict.of(SHOULDER)
        if found is None or found.read is not None or said is None or said.settles:
            return found
        bands = self._joint.word_bands(SHOULDER)[said.index]
        seen = said.size or max(low for low, _, _ in bands)
        taken = float(self._joint.observed(piece.settings).taken(np.array(seen)))
        return _lifted(found, taken)

    def coupled(self, pieces: Sequence[Piece]) -> tuple[Coupled, ...]:
        """Return what pieces say of the fit with the shoulder that it is felt through: a word is,
        a pulled gap or the play is not.
        """
        found = ((piece, self.of(FIT, piece)) for piece in pieces)
        return tuple(self._coupled(piece, fit) for piece, fit in found if fit is not None)

    def _coupled(self, piece: Piece, fit: Evidence) -> Coupled:
        said = piece.verdict.of(SHOULDER)
        stands_off = said is not None and not said.settles
        if fit.read is not None and stands_off:  # the word is of the wedged tongue
            fit = replace(fit, bands=None, other=None, swap=0.0)
        return Coupled(
            fit,
            self._joint.observed(piece.settings) if fit.read is None else _AS_IT_IS,
            self.nominal(SHOULDER, piece),
            self._joint.piece_sd(SHOULDER),
            self.of(SHOULDER, piece),
        )

    def _weighed(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        found = super()._weighed(aspect, piece)
        # Nobody takes an open shoulder for a closed one, nor sees the void behind that.
        return replace(found, other=None, swap=0.0) if found and aspect == SHOULDER else found


def _lifted(e: Evidence, taken: float) -> Evidence:
    other = None if e.other is None else _lifted(e.other, taken)
    return replace(e, nominal=e.nominal - taken, other=other)
