"""What a family tells the rest of the tool: what its settings do, what words and readings mean,
what limits it.

What can be data is data: `domain.Family` has the names, words and places (`half_blind.names`). A
new family is a new folder with one of those and a class of the shape of `Joint`, both told to
`families.register`; nothing else changes.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple, Protocol

from ..errors import Clause, Mm

if TYPE_CHECKING:
    from ..defaults import Band
    from ..domain import Aspect, Figures, Piece, Plan, Said, Settings, Window
    from ..estimator.evidence import Coupled, Evidence, Observed, Term, TermReading


class Limit(NamedTuple):
    """The range a setting may be proposed in, mm, with what sets each end and what to change beyond
    it: texts that may name `figures` in braces.
    """

    low: float
    high: float
    low_why: str
    high_why: str
    low_remedy: str
    high_remedy: str
    figures: tuple[tuple[str, Mm], ...] = ()

    def beyond(self, wanted: float) -> tuple[str, str]:
        """Return the texts of the end that a value is beyond: what sets it, and what to change."""
        if wanted > self.high:
            return self.high_why, self.high_remedy
        return self.low_why, self.low_remedy

    def told(self, text: str) -> Clause:
        """Return one of the texts, for a refusal to tell."""
        return Clause(text, **dict(self.figures))


class Joint(Protocol):
    """One plan's joint. Misfits are signed mm; offsets are added to the nominal misfit by the
    estimator.
    """

    wood: str

    @property
    def plan(self) -> Plan:
        """The plan, of the family's own class."""

    def window(self, aspect: Aspect) -> Window:
        """Return the range of the misfit that counts as good."""

    def stated_window(self, aspect: Aspect) -> Window:
        """Return the same as stated at `start`, whatever scale a person's words have been found to
        have.
        """

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        """Return d nominal misfit / d setting `name` at these settings, 0 where it hangs on it
        not; None: the aspect's own setting.
        """

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        """Return the misfit by printed figures for a piece with these own ones (`Plan.figures`),
        without coupling.
        """

    def setting_for(self, aspect: Aspect, nominal: float, settings: Settings) -> float:
        """Return the aspect's setting that makes its nominal misfit, the other settings
        as given.
        """

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        """Return what the aspect's offset is made of at about these settings."""

    def wood_terms(self, other: str) -> tuple[Term, ...]:
        """Return what sets the fit in another wood ("": the real boards) apart from that of the
        pieces at work.
        """

    def evidence(self, aspect: Aspect, pieces: Sequence[Piece]) -> tuple[Evidence, ...]:
        """Return what the pieces say of a directly judged aspect (fit or centre); of the fit, those
        in the wood at work.
        """

    def coupled(self, pieces: Sequence[Piece]) -> tuple[Coupled, ...]:
        """Return what the pieces say of the seat, with the clearance that each depends on."""

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        """Return readings of the bit's own geometry."""

    def reading_of(self, aspect: Aspect, piece: Piece) -> tuple[float, float] | None:
        """Return the misfit read on a piece and its standard uncertainty, or None."""

    def limit(self, name: str, settings: Settings) -> Limit:
        """Return the range in which a setting may be proposed, the others as given."""

    def carried(self, settings: Settings) -> Settings:
        """Return the settings of a test piece carried over to the real boards, which may be wider
        or thicker.
        """

    def for_piece(self, settings: Settings) -> Settings:
        """Return settings of the real boards carried back to a test piece: `carried`, undone."""

    def far_off(self, aspect: Aspect) -> tuple[float, float]:
        """Return the chance that an aspect's zero is off by far more than its sd, and by how much,
        as an sd, mm.
        """

    def first_outside(self, aspect: Aspect, sd: float) -> float | None:
        """Return how far above zero a first piece's misfit is to lie at least, mm, its offset known
        to `sd`; None where no side is the safer one.
        """

    def may_stay(self, aspect: Aspect, misfit: float) -> bool:
        """Tell whether a setting with this misfit can be proposed again as it stands."""

    def trifle(self, aspect: Aspect) -> float | None:
        """Return the largest move that is not worth making, mm; None: `defaults.TRIFLE` where its
        word did not ask for one.
        """

    def misfit_of(self, said: Said) -> float:
        """Return the misfit that the number said with a word stands for, mm."""

    def observed(self, settings: Settings) -> Observed:
        """Return what the coupled aspect shows of its driver at these settings."""

    def piece_sd(self, aspect: Aspect) -> float:
        """Return how much the misfit varies from piece to piece at one setting."""

    def end_sd(self, aspect: Aspect) -> float:
        """Return how much of that all cuts on one end share, as an sd, mm; 0 where an end is cut
        once.
        """

    def coupling_sd(self, settings: Settings) -> float:
        """Return how much the clearance varies from piece to piece, as the coupled aspect (the
        seat) feels it, mm.
        """

    def word_bands(self, aspect: Aspect, by: str | None = None) -> tuple[tuple[Band, ...], ...]:
        """Return the bands of the aspect's words, in the order of the words; by: whose, None
        for the one at work.
        """

    def word_noise(self, aspect: Aspect, by: str | None = None) -> float:
        """Return the sd of a word about its band, mm."""

    def read_sd(self, aspect: Aspect) -> float:
        """Return the standard uncertainty of one reading of the misfit with the usual instrument,
        mm.
        """
