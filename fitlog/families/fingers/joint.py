"""What words and readings of a box joint mean, whichever way its fingers are spaced."""

from __future__ import annotations

import math
from collections.abc import Mapping

from ... import defaults
from ...domain import Aspect, Piece, Said, Settings
from ...errors import Mm
from ...estimator.evidence import Voices
from ..base import Base, Scale
from ..family import Limit
from ..heard import Known
from . import figures
from .names import ENDS, FIT
from .plan import FingerPlan

LEAST_HEIGHT = 2.0  # mm


class Fingers(Base):
    """One plan's box joint; see `families.family.Joint` for what each method promises.

    slopes: by aspect and setting; sds: by aspect, how much it varies from piece to piece beside how
    its setting is dialled, mm; loss: what errors of the steps take from the play of the joint that
    is tried, mm.
    """

    def __init__(
        self,
        plan: FingerPlan,
        voices: Voices | None,
        by: str,
        wood: str | None,
        scales: Mapping[Aspect, Scale],
        slopes: Mapping[Aspect, Mapping[str, float]],
        sds: Mapping[Aspect, float],
        loss: float,
    ) -> None:
        super().__init__(plan, voices, by, wood, scales)
        self.loss, self._slopes = loss, slopes
        self._sds = {**sds, ENDS: math.hypot(defaults.HEIGHT_REPEAT, figures.THICKNESS)}

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        return self._slopes[aspect].get(name or settings.family.setting_of[aspect], 0.0)

    def piece_sd(self, aspect: Aspect) -> float:
        slope = self._slopes[aspect][self._plan.family.setting_of[aspect]]
        return math.hypot(self._sds[aspect], slope * self._plan.adjuster(aspect).sd)

    def end_sd(self, aspect: Aspect) -> float:
        """All cuts on one end share its thickness."""
        return figures.THICKNESS if aspect == ENDS else 0.0

    def misfit_of(self, said: Said) -> float:
        """The number of a fit is the sideways play itself."""
        return said.size or 0.0 if said.aspect == FIT else super().misfit_of(said)

    def measured(self, aspect: Aspect, piece: Piece) -> list[Known]:
        """A slot and a finger of one piece tell its play, when it is tight, too."""
        if aspect != FIT:
            return []
        found = [(r.value, figures.PLAY) for r in piece.readings if r.kind == "play"]
        slots, fingers = (
            [r.value for r in piece.readings if r.kind == kind] for kind in ("slot", "finger")
        )
        if slots and fingers:
            found.append((slots[-1] - fingers[-1] - self.loss, figures.JAWS))
        return found


def height_limit(plan: FingerPlan, finger: float) -> Limit:
    """Return the range of the height, which the fingers are as long as. finger: its width, mm."""
    length, slender = plan.bit.cutting_length, figures.SLENDER * finger
    short = length <= slender
    return Limit(
        LEAST_HEIGHT,
        min(length, slender),
        "the least of {least}: shorter fingers hold nothing",
        "the cutting length of {length}" if short else "fingers of {finger}, which split off",
        "take thicker boards",
        "take a longer cutter" if short else "take a wider cutter",
        (("least", Mm(LEAST_HEIGHT)), ("length", Mm(length)), ("finger", Mm(finger))),
    )
