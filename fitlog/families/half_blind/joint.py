"""The half-blind dovetail as a joint: what its three settings do, what readings mean, where its
limits lie.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ... import defaults
from ...domain import Aspect, Figures, Piece, Plan, Said, Settings, Window, adjusters
from ...estimator.evidence import Coupled, Evidence, Observed, Term, TermReading, Voices
from ..family import Limit
from ..springs import wood_difference
from . import figures as usual
from . import geometry
from .causes import causes
from .centring import first_outside, may_stay
from .heard import Heard
from .limits import limit
from .names import CENTRE, DEPTH, FENCE, FIT, HEIGHT, SEAT, SETTING_OF, WORDS, set_to
from .plan import dovetail
from .readings import TELLING, read_centre, read_clearance, read_seat, term_readings


class HalfBlindDovetail:
    """The half-blind dovetail of one plan; see `base.Joint` for what each method promises."""

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        self.plan, self.by, self._voices = dovetail(plan), by, voices or {}
        self.wood = plan.wood() if wood is None else wood
        self.theta, rise = plan.bit.theta, math.tan(plan.bit.theta)
        self._slopes = {
            FIT: {HEIGHT: geometry.slope_clearance_height(self.theta)},
            CENTRE: {FENCE: 1.0},
            SEAT: {DEPTH: -1.0, HEIGHT: rise if self.plan.rabbet_bit == "same" else 0.0},
        }
        self._bands: dict[tuple[Aspect, str], tuple[tuple[defaults.Band, ...], ...]] = {}
        self._heard = Heard(self, self.plan.by_eye, self._voices, usual.SLIP_RANGE)

    def window(self, aspect: Aspect) -> Window:
        if aspect == FIT:
            return self._good_fit()
        if aspect == CENTRE:
            return usual.CENTRE_WINDOW
        return self._seat_window()

    def stated_window(self, aspect: Aspect) -> Window:
        return usual.fit_window(self.plan.many_tails) if aspect == FIT else self.window(aspect)

    def _seat_window(self) -> Window:
        wanted = self.plan.wanted_step
        return Window(wanted - usual.SEAT_TOLERANCE, wanted + usual.SEAT_TOLERANCE)

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        return self._slopes[aspect].get(name or SETTING_OF[aspect], 0.0)

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        plan = self.plan
        if aspect == FIT:
            return geometry.clearance(
                plan.bit.diameter, plan.pitch, settings["bit_height"], self.theta
            )
        if aspect == CENTRE:
            return settings["fence_offset"] - figures["width"] / 2
        rise = settings["bit_height"] * math.tan(self.theta) if plan.rabbet_bit == "same" else 0.0
        return geometry.step(
            figures["thickness"], plan.rabbet_depth, rise, settings["socket_depth"], 0.0, 0.0
        )

    def setting_for(self, aspect: Aspect, nominal: float, settings: Settings) -> float:
        now = self.nominal(aspect, settings, self.plan.figures())
        return settings.of(aspect) + (nominal - now) / self.slope(aspect, settings)

    def carried(self, settings: Settings) -> Settings:
        plan = self.plan
        return set_to(
            settings[HEIGHT],
            settings[FENCE] + (plan.board_width - plan.figures()["width"]) / 2,
            settings[DEPTH] + plan.tail_thickness - plan.figures()["thickness"],
        )

    def for_piece(self, settings: Settings) -> Settings:
        plan = self.plan
        return set_to(
            settings[HEIGHT],
            settings[FENCE] - (plan.board_width - plan.figures()["width"]) / 2,
            settings[DEPTH] - plan.tail_thickness + plan.figures()["thickness"],
        )

    def far_off(self, aspect: Aspect) -> tuple[float, float]:
        return usual.FAR_OFF[aspect], usual.FAR_OFF_SD[aspect]

    def first_outside(self, aspect: Aspect, sd: float) -> float | None:
        return first_outside(sd) if aspect == CENTRE else None

    def may_stay(self, aspect: Aspect, misfit: float) -> bool:
        return aspect != CENTRE or may_stay(misfit)

    def trifle(self, aspect: Aspect) -> float | None:
        if aspect != FIT:
            return None
        lift = self.plan.machine and self.plan.machine.part("height")
        stepped = lift and (lift.step or lift.turn or lift.pack)
        return 0.0 if stepped else adjusters.PLAIN_STEP

    def misfit_of(self, said: Said) -> float:
        size = said.size or 0.0
        return said.side * (size / 2 if said.aspect == CENTRE else size)

    def observed(self, settings: Settings) -> Observed:
        from .seating import RoundEnd

        return RoundEnd(self.round_end(settings))

    def round_end(self, settings: Settings) -> float:
        """Return the radius that couples the seat to the clearance, mm."""
        if self.plan.rabbet_bit == "same":
            return self.plan.bit.diameter / 2
        return (
            max(0.0, geometry.mouth(self.plan.bit.diameter, settings["bit_height"], self.theta)) / 2
        )

    def piece_sd(self, aspect: Aspect) -> float:
        set_to = self.plan.adjuster(aspect).sd
        return (
            abs(self._slopes[FIT][HEIGHT]) * math.hypot(defaults.HEIGHT_REPEAT, set_to)
            if aspect == FIT
            else set_to
        )

    def end_sd(self, aspect: Aspect) -> float:
        return 0.0

    def coupling_sd(self, settings: Settings) -> float:
        radius, straight = self.round_end(settings), self.plan.rabbet_bit == "straight"
        if straight or radius <= 0:
            return self.piece_sd(FIT)
        # The height that varies also lifts the rise, by half as much as it moves the clearance: d
        # step / d c is -(sqrt(r / c) + 1) / 2 instead of -sqrt(r / c) / 2.
        return self.piece_sd(FIT) * (1 + math.sqrt(self.window(FIT).middle / radius))

    def word_bands(
        self, aspect: Aspect, by: str | None = None
    ) -> tuple[tuple[defaults.Band, ...], ...]:
        person = self.by if by is None else by
        if (aspect, person) not in self._bands:
            self._bands[aspect, person] = self._new_bands(aspect, person)
        return self._bands[aspect, person]

    def _new_bands(self, aspect: Aspect, by: str) -> tuple[tuple[defaults.Band, ...], ...]:
        if aspect == CENTRE:
            return usual.centre_bands()
        edges = usual.word_edges(aspect, self.plan.many_tails)
        voice = self._voices.get((by, aspect))
        return defaults.bands(
            edges
            if voice is None
            else tuple(e + s for e, s in zip(edges, voice.shift, strict=True))
        )

    def word_noise(self, aspect: Aspect, by: str | None = None) -> float:
        voice = self._voices.get((self.by if by is None else by, aspect))
        return defaults.WORD_NOISE if voice is None else voice.noise

    def _good_fit(self) -> Window:
        """`good` is the person's own acceptance: where their scale is known, it is what is aimed
        at.
        """
        if (self.by, FIT) not in self._voices:
            return usual.fit_window(self.plan.many_tails)
        ((low, high, _),) = self.word_bands(FIT)[WORDS[FIT].index("good")]
        return Window(low, high)

    def read_sd(self, aspect: Aspect) -> float:
        if aspect == FIT:
            return abs(self._slopes[FIT][HEIGHT]) * defaults.FEELER
        return defaults.CALIPER / 2 if aspect == CENTRE else defaults.CALIPER

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        return causes(self.plan, aspect, about[HEIGHT], self.wood)

    def wood_terms(self, other: str) -> tuple[Term, ...]:
        return wood_difference(self.plan, self.wood, other)

    def reading_of(self, aspect: Aspect, piece: Piece) -> tuple[float, float] | None:
        if aspect == FIT:
            return read_clearance(piece, self.theta)
        return read_centre(piece) if aspect == CENTRE else read_seat(piece)

    def evidence(self, aspect: Aspect, pieces: Sequence[Piece]) -> tuple[Evidence, ...]:
        found = (
            self._heard.of(aspect, p) for p in pieces if aspect != FIT or not self._elsewhere(p)
        )
        return tuple(e for e in found if e is not None)

    def coupled(self, pieces: Sequence[Piece]) -> tuple[Coupled, ...]:
        return tuple(
            Coupled(
                seat,
                self.observed(p.settings),
                self._heard.nominal(FIT, p),
                math.hypot(
                    self.coupling_sd(p.settings),
                    math.sqrt(2) * defaults.STOCK_EFFECT * self._elsewhere(p),
                ),
                self._heard.of(FIT, p),
            )
            for p in pieces
            if (seat := self._heard.of(SEAT, p)) is not None
        )

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        measured = [p for p in pieces if any(r.kind in TELLING for r in p.readings)]
        return tuple(
            r for p in measured for r in term_readings(self.plan, p, self.terms(FIT, p.settings))
        )

    def limit(self, name: str, settings: Settings) -> Limit:
        return limit(self.plan, name)

    def _elsewhere(self, piece: Piece) -> bool:
        """Whether a piece is in another wood than the one at work, so that it springs otherwise."""
        return self.plan.wood(piece.scrap) != self.wood


Opened = HalfBlindDovetail
