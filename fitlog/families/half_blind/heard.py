"""What words and readings of a joint that is centred by its walls say: walls may be misread."""

from __future__ import annotations

import math
from collections.abc import Mapping

from ...domain import Aspect, Piece
from ...estimator.evidence import Voices
from .. import heard
from ..family import Joint
from . import figures as usual
from .names import CENTRE


class Heard(heard.Heard):
    """The evidence of one joint's pieces. by_eye: how the fence was set; voices: how people use
    their words; slips: by aspect, the range in which a slipped reading may fall, mm.
    """

    def __init__(
        self, joint: Joint, by_eye: bool, voices: Voices, slips: Mapping[Aspect, float]
    ) -> None:
        super().__init__(joint, voices, slips)
        self._zero = usual.FENCE_ZERO_BY_EYE if by_eye else usual.FENCE_ZERO_MEASURED

    def _slipped(self, aspect: Aspect, piece: Piece, read: float) -> float:
        if aspect == CENTRE and any(r.kind == "walls" for r in piece.readings):
            return self._misread_walls(read - self.nominal(CENTRE, piece))
        return super()._slipped(aspect, piece, read)

    def _misread_walls(self, off: float) -> float:
        """Density of an error of the centre that comes from a misread wall, `off` from the expected
        one, mm.
        """
        sd = math.hypot(self._zero, usual.MISREAD_WALL)
        return math.exp(-0.5 * (off / sd) ** 2) / (sd * math.sqrt(2 * math.pi)) + 1e-12
