"""The tenon by flipping as a joint: what its three settings do, where its limits lie."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ... import defaults
from ...domain import Aspect, Figures, Piece, Plan, Settings
from ...errors import Mm
from ...estimator.evidence import Term, TermReading, Voices
from ..bits import diameter
from ..family import Limit
from ..flip import causes, geometry
from ..flip.figures import HOLLOW
from ..flip.joint import Flipped, height_limit, stop_limit
from ..flip.names import FACES, FIT, HEIGHT, SHOULDER, STOP
from ..springs import wood_terms
from . import figures as usual
from .names import FENCE
from .plan import TenonPlan, tenon

SLOPES = {FACES: {FENCE: -1.0}, FIT: {HEIGHT: 2.0}, SHOULDER: {STOP: 1.0}}


class TenonJoint(Flipped):
    """The tenon of one plan; see `families.family.Joint` for what each method promises."""

    inside, outside = "mortise", "tenon"

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        self.tenon = tenon(plan)
        thick = {FACES: 0.5, FIT: -1.0, SHOULDER: 0.0}
        super().__init__(self.tenon, voices, by, wood, usual.SCALES, SLOPES, thick)

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        wide, thick = self.tenon.mortise, figures["thickness"]
        if aspect == FACES:
            return geometry.tenon_face(thick, settings[FENCE], wide)
        if aspect == FIT:
            return geometry.clearance(wide, thick, settings[HEIGHT])
        return settings[STOP] - self.tenon.depth

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        plan, stock = self.tenon, self.tenon.stock.name
        if aspect == SHOULDER:
            return causes.shoulder_terms(plan)
        if aspect == FACES:
            return (
                causes.fence_zero(plan, -1.0),
                causes.thickness(stock, 0.5),
                mortise_term(plan, -0.5),
                causes.fence_day(-1.0),
            )
        return (
            mortise_term(plan, 1.0),
            causes.height_zero(plan, 2.0),
            causes.thickness(stock, -1.0),
            *wood_terms(plan, self.wood),
            causes.fit_day(),
        )

    def hollow_of(self, piece: Piece) -> float | None:
        """The mortise itself, or the one that the set-up's pieces are tried in, as it was given."""
        own = self.read(piece, self.inside)
        given = self.tenon.mortise if self.tenon.mortise_by == "jaws" else None
        return given if own is None else own

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        """A mortise alone tells its bit, a tenon alone the height's zero and the thickness."""
        found = []
        for piece in pieces:
            hollow, solid = self.hollow_of(piece), self.read(piece, self.outside)
            if solid is None and hollow is not None and self.read(piece, self.inside) is not None:
                off = hollow - self.tenon.mortise
                found.append(TermReading("mortise", (mortise_term(self.tenon, 1.0),), off, HOLLOW))
            if solid is not None and hollow is None:
                found.append(self._tenon_alone(piece, solid))
        return tuple(found)

    def _tenon_alone(self, piece: Piece, solid: float) -> TermReading:
        thick = self.plan.figures(piece.sizes)["thickness"]
        terms = [t for t in self.terms(FIT, piece.settings) if t.key[0] in _TENON]
        turned = tuple(replace(t, factor=-t.factor) for t in terms)
        sd = math.hypot(defaults.CALIPER, self.piece_sd(FIT))
        off = solid - geometry.web(thick, piece.settings[HEIGHT])
        return TermReading("tenon", turned, off, sd)

    def limit(self, name: str, settings: Settings) -> Limit:
        if name == STOP:
            return stop_limit()
        if name == HEIGHT:
            return height_limit(self.tenon, self.plan.figures()["thickness"])
        return fence_limit(self.tenon)


_TENON = ("height zero", "thickness")


def mortise_term(plan: TenonPlan, factor: float) -> Term:
    """Return the error of the mortise's width as a cause, by what says that."""
    if plan.mortise_by == "bit":
        return diameter(plan.bit, factor)
    if plan.mortise_by == "chisel":
        return Term(("chisel", f"{plan.mortise:g}"), factor, 0.0, usual.MORTISE_CHISEL)
    return Term(("mortise",), factor, 0.0, usual.MORTISE_MEASURED, own=True)


def fence_limit(plan: TenonPlan) -> Limit:
    """Return the range of the mortise fence that leaves walls beside the mortise."""
    thick, wall = plan.pin_thickness, usual.LEAST_WALL
    return Limit(
        wall,
        thick - plan.mortise - wall,
        "the wall of {wall} before the mortise",
        "the wall of {wall} behind the mortise in a stile of {thick}",
        "take a narrower mortise or a thicker rail",
        "take a narrower mortise or a thicker stile",
        (("wall", Mm(wall)), ("thick", Mm(thick))),
    )


Opened = TenonJoint
