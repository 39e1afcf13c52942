"""The tongue and groove as a joint: what its three settings do, where its limits lie."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ... import defaults
from ...domain import Aspect, Figures, Piece, Plan, Settings
from ...domain.adjusters import adjuster
from ...errors import Mm
from ...estimator.evidence import Term, TermReading, Voices
from ..bits import diameter
from ..family import Limit
from ..flip import causes, geometry
from ..flip.figures import HOLLOW, THICKNESS
from ..flip.joint import Flipped, height_limit, stop_limit, thick_of
from ..flip.names import FACES, FIT, HEIGHT, SHOULDER, STOP
from ..springs import wood_terms
from . import figures as usual
from .names import FENCE
from .plan import TonguePlan, tongue

SLOPES: dict[Aspect, dict[str, float]] = {FIT: {HEIGHT: 2.0}, FACES: {}, SHOULDER: {STOP: 1.0}}
ONCE = {**SLOPES, FACES: {FENCE: -1.0}}
_GROOVE = ("diameter", "fence zero", "fence day")


class TongueJoint(Flipped):
    """The tongue and groove of one plan; see `families.family.Joint` for what each method
    promises.
    """

    inside, outside = "groove", "tongue"

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        self.tongue = own = tongue(plan)
        # One board has the groove and the tongue; a groove in one pass is as wide as the bit.
        thick = {FIT: -1.0, FACES: 0.5} if own.once else {FIT: -2.0}
        slopes = ONCE if own.once else SLOPES
        super().__init__(own, voices, by, wood, usual.scales(own), slopes, thick_of(thick))

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        if (aspect, name) == (FIT, FENCE):
            return 2.0 * self._branch(settings)
        if aspect == FACES and not self.tongue.once:
            return 0.0
        return super().slope(aspect, settings, name)

    def _branch(self, settings: Settings) -> float:
        """+1 where the bit stands beyond the board's middle, -1 on the near side; 0 where the
        groove is no wider for it.
        """
        if self.tongue.once:
            return 0.0
        return 1.0 if settings[FENCE] >= self.plan.figures()["grooved"] / 2 else -1.0

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        thick, grooved = figures["thickness"], figures["grooved"]
        if aspect == FACES:
            return thick / 2 - (settings[FENCE] if self.tongue.once else grooved / 2)
        if aspect == SHOULDER:
            return settings[STOP] - self.tongue.depth
        return geometry.clearance(self._groove(settings, grooved), thick, settings[HEIGHT])

    def _groove(self, settings: Settings, grooved: float) -> float:
        """How wide a groove is in a board so thick, mm."""
        width = self.plan.bit.diameter
        return width if self.tongue.once else geometry.groove(width, settings[FENCE], grooved)

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        plan, beyond = self.tongue, self._branch(about)
        if aspect == SHOULDER:
            return causes.shoulder_terms(plan)
        if aspect == FACES:
            return self._place() if plan.once else ()
        fence = (causes.fence_zero(plan, 2.0 * beyond), causes.fence_day(2.0 * beyond))
        return (
            diameter(plan.bit, 1.0),
            *(fence if beyond else ()),
            causes.height_zero(plan, 2.0),
            *self._thicknesses(),
            *wood_terms(plan, self.wood),
            causes.fit_day(),
        )

    def _place(self) -> tuple[Term, ...]:
        """Where one pass lies in its board, against the middle of the tongue's."""
        plan = self.tongue
        return (
            causes.fence_zero(plan, -1.0),
            causes.thickness(plan.stock.name, 0.5),
            causes.fence_day(-1.0),
        )

    def _thicknesses(self) -> tuple[Term, ...]:
        """Both boards' own: alike where they are of one stock."""
        plan = self.tongue
        if plan.once:
            return (causes.thickness(plan.stock.name, -1.0),)
        if plan.stock.name == plan.pin_stock.name:
            return (causes.thickness(plan.stock.name, -2.0),)
        one, other = causes.thickness(plan.stock.name, -1.0), plan.pin_stock.name
        return one, causes.thickness(other, -1.0)

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        """A groove alone tells bit and fence, a tongue alone the height and the thickness."""
        found = []
        for piece in pieces:
            inside, outside = self.read(piece, self.inside), self.read(piece, self.outside)
            if inside is not None and outside is None:
                found.append(self._groove_alone(piece, inside))
            if outside is not None and inside is None:
                found.append(self._tongue_alone(piece, outside))
        return tuple(found)

    def _groove_alone(self, piece: Piece, wide: float) -> TermReading:
        at, plan = piece.settings, self.tongue
        grooved = plan.figures(piece.sizes)["grooved"]
        own = tuple(t for t in self.terms(FIT, at) if t.key[0] in _GROOVE)
        off = wide - self._groove(at, grooved)
        if plan.once:
            return TermReading("groove", own, off, HOLLOW)
        own = (*own, causes.thickness(plan.pin_stock.name, -1.0))
        fence = adjuster(plan.machine, "fence", positive=True).sd
        return TermReading("groove", own, off, math.hypot(HOLLOW, THICKNESS, 2 * fence))

    def _tongue_alone(self, piece: Piece, solid: float) -> TermReading:
        plan = self.tongue
        thick = plan.figures(piece.sizes)["thickness"]
        zero = causes.height_zero(plan, -2.0)
        own = (zero, causes.thickness(plan.stock.name, 1.0))
        off = solid - geometry.web(thick, piece.settings[HEIGHT])
        sd = math.hypot(defaults.CALIPER, defaults.HEIGHT_REPEAT, THICKNESS)
        return TermReading("tongue", own, off, sd)

    def limit(self, name: str, settings: Settings) -> Limit:
        if name == STOP:
            return stop_limit()
        if name == HEIGHT:
            return height_limit(self.tongue, self.plan.figures()["thickness"])
        return fence_limit(self.tongue)


def fence_limit(plan: TonguePlan) -> Limit:
    """Return the range of the groove fence: beyond the middle for sure, and no ridge left; of one
    pass, a wall on either side.
    """
    if plan.once:
        return _between_walls(plan)
    middle, width = plan.figures()["grooved"] / 2, plan.bit.diameter
    least, most = usual.LEAST_BEYOND, width / 2 - usual.RIDGE
    return Limit(
        middle + least,
        middle + most,
        "the middle of the board, beyond which it must be by {least} at least",
        "the ridge that two passes of this bit would leave beyond {most} from the middle",
        "never go nearer: the second pass would be a climb cut",
        "take a wider bit",
        (("least", Mm(least)), ("most", Mm(most))),
    )


def _between_walls(plan: TonguePlan) -> Limit:
    """Return the range of the fence that leaves walls beside a groove in one pass."""
    thick, aside = plan.figures()["grooved"], plan.bit.diameter / 2 + usual.LEAST_WALL
    return Limit(
        aside,
        thick - aside,
        "the wall of {wall} that must be left at the fence",
        "the wall of {wall} away from the fence in a board of {thick}",
        "take a narrower bit or a thicker board",
        "take a narrower bit or a thicker board",
        (("wall", Mm(usual.LEAST_WALL)), ("thick", Mm(thick))),
    )


def fence_terms(plan: TonguePlan) -> tuple[Term, Term]:
    """Return what a fence lies off by."""
    return causes.fence_zero(plan, 1.0), causes.fence_day(1.0)


Opened = TongueJoint
