"""An invented family of two settings and two aspects: pegs in a row, by their play and their place.

Nothing of it is a real joint; it shows what a family must say so that the rest of the tool works.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from fitlog.defaults import Band
from fitlog.domain import (
    Aspect,
    AspectKind,
    Family,
    Figures,
    Piece,
    Plan,
    Reading,
    Said,
    SettingKind,
    Settings,
    Window,
)
from fitlog.domain.standing import on_real_boards
from fitlog.estimator.evidence import Coupled, Evidence, Observed, Term, TermReading, Voices
from fitlog.families import Limit

PEGS = Family(
    "invented pegs",
    (
        SettingKind(
            "key_gap", "the key gap", "key", ("wider", "narrower"), positive=True, from_below=True
        ),
        SettingKind(
            "reach", "the reach", "stop", ("longer", "shorter"), with_figures={"thickness": 1.0}
        ),
    ),
    (
        AspectKind(
            "play",
            ("stuck", "stiff", "sliding", "slack", "falling out"),
            "sliding",
            "key_gap",
            0,
            tried=True,
            unread=("stuck", "stiff"),
            silenced_by=("split",),
            read_by=("shim",),
        ),
        AspectKind("place", ("short", "even", "long"), "even", "reach", 1, unread=("even",)),
    ),
    ("split", "unplaced"),
    {"shim": ""},
    ("spacing",),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PegsPlan(Plan):
    """A plan with the one figure of the pegs. spacing: from peg to peg, mm."""

    spacing: float
    family: Family = PEGS


EDGES = {"play": (-0.1, 0.0, 0.1, 0.3), "place": (-0.1, 0.1)}
WINDOWS = {"play": Window(0.0, 0.1), "place": Window(-0.1, 0.1)}
CALIPER = 0.03  # mm


class Pegs:
    """The pegs of one plan; see `families.family.Joint` for what each method promises.

    The play is the key gap less a peg of a third of the spacing; the place is the reach less the
    board's thickness, and longer by a tenth of what the gap is wider than that peg.
    """

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        assert isinstance(plan, PegsPlan)
        self.plan, self.wood = plan, plan.wood() if wood is None else wood
        self.peg = plan.spacing / 3

    def window(self, aspect: Aspect) -> Window:
        return WINDOWS[aspect]

    def stated_window(self, aspect: Aspect) -> Window:
        return WINDOWS[aspect]

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        own = {"play": {"key_gap": 1.0}, "place": {"reach": 1.0, "key_gap": 0.1}}[aspect]
        return own.get(name or PEGS.setting_of[aspect], 0.0)

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        play = settings["key_gap"] - self.peg
        return play if aspect == "play" else settings["reach"] - figures["thickness"] + 0.1 * play

    def setting_for(self, aspect: Aspect, nominal: float, settings: Settings) -> float:
        now = self.nominal(aspect, settings, self.plan.figures())
        return settings.of(aspect) + nominal - now

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        bit = self.plan.bit.name
        if aspect == "play":
            return (
                Term(("peg", bit), 1.0, 0.0, 0.2),
                Term(("play day",), 1.0, 0.0, 0.02, own=True),
            )
        return (
            Term(("reach zero", bit), 1.0, 0.0, 0.3),
            Term(("reach day",), 1.0, 0.0, 0.02, own=True),
        )

    def wood_terms(self, other: str) -> tuple[Term, ...]:
        return ()

    def evidence(self, aspect: Aspect, pieces: Sequence[Piece]) -> tuple[Evidence, ...]:
        found = (self._evidence(aspect, piece) for piece in pieces)
        return tuple(e for e in found if e is not None)

    def _evidence(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        said, reading = piece.verdict.of(aspect), self.reading_of(aspect, piece)
        if said is None and reading is None:
            return None
        read, read_sd = reading or (None, 0.0)
        nominal = self.nominal(aspect, piece.settings, self.plan.figures(piece.sizes))
        return Evidence(
            piece.number,
            nominal,
            None if said is None else self.word_bands(aspect)[said.index],
            self.word_noise(aspect),
            read,
            read_sd,
            self.piece_sd(aspect),
            0.02,
            1 / len(PEGS.words(aspect)),
        )

    def coupled(self, pieces: Sequence[Piece]) -> tuple[Coupled, ...]:
        return ()

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        return ()

    def reading_of(self, aspect: Aspect, piece: Piece) -> tuple[float, float] | None:
        said = piece.verdict.of(aspect)
        found = [r.value for r in piece.readings if isinstance(r, Reading) and aspect == "play"]
        if said is not None and said.size is not None:
            found.append(self.misfit_of(said))
        return (found[-1], CALIPER) if found else None

    def limit(self, name: str, settings: Settings) -> Limit:
        thick = self.plan.tail_thickness
        if name == "key_gap":
            return Limit(0.5, 50.0, "no peg is that thin", "no key is that wide", "", "")
        return Limit(1.0, 2 * thick, "no peg is that short", "a peg twice the board", "", "")

    def carried(self, settings: Settings) -> Settings:
        return on_real_boards(self.plan, settings)

    def for_piece(self, settings: Settings) -> Settings:
        further = self.carried(settings)["reach"] - settings["reach"]
        return settings.with_("reach", settings["reach"] - further)

    def far_off(self, aspect: Aspect) -> tuple[float, float]:
        return 0.0, 1.0

    def first_outside(self, aspect: Aspect, sd: float) -> float | None:
        return None

    def may_stay(self, aspect: Aspect, misfit: float) -> bool:
        return True

    def trifle(self, aspect: Aspect) -> float | None:
        return 0.0 if aspect == "play" else None

    def misfit_of(self, said: Said) -> float:
        return said.side * (said.size or 0.0)

    def observed(self, settings: Settings) -> Observed:
        raise AssertionError("nothing hangs on another aspect here")

    def piece_sd(self, aspect: Aspect) -> float:
        return 0.01

    def end_sd(self, aspect: Aspect) -> float:
        return 0.0

    def coupling_sd(self, settings: Settings) -> float:
        return 0.0

    def word_bands(self, aspect: Aspect, by: str | None = None) -> tuple[tuple[Band, ...], ...]:
        ends = (-math.inf, *EDGES[aspect], math.inf)
        return tuple(((low, high, 1.0),) for low, high in pairwise(ends))

    def word_noise(self, aspect: Aspect, by: str | None = None) -> float:
        return 0.02

    def read_sd(self, aspect: Aspect) -> float:
        return CALIPER


def set_to(key_gap: float, reach: float) -> Settings:
    """Settings of the pegs, mm."""
    return Settings(PEGS, (key_gap, reach))


Opened = Pegs
