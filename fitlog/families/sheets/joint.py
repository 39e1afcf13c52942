"""What words, readings and settings mean of a cut that takes a sheet, whatever the joint is."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from ...domain import Aspect, Figures, Piece, Settings
from ...errors import Mm
from ...estimator.evidence import Term, TermReading, Voices
from ..base import Base, Scale
from ..family import Limit
from ..heard import Known
from . import causes, figures
from .names import CUT_DEPTH, DEPTH, HEIGHT, SHEET
from .plan import SheetPlan


class Sheeted(Base):
    """One plan's joint; see `families.family.Joint` for what each method promises.

    slopes: of each aspect by its own setting, the only one that it hangs on.
    """

    def __init__(
        self,
        plan: SheetPlan,
        voices: Voices | None,
        by: str,
        wood: str | None,
        scales: Mapping[Aspect, Scale],
        slopes: Mapping[Aspect, float],
    ) -> None:
        super().__init__(plan, voices, by, wood, scales)
        self.own, self._slopes = plan, slopes

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        own = name in (None, settings.family.setting_of[aspect])
        return self._slopes[aspect] if own else 0.0

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        assert aspect == DEPTH
        return settings[HEIGHT] - self.own.depth

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        assert aspect == DEPTH
        return causes.depth_terms(self.own)

    def measured(self, aspect: Aspect, piece: Piece) -> list[Known]:
        """A depth rod from the face."""
        if aspect != DEPTH:
            return []
        return [
            (r.value - self.own.depth, figures.ROD) for r in piece.readings if r.kind == CUT_DEPTH
        ]

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        """A sheet that goes by its label, measured at the joint, tells its batch."""
        if self.own.sheet is not None:
            return ()
        known = causes.batch(self.own)
        sd = math.hypot(figures.AT_JOINT, figures.BETWEEN)
        return tuple(
            TermReading(SHEET, (known,), value - self.own.pin_thickness, sd)
            for piece in pieces
            if (value := self.read(piece, SHEET)) is not None
        )

    def piece_sd(self, aspect: Aspect) -> float:
        steep, own = abs(self._slopes[aspect]), self.plan.adjuster(aspect).sd
        if aspect == DEPTH:
            return math.hypot(figures.LIFT, own)
        return math.hypot(steep * figures.MOVED_ON, figures.AT_JOINT, steep * own)

    def end_sd(self, aspect: Aspect) -> float:
        """All cuts in one place are tried with the same offcut of the sheet."""
        return 0.0 if aspect == DEPTH else figures.AT_JOINT

    @staticmethod
    def read(piece: Piece, kind: str) -> float | None:
        """Return the last reading of a kind on a piece, mm; None without one."""
        return next((r.value for r in reversed(piece.readings) if r.kind == kind), None)


def height_limit(plan: SheetPlan, most: float, why: str, remedy: str) -> Limit:
    """Return the range of the bit height. most: how deep the side may be cut, mm; why, remedy: what
    sets that and what to change, texts that may name {side} and {left}.
    """
    length, side = plan.bit.cutting_length, plan.figures()["thickness"]
    short = length < most
    return Limit(
        figures.LEAST_DEPTH,
        min(length, most),
        "the least of {least}: a shallower cut holds nothing",
        "the cutting length of {length}" if short else why,
        "give a greater figure for the depth",
        "take a longer bit" if short else remedy,
        (
            ("least", Mm(figures.LEAST_DEPTH)),
            ("length", Mm(length)),
            ("side", Mm(side)),
            ("left", Mm(side - most)),
        ),
    )
