"""What the log shows unasked: moves that did nothing or twice what was asked, fits that drift.

Measured in the simulated shop (cold set-ups, bits of 7, 8 and 14 degrees, 2 % slips, other seeds
than below):

False alarms, per set-up, a finding at any of its pieces. Set-ups of fit and centre as the tool runs
them, 800 each: 0.5 % with words alone, 0.5 % with a feeler. Two pieces, a sound move of 0.2 mm,
four more, 800 each: none and 0.75 %. A person whose edges between words are off by 0.05 mm each,
300 of both kinds: 0.7 and 0.3 % with words, 0.7 and 0.7 % with a feeler.

A dead move, found and so named, 200 each, by (pieces before, after). With a feeler, 0.2 mm: (1, 1)
21 %, (1, 2) 39 %, (2, 2) 64 %, (2, 4) 73 %; 0.5 mm: (1, 2) 89 %, (2, 4) 95 %. With words alone 0.2
mm: 0, 0, 0, 2 % (it is about one band of the words); 0.5 mm: 33 and 61 %. In set-ups that the tool
runs, the first move of 0.15 mm or more dead, found before they are ready: 60 % of 236 with a
feeler, 14 % of 241 with words. Twice 0.2 mm, (2, 4): 51 % and 1 %. A bit that creeps 0.06 mm a
piece, found by the eighth piece at one setting, 100 each: 64 % and 8 %.

The tests below run fewer set-ups on fixed seeds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest
from building import in_words, make_cut, make_plan, make_setup
from scipy.integrate import quad

from fitlog import defaults
from fitlog.advice import advise
from fitlog.advice.drift import Finding, findings
from fitlog.advice.history import History
from fitlog.advice.knowledge import know
from fitlog.domain import Plan, Settings, SetUp, TrialCut
from fitlog.estimator.evidence import Evidence
from fitlog.estimator.posterior import Normal
from fitlog.estimator.shifts import Step, log_evidence
from fitlog.families.half_blind.names import say, set_to
from fitlog.simulation import Advised, Person, Truth, year

DAY = datetime(2031, 1, 1, tzinfo=UTC)
BOTH = ("fit", "centre")


# --- the marginal likelihoods themselves ----------------------------------------------------------


def evidence(
    piece: int, nominal: float, band: tuple[float, float] | None, read: float | None = None
) -> Evidence:
    """One verdict with this project's own noises; background as the joint gives it."""
    background = 1 / 7 if band else 1.0
    bands = None if band is None else ((*band, 1.0),)
    return Evidence(piece, nominal, bands, 0.025, read, 0.015, 0.01, 0.02, background)


def bell(x: float, mean: float, sd: float) -> float:
    """The normal density."""
    return math.exp(-0.5 * ((x - mean) / sd) ** 2) / (sd * math.sqrt(2 * math.pi))


def below(x: float, mean: float, sd: float) -> float:
    """The normal integral up to x, by the error function of the standard library."""
    return 0.5 * math.erfc((mean - x) / (sd * math.sqrt(2)))


def plain(e: Evidence, offset: float) -> float:
    """The likelihood of a verdict, written out anew."""
    x = e.nominal + offset
    if e.read is not None:
        mixed = (1 - e.slip) * bell(e.read, x, math.hypot(e.read_sd, e.piece_sd))
    else:
        assert e.bands is not None
        ((low, high, _),) = e.bands
        noise = math.hypot(e.word_noise, e.piece_sd)
        mixed = (1 - e.slip) * (below(high, x, noise) - below(low, x, noise))
    return float(mixed + e.slip * e.background)


def integrated(prior: Normal, cuts: Sequence[Evidence], shifts: Sequence[float]) -> float:
    """Log of the integral of prior times likelihood, each verdict's offset grown by its shift
    (adaptive quadrature).
    """

    def density(b: float) -> float:
        return bell(b, *prior) * math.prod(
            plain(e, b + s) for e, s in zip(cuts, shifts, strict=True)
        )

    low, high = prior.mean - 9 * prior.sd, prior.mean + 9 * prior.sd
    return math.log(quad(density, low, high, points=np.linspace(low, high, 41)[1:-1], limit=400)[0])


@pytest.mark.parametrize("sd", [0.1, 0.008], ids=["new bit", "well known bit"])
@pytest.mark.parametrize("seed", range(3))
def test_marginal_likelihoods_are_those_of_adaptive_quadrature(seed: int, sd: float) -> None:
    """Ratios of evidences within 0.15 nats: a hundredth in a chance of three quarters is 0.05, and
    none is decided finer.
    """
    r = np.random.default_rng(seed)
    cuts = []
    for k in range(6):
        nominal = float(r.normal(0.07, 0.05))
        cuts.append(
            evidence(k + 1, nominal, None, nominal + float(r.normal(0, 0.03)))
            if k % 2
            else evidence(k + 1, nominal, (0.04, 0.10))
        )
    prior, steps, drifts = (
        Normal(-0.02, sd),
        [Step(2, -0.07), Step(3, 0.05), Step(5, 0.11)],
        (-0.02, 0.004, 0.013),
    )
    none, moved, drifted = log_evidence(prior, cuts, steps, drifts)
    base = integrated(prior, cuts, [0.0] * 6)
    for step, ours in zip(steps, moved, strict=True):
        theirs = integrated(prior, cuts, [step.shift * (k >= step.place) for k in range(6)])
        assert ours - none == pytest.approx(theirs - base, abs=0.15)
    for drift, ours in zip(drifts, drifted, strict=True):
        assert ours - none == pytest.approx(
            integrated(prior, cuts, [drift * k for k in range(6)]) - base, abs=0.15
        )


def test_what_cannot_be_weighed_is_a_value_error() -> None:
    with pytest.raises(ValueError, match="proper prior"):
        log_evidence(Normal(0.0, math.inf), [evidence(1, 0.0, (0.0, 0.1))], [])
    with pytest.raises(ValueError, match="at least one"):
        log_evidence(Normal(0.0, 0.1), [], [])


# --- the simulated shop ---------------------------------------------------------------------------


def look(setup: SetUp) -> tuple[Finding, ...]:
    pieces = setup.pieces()
    return findings(know(setup.plan, pieces, History(), setup.first), pieces)


class Shop:
    """One cold set-up in the simulated shop, whose lift may stand elsewhere than it was set to.
    lost: by how much, mm.
    """

    def __init__(self, seed: int, words_only: bool, plan: Plan) -> None:
        self.plan, self.truth = plan, Truth(seed)
        self.person = Person(seed, words_only=words_only, slip=defaults.SLIP)
        self.method, self.lost = Advised(), 0.0
        first = self.method.first(plan)
        self.setup = SetUp(1, plan, first, first, DAY)

    def cut(self, dialled: Settings) -> tuple[Finding, ...]:
        number = len(self.setup.cuts) + 1
        real = dialled.changed(bit_height=dialled["bit_height"] + self.lost)
        misfits = self.truth.misfits(self.plan, 1, number, real)
        verdict = self.person.judge(
            self.plan, 1, number, misfits, self.truth.stands_for(self.plan, 1)
        )
        self.setup = replace(
            self.setup, cuts=(*self.setup.cuts, TrialCut(number, number, dialled, verdict))
        )
        return look(self.setup)


def six_pieces(seed: int, words_only: bool, kind: str, size: float = 0.2) -> list[Finding]:
    """Two pieces, a move of `size` mm as the word asks, four more; what was found on the way. kind:
    "" for a sound move.
    """
    shop = Shop(seed, words_only, year(seed, 1, ("fit",), words_only)[0])
    at, found = shop.setup.first, [shop.cut(shop.setup.first), shop.cut(shop.setup.first)]
    said = shop.setup.pieces()[-1].verdict.of("fit")
    assert said is not None
    move = size if said.side > 0 or (said.side == 0 and seed % 2) else -size
    shop.lost = {"nothing": -move, "twice": move, "": 0.0}[kind]
    at = at.changed(bit_height=at["bit_height"] + move)
    found += [shop.cut(at) for _ in range(4)]
    return [f for some in found for f in some]


@pytest.mark.parametrize(("shops", "most"), [(30, 3), pytest.param(120, 7, marks=pytest.mark.long)])
@pytest.mark.parametrize("words_only", [True, False], ids=["words", "feeler"])
def test_a_sound_shop_is_hardly_ever_told_of_a_fault(
    words_only: bool, shops: int, most: int
) -> None:
    """At a true rate of 1 % (the aim; measured 0.75 % and less), more than 7 in 240, or than 3 in
    60, happens once in 320 such tests (exact binomial).
    """
    alarms = 0
    for seed in range(shops):
        shop = Shop(31_000 + seed, words_only, year(31_000 + seed, 1, BOTH, words_only)[0])
        at, ready, told = shop.setup.first, False, False
        while not ready and len(shop.setup.cuts) < 10:
            told |= bool(shop.cut(at))
            at, ready = shop.method.after(shop.setup)
        alarms += told
        alarms += bool(six_pieces(32_000 + seed, words_only, ""))
    assert alarms <= most


@pytest.mark.parametrize(
    ("words_only", "size"), [(True, 0.5), (False, 0.2)], ids=["words, 0.5 mm", "feeler, 0.2 mm"]
)
def test_a_dead_move_is_mostly_found(words_only: bool, size: float) -> None:
    """Of 60 dead moves, two pieces before and four after: over half. Words alone cannot tell 0.2
    mm, about one band.
    """
    named = sum(
        any(f.kind == "nothing" for f in six_pieces(33_000 + s, words_only, "nothing", size))
        for s in range(60)
    )
    assert named > 30


# --- the notices ----------------------------------------------------------------------------------


AT = set_to(8.41, 75.0, 11.2)


def told(*rows: tuple[float, str, float | None], machine: object = None) -> dict[str, str]:
    """Notices by code after pieces of (height, fit word, pull-apart gap)."""
    cuts = [
        make_cut(k, AT.changed(bit_height=h), say("fit", w, g))
        for k, (h, w, g) in enumerate(rows, 1)
    ]
    found = advise(make_setup(make_plan(in_play=("fit",)), AT, cuts), History())
    return {n.code: in_words(n) for n in found.notices}


def test_a_move_that_did_nothing_is_named_with_its_pieces_and_size() -> None:
    loose = "slightly loose"
    notices = told((8.4, loose, 0.6), (8.4, loose, 0.62), (8.8, loose, 0.6), (8.8, loose, 0.61))
    assert (
        "between pieces 2 and 3 (up 0.40 mm) seems to have done nothing"
        in notices["move-did-nothing"]
    )
    assert "fitlog fault move nothing" in notices["move-did-nothing"]
    assert "surprise-fit" not in notices and "slip-fit" not in notices


def test_a_move_that_did_twice_what_was_asked_is_named() -> None:
    notices = told(
        (8.4, "loose", 1.0),
        (8.4, "loose", 1.02),
        (8.7, "slightly loose", 0.4),
        (8.7, "slightly loose", 0.41),
    )
    assert (
        "between pieces 2 and 3 (up 0.30 mm) seems to have done twice" in notices["move-overshot"]
    )


def test_a_drift_is_named_with_its_amount_a_piece() -> None:
    rows = [
        (8.4, "slightly loose" if gap > 0.35 else "good", gap)
        for gap in (0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2)
    ]
    text = told(*rows)["fit-drifts"]
    assert "grow tighter from piece 1 to piece 8" in text and "of height" in text
    # 0.1 mm of gap a piece is as much of height; the prior of 0.05 mm a piece pulls it in
    each = float(text.split(" mm of height")[0].rsplit(" ", 1)[1])
    assert 0.04 <= each <= 0.1


def test_where_moves_do_what_was_asked_nothing_is_said() -> None:
    for rows in (
        [
            (8.4, "slightly loose", 0.6),
            (8.4, "slightly loose", 0.62),
            (8.8, "good", 0.2),
            (8.8, "good", 0.21),
        ],
        [(8.4, "tight", None), (8.2, "good", None)],
        [(8.4, "good", 0.2)] * 8,
    ):
        assert not {"move-did-nothing", "move-overshot", "fit-drifts"} & set(told(*rows))


def test_an_old_dead_move_is_let_go_once_the_fit_is_settled() -> None:
    loose = "slightly loose"
    rows = [
        (8.4, loose, 0.6),
        (8.4, loose, 0.62),
        (8.8, loose, 0.6),
        (8.8, loose, 0.61),
        (9.2, "good", 0.22),
    ]
    assert "move-did-nothing" in told(*rows[:4]) and "move-did-nothing" not in told(*rows)


def test_a_dead_fence_is_named_for_the_centre() -> None:
    far = say("centre", "gap far", 0.6)
    fences = (75.3, 75.3, 75.0, 75.0)
    cuts = [make_cut(k, AT.changed(fence_offset=x), None, far) for k, x in enumerate(fences, 1)]
    found = advise(make_setup(make_plan(in_play=("centre",)), AT, cuts), History())
    notices = {n.code: n for n in found.notices}
    assert notices["move-did-nothing"].aspect == "centre" and "in 0.30 mm" in in_words(
        notices["move-did-nothing"]
    )
