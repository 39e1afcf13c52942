"""The lock mitre as a joint: what its two settings do, what its corner tells, where its limits
lie.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ... import defaults
from ...domain import Aspect, Figures, Piece, Plan, Settings
from ...errors import Mm
from ...estimator.evidence import Evidence, Term, Voices
from ..base import Base
from ..family import Limit
from ..heard import Known
from . import figures as usual
from . import geometry
from .causes import causes
from .names import CORNER, FENCE, FIT, HEIGHT, OFFSET
from .plan import mitre


class LockMitre(Base):
    """The lock mitre of one plan; see `families.family.Joint` for what each method promises."""

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        super().__init__(plan, voices, by, wood, usual.SCALES)
        self.mitre = mitre(plan)

    def middle_at(self, settings: Settings) -> tuple[float, float]:
        """Return how far the profile's middle is out from the fence and above the table, mm."""
        middle = self.mitre.middle
        return settings[OFFSET] - middle, settings[HEIGHT] - middle

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        own = {HEIGHT: {HEIGHT: 2.0}, FENCE: {OFFSET: 2.0}, FIT: {}, CORNER: {}}[aspect]
        if aspect == CORNER:
            thick = self.plan.figures()["thickness"]
            edged = geometry.sharp(*self.middle_at(settings), thick)
            own = {HEIGHT: -1.0, OFFSET: 1.0} if edged else {OFFSET: 2.0}
        return own.get(name or self.plan.family.setting_of.get(aspect, ""), 0.0)

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        x, z = self.middle_at(settings)
        if aspect == HEIGHT:
            return geometry.flats(z, figures["thickness"])
        if aspect == FENCE:
            return geometry.uprights(x, figures["upright"])
        if aspect == CORNER:
            return geometry.flat_over(x, z, figures["thickness"], figures["upright"])
        return 0.0

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        return causes(self.mitre, aspect)

    def wood_terms(self, other: str) -> tuple[Term, ...]:
        """A step is the same in every wood."""
        return ()

    def evidence(self, aspect: Aspect, pieces: Sequence[Piece]) -> tuple[Evidence, ...]:
        told = ((p, self._beside(p, pieces) if aspect == FENCE else None) for p in pieces)
        found = (
            self._heard.of(aspect, piece) if other is None else self._from_corner(piece, other)
            for piece, other in told
        )
        return tuple(e for e in found if e is not None)

    def _beside(self, piece: Piece, pieces: Sequence[Piece]) -> Piece | None:
        """The piece whose flats tell the height of one that shows its corner alone: the nearest of
        this set-up; None where none is needed, or there.
        """
        if self.step(CORNER, piece) is None or piece.verdict.of(HEIGHT) is not None:
            return None
        told = [p for p in pieces if self.step(HEIGHT, p) is not None]
        return min(told, key=lambda p: abs(p.number - piece.number), default=None)

    def _from_corner(self, piece: Piece, other: Piece) -> Evidence | None:
        """The fence by a corner and the flats of another piece, carried to this one's height."""
        step = self.step(HEIGHT, other)
        assert step is not None
        before, now = (
            self.nominal(HEIGHT, p.settings, self.plan.figures(p.sizes)) for p in (other, piece)
        )
        height = step[0] + now - before
        word = "flush" if height == 0 else "proud" if height > 0 else "shy"
        said = self.plan.family.said(HEIGHT, word, abs(height) or None)
        found = self._heard.of(FENCE, replace(piece, verdict=piece.verdict.with_(said)))
        if found is None or found.read is None:
            return found
        apart = math.sqrt(2) * self.piece_sd(HEIGHT)
        return replace(found, read_sd=math.hypot(found.read_sd, apart))

    def measured(self, aspect: Aspect, piece: Piece) -> list[Known]:
        """A corner beside two flats of the same piece is as good as two uprights; by itself it
        tells height and fence not apart.
        """
        if aspect != FENCE or not self.mitre.equal:
            return []
        over, height = self.step(CORNER, piece), self.step(HEIGHT, piece)
        if over is None or height is None:
            return []
        edged = over[0] + height[0] >= 0
        sd = math.hypot(2 * over[1], height[1]) if edged else over[1]
        return [(geometry.fence_from_corner(over[0], height[0]), sd)]

    def step(self, aspect: Aspect, piece: Piece) -> Known | None:
        """Return a step as it was said of a piece and its standard uncertainty, mm: by its number,
        or none where the word says so.
        """
        said = piece.verdict.of(aspect)
        if said is None or piece.verdict.silenced(said.kind):
            return None
        if said.size is not None:
            return self.misfit_of(said), usual.STEP
        return (0.0, usual.LEVEL) if said.settles else None

    def first_outside(self, aspect: Aspect, sd: float) -> float:
        """Below zero: an end is kept blunt, but once in twenty where the other pair is known as
        badly, else by a hair that keeps its bearing.
        """
        if sd <= usual.WELL_KNOWN * usual.PAIR_WINDOW.half:
            return -usual.BLUNT
        return -usual.BLUNT_FIRST * sd / math.sqrt(2)

    def piece_sd(self, aspect: Aspect) -> float:
        own = math.hypot(usual.WARPED, usual.THICKNESS)
        if aspect == HEIGHT:
            return math.hypot(own, 2 * defaults.HEIGHT_REPEAT, 2 * self.plan.adjuster(HEIGHT).sd)
        if aspect == FENCE:
            return math.hypot(own, 2 * self.plan.adjuster(FENCE).sd)
        return own

    def limit(self, name: str, settings: Settings) -> Limit:
        thick = self.plan.figures()["thickness" if name == HEIGHT else "upright"]
        middle, room = self.mitre.middle, usual.OFF_MIDDLE * thick
        why = "the {room} that the profile's middle may lie off that of a board of {thick}"
        again = "measure the bit again" if name == HEIGHT else "measure the fence again"
        figures = ("room", Mm(room)), ("thick", Mm(thick))
        low = middle + thick / 2 - room
        return Limit(low, low + 2 * room, why, why, again, again, figures)


Opened = LockMitre
