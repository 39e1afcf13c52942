"""The half-blind dovetail as a joint: what its three settings do, what readings mean, where its
limits lie.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ... import defaults
from ...domain import Aspect, Figures, Piece, Plan, Said, Settings, Window, adjusters
from ...estimator.evidence import Coupled, Evidence, Observed, Term, TermReading, Voices
from ..family import Limit
from . import figures as usual
from . import geometry
from .causes import causes, wood_difference
from .limits import limit
from .names import CENTRE, DEPTH, FENCE, FIT, HEIGHT, SEAT, SETTING_OF, SETTLING_WORD, WORDS, set_to
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
        self._known: dict[
            tuple[Aspect, int], tuple[Piece, Evidence | None]
        ] = {}  # by identity: hashing a piece is slow

    def window(self, aspect: Aspect) -> Window:
        if aspect == "fit":
            return self._good_fit()
        if aspect == "centre":
            return usual.CENTRE_WINDOW
        return self._seat_window()

    def stated_window(self, aspect: Aspect) -> Window:
        return usual.fit_window(self.plan.many_tails) if aspect == "fit" else self.window(aspect)

    def _seat_window(self) -> Window:
        wanted = self.plan.wanted_step
        return Window(wanted - usual.SEAT_TOLERANCE, wanted + usual.SEAT_TOLERANCE)

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        return self._slopes[aspect].get(name or SETTING_OF[aspect], 0.0)

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        plan = self.plan
        if aspect == "fit":
            return geometry.clearance(
                plan.bit.diameter, plan.pitch, settings["bit_height"], self.theta
            )
        if aspect == "centre":
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
        # The fence side is where a shaving can snatch: a first piece lies surely outside.
        if aspect != CENTRE:
            return None
        if sd <= defaults.FENCE_REMEMBERED:
            return 0.0
        return min(defaults.START_OUTSIDE, max(0.0, 1.645 * sd - defaults.FENCE_SIDE_SHAVING / 2))

    def may_stay(self, aspect: Aspect, misfit: float) -> bool:
        return aspect != CENTRE or abs(misfit) <= defaults.MOST_SHAVING / 2

    def trifle(self, aspect: Aspect) -> float | None:
        if aspect != FIT:
            return None
        machine = self.plan.machine
        stepped = machine is not None and (machine.height_step or machine.height_turn)
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
            if aspect == "fit"
            else set_to
        )

    def end_sd(self, aspect: Aspect) -> float:
        return 0.0

    def coupling_sd(self, settings: Settings) -> float:
        radius, straight = self.round_end(settings), self.plan.rabbet_bit == "straight"
        if straight or radius <= 0:
            return self.piece_sd("fit")
        # The height that varies also lifts the rise, by half as much as it moves the clearance: d
        # step / d c is -(sqrt(r / c) + 1) / 2 instead of -sqrt(r / c) / 2.
        return self.piece_sd("fit") * (1 + math.sqrt(self.window("fit").middle / radius))

    def word_bands(
        self, aspect: Aspect, by: str | None = None
    ) -> tuple[tuple[defaults.Band, ...], ...]:
        person = self.by if by is None else by
        if (aspect, person) not in self._bands:
            self._bands[aspect, person] = self._new_bands(aspect, person)
        return self._bands[aspect, person]

    def _new_bands(self, aspect: Aspect, by: str) -> tuple[tuple[defaults.Band, ...], ...]:
        if aspect == "centre":
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
        if (self.by, "fit") not in self._voices:
            return usual.fit_window(self.plan.many_tails)
        ((low, high, _),) = self.word_bands("fit")[WORDS["fit"].index("good")]
        return Window(low, high)

    def read_sd(self, aspect: Aspect) -> float:
        if aspect == "fit":
            return abs(self._slopes[FIT][HEIGHT]) * defaults.FEELER
        return defaults.CALIPER / 2 if aspect == "centre" else defaults.CALIPER

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        return causes(self.plan, aspect, about[HEIGHT], self.wood)

    def wood_terms(self, other: str) -> tuple[Term, ...]:
        return wood_difference(self.plan, self.wood, other)

    def reading_of(self, aspect: Aspect, piece: Piece) -> tuple[float, float] | None:
        if aspect == "fit":
            return read_clearance(piece, self.theta)
        return read_centre(piece) if aspect == "centre" else read_seat(piece)

    def evidence(self, aspect: Aspect, pieces: Sequence[Piece]) -> tuple[Evidence, ...]:
        found = (
            self._evidence(aspect, p) for p in pieces if aspect != "fit" or not self._elsewhere(p)
        )
        return tuple(e for e in found if e is not None)

    def coupled(self, pieces: Sequence[Piece]) -> tuple[Coupled, ...]:
        return tuple(
            Coupled(
                seat,
                self.observed(p.settings),
                self._nominal("fit", p),
                math.hypot(
                    self.coupling_sd(p.settings),
                    math.sqrt(2) * defaults.STOCK_EFFECT * self._elsewhere(p),
                ),
                self._evidence("fit", p),
            )
            for p in pieces
            if (seat := self._evidence("seat", p)) is not None
        )

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        measured = [p for p in pieces if any(r.kind in TELLING for r in p.readings)]
        return tuple(
            r for p in measured for r in term_readings(self.plan, p, self.terms("fit", p.settings))
        )

    def limit(self, name: str, settings: Settings) -> Limit:
        return limit(self.plan, name)

    def _off(self, aspect: Aspect, side: int, by: str) -> tuple[defaults.Band, ...] | None:
        """All words on one side of flush or centred: what is said with a number was called that,
        whatever its degree.

        None for flush or centred itself with a number, which says all.
        """
        if side == 0:
            return None
        ((low, high, _),) = self.word_bands(aspect, by)[WORDS[aspect].index(SETTLING_WORD[aspect])]
        return ((high, math.inf, 1.0),) if side > 0 else ((-math.inf, low, 1.0),)

    def _nominal(self, aspect: Aspect, piece: Piece) -> float:
        return self.nominal(aspect, piece.settings, self.plan.figures(piece.sizes))

    def _evidence(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        key = (aspect, id(piece))
        if key not in self._known:
            self._known[key] = (piece, self._weighed(aspect, piece))
        return self._known[key][1]

    def _weighed(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        found = self._as_said(aspect, piece)
        said = piece.verdict.of(aspect)
        if found is None or said is None or said.side == 0:
            return self._maybe_again(piece, found)
        turned = replace(piece, verdict=piece.verdict.with_(said.turned))
        found = replace(found, other=self._as_said(aspect, turned), swap=defaults.SWAP_ONCE)
        return self._maybe_again(piece, found)

    def _as_said(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        said, reading = piece.verdict.of(aspect), self.reading_of(aspect, piece)
        # A joint held off at the baseline binds for that reason: its fit word says nothing about
        # the fit.
        if (said is None and reading is None) or (
            aspect == "fit" and piece.verdict.has_fault("baseline")
        ):
            return None
        read, read_sd = reading or (None, 0.0)
        background = 1.0 if said is None else 1 / len(WORDS[aspect])
        if (
            read is not None
            and aspect == "centre"
            and any(r.kind == "walls" for r in piece.readings)
        ):
            background *= self._misread_walls(read - self._nominal("centre", piece))
        elif read is not None:
            background /= usual.SLIP_RANGE[aspect]
        bands = None if said is None else self.word_bands(aspect, piece.by)[said.index]
        if read is not None and aspect != "fit" and said is not None:
            bands = self._off(aspect, said.side, piece.by)
        # A number beside a word measures; the word's own edges are rougher than that and must not
        # overrule it.
        noise, voice = self.word_noise(aspect, piece.by), self._voices.get((piece.by, aspect))
        if read is not None:
            noise = math.hypot(noise, defaults.BAND_EDGES if voice is None else voice.doubt)
        spread = self.piece_sd(aspect)
        if (
            aspect == "seat"
        ):  # weighed at the piece's own misfit, so that how the stop was set counts as noise
            noise, read_sd, spread = math.hypot(noise, spread), math.hypot(read_sd, spread), 0.0
        return Evidence(
            piece.number,
            self._nominal(aspect, piece),
            bands,
            noise,
            read,
            read_sd,
            spread,
            defaults.SLIP,
            background,
        )

    def _misread_walls(self, off: float) -> float:
        """Density of an error of the centre that comes from a misread wall, `off` from the expected
        one, mm.
        """
        zero = defaults.FENCE_ZERO_BY_EYE if self.plan.by_eye else defaults.FENCE_ZERO_MEASURED
        sd = math.hypot(zero, defaults.MISREAD_WALL)
        return math.exp(-0.5 * (off / sd) ** 2) / (sd * math.sqrt(2 * math.pi)) + 1e-12

    def _maybe_again(self, piece: Piece, found: Evidence | None) -> Evidence | None:
        """A piece that may be the one before it, logged twice, says nothing new with
        that chance.
        """
        if found is None or not piece.again:
            return found
        slip = defaults.AGAIN + (1 - defaults.AGAIN) * found.slip
        same = 1.0 if found.read is None else 1 / defaults.AGAIN_STEP
        background = (
            defaults.AGAIN * same + (1 - defaults.AGAIN) * found.slip * found.background
        ) / slip
        return replace(found, slip=slip, background=background)

    def _elsewhere(self, piece: Piece) -> bool:
        """Whether a piece is in another wood than the one at work, so that it springs otherwise."""
        return self.plan.wood(piece.scrap) != self.wood


Opened = HalfBlindDovetail
