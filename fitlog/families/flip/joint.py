"""What words, readings and settings mean of a part cut from both faces, whatever the joint is."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from ... import defaults
from ...domain import Aspect, Piece, Said, Settings
from ...errors import Mm
from ...estimator.evidence import Evidence, Voices
from .. import heard
from ..base import Base, Scale
from ..family import Limit
from ..heard import Known
from . import figures
from .names import FACES, FIT, HEIGHT, SHOULDER, STOP
from .plan import FlipPlan


class Heard(heard.Heard):
    """The evidence of one joint's pieces."""

    def _weighed(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        found = super()._weighed(aspect, piece)
        # Nobody takes an open shoulder for a closed one, nor sees the void behind that.
        return replace(found, other=None, swap=0.0) if found and aspect == SHOULDER else found


class Flipped(Base):
    """One plan's joint; see `families.family.Joint` for what each method promises.

    slopes: of each aspect by setting.  thick: of each aspect, by how much the piece's own thickness
    moves it.  inside, outside: the readings of a hollow and of what goes into it.
    """

    inside, outside = "", ""

    def __init__(
        self,
        plan: FlipPlan,
        voices: Voices | None,
        by: str,
        wood: str | None,
        scales: Mapping[Aspect, Scale],
        slopes: Mapping[Aspect, Mapping[str, float]],
        thick: Mapping[Aspect, float],
    ) -> None:
        super().__init__(plan, voices, by, wood, scales)
        self._heard = Heard(self, self._voices, {a: s.slips for a, s in scales.items()})
        self.own, self._slopes, self._thick = plan, slopes, thick

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        return self._slopes[aspect].get(name or settings.family.setting_of[aspect], 0.0)

    def misfit_of(self, said: Said) -> float:
        """The number of a fit is a feeler beside what goes in: play, whatever its word."""
        return said.size or 0.0 if said.aspect == FIT else super().misfit_of(said)

    def measured(self, aspect: Aspect, piece: Piece) -> list[Known]:
        """A feeler beside what fits loosely; the jaws in the hollow and over what goes into it,
        when it is tight, too.
        """
        if aspect != FIT:
            return []
        found = [(r.value, figures.FEELER) for r in piece.readings if r.kind == "feeler"]
        pairs = [(r.value, r.other) for r in piece.readings if r.kind == "jaws"]
        hollow, solid = (
            pairs[-1] if pairs else (self.hollow_of(piece), self.read(piece, self.outside))
        )
        if hollow is not None and solid is not None:
            found.append((hollow - solid, figures.JAWS))
        return found

    def hollow_of(self, piece: Piece) -> float | None:
        """Return how wide the hollow is that a piece is tried in, where that was measured, mm."""
        return self.read(piece, self.inside)

    @staticmethod
    def read(piece: Piece, kind: str) -> float | None:
        """Return the last reading of a kind on a piece, mm; None without one."""
        return next((r.value for r in reversed(piece.readings) if r.kind == kind), None)

    def piece_sd(self, aspect: Aspect) -> float:
        kind = self.plan.family.kind(aspect)
        if kind.setting is None:
            return figures.THICKNESS
        # One lock holds for both passes: what it and the pressing take, they take together.
        lock = {HEIGHT: defaults.HEIGHT_REPEAT, STOP: figures.CHIPS}.get(kind.setting, 0.0)
        own = abs(self._thick.get(aspect, 0.0)) * figures.THICKNESS
        dialled = abs(self._slopes[aspect][kind.setting]) * self.plan.adjuster(aspect).sd
        return math.hypot(lock, own, dialled, 0.01)

    def trifle(self, aspect: Aspect) -> float | None:
        """No stop is set anew for less, where its shoulder closes anyway."""
        return figures.STOP_TRIFLE if aspect == SHOULDER else super().trifle(aspect)

    def end_sd(self, aspect: Aspect) -> float:
        """A board's own thickness is in all cuts on its end."""
        by_height = self.plan.family.setting_of.get(aspect) == HEIGHT
        return abs(self._thick[aspect]) * figures.THICKNESS if by_height else 0.0


def height_limit(plan: FlipPlan, thickness: float, faces: int = 2) -> Limit:
    """Return the range of the bit height that leaves enough of a board. faces: cut from so many."""
    least = least_web(thickness)
    room, length = (thickness - least) / faces, plan.bit.cutting_length
    long = length < room
    return Limit(
        figures.LEAST_HEIGHT,
        min(room, length),
        "the least of {least_height}: less is a scratch",
        "the cutting length of {length}" if long else "the {least} that must be left of {thick}",
        "take a thinner bit or chisel, or a thicker board",
        "take a longer bit" if long else "take a wider mortise or groove, or a thinner board",
        (
            ("least_height", Mm(figures.LEAST_HEIGHT)),
            ("length", Mm(length)),
            ("least", Mm(least)),
            ("thick", Mm(thickness)),
        ),
    )


def least_web(thickness: float) -> float:
    """Return what a tenon or tongue must at least be thick on a board, mm."""
    return max(figures.LEAST_WEB, figures.WEB_SHARE * thickness)


def stop_limit() -> Limit:
    """Return the range of the stop."""
    return Limit(
        figures.LEAST_LENGTH,
        figures.LONGEST,
        "the least of {least}: anything shorter holds nothing",
        "{most}, longer than any stop is set",
        "give the figure of the depth",
        "check the unit of the depth",
        (("least", Mm(figures.LEAST_LENGTH)), ("most", Mm(figures.LONGEST))),
    )


def thick_of(aspects: Mapping[Aspect, float]) -> dict[Aspect, float]:
    """Return how the piece's own thickness moves each aspect; a shoulder not at all."""
    return {FACES: 0.0, SHOULDER: 0.0, **aspects}
