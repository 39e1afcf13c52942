"""What a joint has from its family's declaration and its figures alone, so that a family writes
only what is its own: nominal misfits, slopes, causes, limits and what its readings mean.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .. import defaults
from ..domain import Aspect, Figures, Piece, Plan, Said, Settings, Window, adjusters
from ..domain.standing import on_real_boards
from ..estimator.evidence import Coupled, Evidence, Observed, Term, TermReading, Voices
from .family import Limit
from .heard import Heard, Known, combine
from .springs import wood_difference

FAR_OFF = 0.02  # chance that a zero is off by far more than its sd; common practice, no source


@dataclass(frozen=True, slots=True)
class Scale:
    """What is assumed of one aspect's words and numbers, mm. edges: between neighbouring words;
    read_sd: standard uncertainty of a number said with one; slips: the range in which a slipped one
    may fall; far: by how much its zero may be far off, as an sd.
    """

    edges: tuple[float, ...]
    window: Window
    read_sd: float
    slips: float
    far: float


class Base:
    """One plan's joint, but for what is its family's own; see `family.Joint` for what each method
    promises.
    """

    def __init__(
        self,
        plan: Plan,
        voices: Voices | None,
        by: str,
        wood: str | None,
        scales: Mapping[Aspect, Scale],
    ) -> None:
        self._plan, self.by, self._voices, self._scales = plan, by, voices or {}, scales
        self.wood = plan.wood() if wood is None else wood
        self._heard = Heard(self, self._voices, {a: s.slips for a, s in scales.items()})

    @property
    def plan(self) -> Plan:
        return self._plan

    # What a family says itself.

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        raise NotImplementedError

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        raise NotImplementedError

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        raise NotImplementedError

    def limit(self, name: str, settings: Settings) -> Limit:
        raise NotImplementedError

    def piece_sd(self, aspect: Aspect) -> float:
        raise NotImplementedError

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        return ()

    def measured(self, aspect: Aspect, piece: Piece) -> list[Known]:
        """Return what readings of a piece show of a misfit beside the number said with its word,
        each with its standard uncertainty, mm.
        """
        return []

    # What follows from that.

    def window(self, aspect: Aspect) -> Window:
        """`good` is the person's own acceptance: where their scale is known, it is what is aimed
        at.
        """
        kind = self._plan.family.kind(aspect)
        if not kind.tried or (self.by, aspect) not in self._voices:
            return self._scales[aspect].window
        ((low, high, _),) = self.word_bands(aspect)[kind.settled_at]
        return Window(low, high)

    def stated_window(self, aspect: Aspect) -> Window:
        return self._scales[aspect].window

    def setting_for(self, aspect: Aspect, nominal: float, settings: Settings) -> float:
        now = self.nominal(aspect, settings, self._plan.figures())
        return settings.of(aspect) + (nominal - now) / self.slope(aspect, settings)

    def wood_terms(self, other: str) -> tuple[Term, ...]:
        return wood_difference(self._plan, self.wood, other)

    def evidence(self, aspect: Aspect, pieces: Sequence[Piece]) -> tuple[Evidence, ...]:
        lead, plan = self._plan.family.lead, self._plan
        here = (p for p in pieces if aspect != lead or plan.wood(p.scrap) == self.wood)
        return tuple(e for p in here if (e := self._heard.of(aspect, p)) is not None)

    def coupled(self, pieces: Sequence[Piece]) -> tuple[Coupled, ...]:
        return ()

    def observed(self, settings: Settings) -> Observed:
        raise AssertionError("no aspect hangs on another one here")

    def coupling_sd(self, settings: Settings) -> float:
        return 0.0

    def reading_of(self, aspect: Aspect, piece: Piece) -> Known | None:
        said, found = piece.verdict.of(aspect), self.measured(aspect, piece)
        if said is not None and said.size is not None:
            found = [*found, (self.misfit_of(said), self._scales[aspect].read_sd)]
        return combine(found)

    def misfit_of(self, said: Said) -> float:
        return said.side * (said.size or 0.0)

    def carried(self, settings: Settings) -> Settings:
        return on_real_boards(self._plan, settings)

    def for_piece(self, settings: Settings) -> Settings:
        further = self.carried(settings)
        back = {name: 2 * settings[name] - further[name] for name in settings}
        return Settings.named(self._plan.family, back)

    def far_off(self, aspect: Aspect) -> tuple[float, float]:
        return FAR_OFF, self._scales[aspect].far

    def first_outside(self, aspect: Aspect, sd: float) -> float | None:
        return None

    def may_stay(self, aspect: Aspect, misfit: float) -> bool:
        return True

    def trifle(self, aspect: Aspect) -> float | None:
        """Of what is tried: no step of a part that has some is too small to make."""
        if not self._plan.family.kind(aspect).tried:
            return None
        return 0.0 if self._plan.adjuster(aspect).coarse else adjusters.PLAIN_STEP

    def end_sd(self, aspect: Aspect) -> float:
        return 0.0

    def word_bands(
        self, aspect: Aspect, by: str | None = None
    ) -> tuple[tuple[defaults.Band, ...], ...]:
        voice = self._voices.get((self.by if by is None else by, aspect))
        edges, shift = self._scales[aspect].edges, voice.shift if voice else ()
        if shift:
            edges = tuple(e + s for e, s in zip(edges, shift, strict=True))
        return defaults.bands(edges)

    def word_noise(self, aspect: Aspect, by: str | None = None) -> float:
        voice = self._voices.get((self.by if by is None else by, aspect))
        return defaults.WORD_NOISE if voice is None else voice.noise

    def read_sd(self, aspect: Aspect) -> float:
        return self._scales[aspect].read_sd
