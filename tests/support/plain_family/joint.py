"""An invented family whose joint is a table: misfits that are straight lines in its settings, with
whatever else a test wants to try.

Nothing of it is a real joint.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from building import BIT, STARTED, STOCK

from fitlog import families
from fitlog.defaults import Band
from fitlog.domain import (
    Adjuster,
    Aspect,
    Family,
    Figures,
    Piece,
    Plan,
    Said,
    Settings,
    SetUp,
    TrialCut,
    Verdict,
    Window,
    adjuster,
)
from fitlog.estimator.evidence import Coupled, Evidence, Observed, Term, TermReading, Voices
from fitlog.families import Limit, names

READ_SD, WORD_NOISE, PIECE_SD, SLIP = 0.02, 0.02, 0.01, 0.02  # mm; a chance


@dataclass(frozen=True)
class Table:
    """What an invented joint is, by aspect: slopes on settings, the misfit with all of them at 0,
    edges of its words, its window and the sd of its offset; observed: what its driver's misfit
    takes; adjusters: by part of the machine.
    """

    slopes: Mapping[Aspect, Mapping[str, float]]
    level: Mapping[Aspect, float]
    edges: Mapping[Aspect, tuple[float, ...]]
    windows: Mapping[Aspect, Window]
    sds: Mapping[Aspect, float]
    observed: Observed | None = None
    end_sds: Mapping[Aspect, float] = field(default_factory=dict)
    adjusters: Mapping[str, Adjuster] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainPlan(Plan):
    """A plan of an invented joint with its table."""

    table: Table = field(compare=False, repr=False)

    def adjuster(self, aspect: Aspect, now: float | None = None) -> Adjuster:
        part = self.family.adjusted(aspect).part
        return self.table.adjusters.get(part) or adjuster(self.machine, part, now)


class Plain:
    """The joint of a table; see `families.family.Joint` for what each method promises."""

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        assert isinstance(plan, PlainPlan)
        self.plan, self.wood, self.table = plan, plan.wood() if wood is None else wood, plan.table

    def window(self, aspect: Aspect) -> Window:
        return self.table.windows[aspect]

    def stated_window(self, aspect: Aspect) -> Window:
        return self.table.windows[aspect]

    def slope(self, aspect: Aspect, settings: Settings, name: str | None = None) -> float:
        own = self.plan.family.setting_of[aspect]
        return self.table.slopes[aspect].get(name or own, 0.0)

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        slopes = self.table.slopes[aspect]
        return self.table.level[aspect] + sum(by * settings[name] for name, by in slopes.items())

    def setting_for(self, aspect: Aspect, nominal: float, settings: Settings) -> float:
        now = self.nominal(aspect, settings, self.plan.figures())
        return settings.of(aspect) + (nominal - now) / self.slope(aspect, settings)

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        return (Term((f"zero of {aspect}",), 1.0, 0.0, self.table.sds[aspect]),)

    def wood_terms(self, other: str) -> tuple[Term, ...]:
        return ()

    def evidence(self, aspect: Aspect, pieces: Sequence[Piece]) -> tuple[Evidence, ...]:
        return tuple(e for p in pieces if (e := self._evidence(aspect, p)) is not None)

    def _evidence(self, aspect: Aspect, piece: Piece) -> Evidence | None:
        said, reading = piece.verdict.of(aspect), self.reading_of(aspect, piece)
        if said is None:
            return None
        read, read_sd = reading or (None, 0.0)
        return Evidence(
            piece.number,
            self.nominal(aspect, piece.settings, self.plan.figures(piece.sizes)),
            self.word_bands(aspect)[said.index],
            self.word_noise(aspect),
            read,
            read_sd,
            PIECE_SD,
            SLIP,
            1 / len(said.kind.words) / (1.0 if read is None else 2.0),
            end=piece.own_end,
            end_sd=self.end_sd(aspect),
        )

    def coupled(self, pieces: Sequence[Piece]) -> tuple[Coupled, ...]:
        found = [kind for kind in self.plan.family.kinds if kind.driver]
        if not found or self.table.observed is None:
            return ()
        (kind,), observed = found, self.table.observed
        assert kind.driver is not None
        return tuple(
            Coupled(
                replace(seen, piece_sd=0.0, word_noise=math.hypot(seen.word_noise, PIECE_SD)),
                observed,
                self.nominal(kind.driver, p.settings, self.plan.figures(p.sizes)),
                PIECE_SD,
                self._evidence(kind.driver, p),
            )
            for p in pieces
            if (seen := self._evidence(kind.name, p)) is not None
        )

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        return ()

    def reading_of(self, aspect: Aspect, piece: Piece) -> tuple[float, float] | None:
        said = piece.verdict.of(aspect)
        return None if said is None or said.size is None else (self.misfit_of(said), READ_SD)

    def limit(self, name: str, settings: Settings) -> Limit:
        return Limit(0.001, 200.0, "it is none", "it is too long", "", "")

    def carried(self, settings: Settings) -> Settings:
        return settings

    def for_piece(self, settings: Settings) -> Settings:
        return settings

    def far_off(self, aspect: Aspect) -> tuple[float, float]:
        return 0.0, 1.0

    def first_outside(self, aspect: Aspect, sd: float) -> float | None:
        return None

    def may_stay(self, aspect: Aspect, misfit: float) -> bool:
        return True

    def trifle(self, aspect: Aspect) -> float | None:
        return 0.0 if self.plan.family.kind(aspect).tried else None

    def misfit_of(self, said: Said) -> float:
        return said.side * (said.size or 0.0)

    def observed(self, settings: Settings) -> Observed:
        assert self.table.observed is not None
        return self.table.observed

    def piece_sd(self, aspect: Aspect) -> float:
        return math.hypot(PIECE_SD, self.end_sd(aspect))

    def end_sd(self, aspect: Aspect) -> float:
        return self.table.end_sds.get(aspect, 0.0)

    def coupling_sd(self, settings: Settings) -> float:
        return PIECE_SD

    def word_bands(self, aspect: Aspect, by: str | None = None) -> tuple[tuple[Band, ...], ...]:
        ends = (-math.inf, *self.table.edges[aspect], math.inf)
        return tuple(((low, high, 1.0),) for low, high in pairwise(ends))

    def word_noise(self, aspect: Aspect, by: str | None = None) -> float:
        return WORD_NOISE

    def read_sd(self, aspect: Aspect) -> float:
        return READ_SD


Opened = Plain


def known(family: Family) -> None:
    """Tell the registry of an invented family; the test gives the registry back."""
    names.FAMILIES[family.name], names.PLANS[family.name] = family, PlainPlan
    families.FOLDERS[family.name] = "plain_family"


def plan_of(family: Family, table: Table) -> PlainPlan:
    """A plan of an invented joint."""
    return PlainPlan(BIT, STOCK, STOCK, None, 150.0, 18.0, 18.0, table=table, family=family)


def setup_of(plan: PlainPlan, first: Settings, cuts: Sequence[TrialCut] = ()) -> SetUp:
    """A set-up whose pieces are these cuts."""
    return SetUp(1, plan, first, first, STARTED, cuts=tuple(cuts))


def true_misfit(
    plan: PlainPlan, offsets: Mapping[Aspect, float], aspect: Aspect, settings: Settings
) -> float:
    """The misfit of a piece at settings, the offsets being known, without what a driver takes."""
    return Plain(plan).nominal(aspect, settings, plan.figures()) + offsets[aspect]


def honest(
    plan: PlainPlan,
    offsets: Mapping[Aspect, float],
    settings: Settings,
    aspects: Sequence[Aspect] | None = None,
) -> Verdict:
    """What a person without noise says of a piece."""
    said = []
    for aspect in plan.family.aspects if aspects is None else aspects:
        off = true_misfit(plan, offsets, aspect, settings)
        index = sum(off > edge for edge in plan.table.edges[aspect])
        said.append(plan.family.said(aspect, plan.family.words(aspect)[index]))
    return Verdict(tuple(said))
