"""The half-lap as a joint: what its two settings do, where its limits lie."""

from __future__ import annotations

from ...defaults import CALIPER
from ...domain import Aspect, Figures, Piece, Plan, Settings
from ...errors import Mm
from ...estimator.evidence import Term, Voices
from ..family import Limit
from ..flip import causes, geometry
from ..flip.figures import LEAST_HEIGHT
from ..flip.joint import Flipped, stop_limit
from ..flip.names import FACES, HEIGHT, SHOULDER, STOP
from ..heard import Known
from . import figures as usual
from .plan import LapPlan, lap


class LapJoint(Flipped):
    """The half-lap of one plan; see `families.family.Joint` for what each method promises."""

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        self.lap = own = lap(plan)
        slopes = {FACES: {HEIGHT: -float(own.parts)}, SHOULDER: {STOP: 1.0}}
        thick = {FACES: 1.0, SHOULDER: 0.0}
        super().__init__(own, voices, by, wood, usual.SCALES, slopes, thick)

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        if aspect == SHOULDER:
            return settings[STOP] - self.lap.depth
        deep = settings[HEIGHT]
        other = deep if self.lap.mate is None else self.lap.mate
        return geometry.lap_step(figures["thickness"], deep, other)

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        plan = self.lap
        if aspect == SHOULDER:
            return causes.shoulder_terms(plan, CALIPER)
        mate = (causes.thickness(plan.pin_stock.name, -1.0),) if plan.mate is not None else ()
        return (
            causes.height_zero(plan, -float(plan.parts)),
            causes.thickness(plan.stock.name, 1.0),
            *mate,
            causes.fit_day(),
        )

    def measured(self, aspect: Aspect, piece: Piece) -> list[Known]:
        """A web that is left is the step itself."""
        web = self.read(piece, "web")
        return [(web, usual.WEB_READ)] if aspect == FACES and web is not None else []

    def limit(self, name: str, settings: Settings) -> Limit:
        return stop_limit() if name == STOP else height_limit(self.lap)


def height_limit(plan: LapPlan) -> Limit:
    """Return the range of the height that leaves something of the part."""
    thick, length = plan.figures()["thickness"], plan.bit.cutting_length
    long = length < thick - usual.LEFT
    return Limit(
        LEAST_HEIGHT,
        min(length, thick - usual.LEFT),
        "the least of {least}: less is a scratch",
        "the cutting length of {length}" if long else "the {left} that must be left of {thick}",
        "take thicker boards",
        "take a longer bit" if long else "take a thicker board, or recess the other part deeper",
        (
            ("least", Mm(LEAST_HEIGHT)),
            ("length", Mm(length)),
            ("left", Mm(usual.LEFT)),
            ("thick", Mm(thick)),
        ),
    )


Opened = LapJoint
