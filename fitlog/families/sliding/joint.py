"""The sliding dovetail as a joint: what its three settings do, what readings mean, where its limits
lie.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ... import defaults
from ...domain import Aspect, Figures, Piece, Plan, Said, Settings
from ...estimator.evidence import Coupled, Evidence, Observed, Term, TermReading, Voices
from ...estimator.observed import PiecewiseLinear
from ..base import Base, Scale
from ..family import Limit
from ..heard import Known
from . import figures as usual
from . import geometry
from .causes import causes
from .heard import Heard
from .limits import limit
from .names import EXPOSURE, FIT, HEIGHT, SHOULDER, TONGUE
from .plan import SlidingPlan, sliding
from .readings import TELLING, measured_play, term_readings


class SlidingDovetail(Base):
    """The sliding dovetail of one plan; see `family.Joint` for what each method promises."""

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        self._own = own = sliding(plan)
        self.theta, self.lift = plan.bit.theta, own.faces * math.tan(plan.bit.theta)
        scales = _scales(own, self.lift)
        super().__init__(plan, voices, by, wood, scales)
        self._heard: Heard = Heard(self, self._voices, {a: s.slips for a, s in scales.items()})
        self._slopes = {
            FIT: {EXPOSURE: float(own.faces), HEIGHT: -2 * math.tan(self.theta)},
            SHOULDER: {TONGUE: 1.0, HEIGHT: -1.0},
        }

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        return self._slopes[aspect].get(name or self.plan.family.setting_of[aspect], 0.0)

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        if aspect == SHOULDER:
            return settings[TONGUE] - settings[HEIGHT]
        size, faces = self.plan.bit.diameter, self._own.faces
        thick, exposure = figures["thickness"], settings[EXPOSURE]
        return geometry.clearance(size, thick, exposure, settings[HEIGHT], self.theta, faces)

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        return causes(self._own, aspect, about[HEIGHT], self.wood)

    def limit(self, name: str, settings: Settings) -> Limit:
        return limit(self._own, name)

    def misfit_of(self, said: Said) -> float:
        """The number of a fit is the gap of a shelf that is pulled straight out: play, whatever its
        word.
        """
        return self.lift * (said.size or 0.0) if said.aspect == FIT else super().misfit_of(said)

    def measured(self, aspect: Aspect, piece: Piece) -> list[Known]:
        return measured_play(piece, self.lift) if aspect == FIT else []

    def piece_sd(self, aspect: Aspect) -> float:
        set_to = self.plan.adjuster(aspect).sd
        if aspect == SHOULDER:
            return math.hypot(usual.PRESSED, set_to)
        return math.hypot(usual.THICKNESS, self._own.faces * set_to)

    def end_sd(self, aspect: Aspect) -> float:
        """A shelf's own thickness is in all cuts on its end."""
        return usual.THICKNESS if aspect == FIT else 0.0

    def observed(self, settings: Settings) -> Observed:
        return PiecewiseLinear.beyond(self.lift)

    def coupling_sd(self, settings: Settings) -> float:
        return self.piece_sd(SHOULDER)

    def evidence(self, aspect: Aspect, pieces: Sequence[Piece]) -> tuple[Evidence, ...]:
        if aspect != FIT:
            return super().evidence(aspect, pieces)
        found = (self._heard.alone(p) for p in self._at_work(pieces))
        return tuple(e for e in found if e is not None)

    def coupled(self, pieces: Sequence[Piece]) -> tuple[Coupled, ...]:
        return self._heard.coupled(self._at_work(pieces))

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        measured = [p for p in pieces if any(r.kind in TELLING for r in p.readings)]
        return tuple(
            r for p in measured for r in term_readings(self._own, p, self.terms(FIT, p.settings))
        )

    def _at_work(self, pieces: Sequence[Piece]) -> list[Piece]:
        """The pieces in the wood at work: another one springs otherwise."""
        return [p for p in pieces if self.plan.wood(p.scrap) == self.wood]


def _scales(plan: SlidingPlan, lift: float) -> dict[Aspect, Scale]:
    return {
        FIT: Scale(
            usual.FIT_EDGES[plan.word_set],
            usual.FIT_WINDOWS[plan.length_set],
            lift * defaults.FEELER,
            *usual.SLIPS[FIT],
        ),
        SHOULDER: Scale(
            usual.SHOULDER_EDGES, usual.SHOULDER_WINDOW, usual.GAP_READ, *usual.SLIPS[SHOULDER]
        ),
    }


Opened = SlidingDovetail
