"""A slot in waste, measured: what it does to the advice, and when it is worth its minute. The
command is tested elsewhere.

Outside checks: the joint normal of the bit's causes written down by hand (first-order propagation,
GUM, JCGM 100:2008, 5.1.2) and conditioned with numpy; the simulated shop's own truth. What a
caliper is worth: common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from building import BIT, in_words, make_cut, make_plan, make_setup
from shop import Shop, by_code
from tables import table

from fitlog import defaults
from fitlog.advice import advise
from fitlog.advice.decision import decide
from fitlog.advice.history import History
from fitlog.domain import Advice, Plan, Reading, Settings, SetUp, TrialCut, Verdict
from fitlog.families.half_blind import figures
from fitlog.families.half_blind.names import say, set_to
from fitlog.families.half_blind.opening import first_settings
from fitlog.language.units import Ruler
from fitlog.simulation import Truth

PLAN = make_plan()
AT = set_to(8.7, 75.2, 11.0)
THETA = BIT.theta
LIFT = 2 * math.tan(THETA)


def slot(mouth: float, at: Settings = AT, entry: int = 1) -> TrialCut:
    """A slot cut at these settings, its mouth measured, before the first piece."""
    return TrialCut(entry, 1, at, Verdict(), (Reading("mouth", mouth),), slot=True)


def expected_mouth(height: float = AT["bit_height"]) -> float:
    """Of a bit as it is assumed: 0.07 under its printed size."""
    return BIT.diameter + defaults.DIAMETER_PRINTED[0] - LIFT * height


def after(*cuts: TrialCut, plan: Plan = PLAN) -> tuple[SetUp, Advice]:
    setup = make_setup(plan, AT, cuts)
    return setup, advise(setup, History())


def by_hand(mouths: int, off: float) -> tuple[float, float]:
    """Mean and sd of the fit's offset after so many mouths, each `off` from what is expected.

    Causes: diameter, angle, height zero, and all else of the fit (pitch 0.05, wood 0.03, day 0.025)
    in one. A mouth is read to 0.03, and the lift repeats to 0.03 of height.
    """
    turn = -2 * AT["bit_height"] / math.cos(THETA) ** 2
    cov = np.diag([0.03**2, math.radians(0.15) ** 2, 0.05**2, 0.05**2 + 0.03**2 + 0.025**2])
    fit, mouth = np.array([2.0, turn, -LIFT, 1.0]), np.array([1.0, turn, -LIFT, 0.0])
    noise = (0.03**2 + (LIFT * 0.03) ** 2) / mouths if mouths else math.inf
    gain = cov @ mouth / (mouth @ cov @ mouth + noise)
    left = cov - np.outer(gain, mouth @ cov)
    return float(2 * -0.07 + fit @ gain * off), math.sqrt(float(fit @ left @ fit))


@pytest.mark.parametrize(("mouths", "off"), [(1, 0.0), (1, 0.12), (1, -0.1), (2, 0.06)])
def test_a_mouth_tells_of_the_fit_what_the_joint_normal_says(mouths: int, off: float) -> None:
    cuts = [slot(expected_mouth() + off, entry=n) for n in range(1, mouths + 1)]
    known = decide(make_setup(PLAN, AT, cuts), History()).known
    mean, sd = by_hand(mouths, off)
    assert (known.cold["fit"].mean, known.cold["fit"].sd) == pytest.approx((mean, sd), abs=2e-4)
    nothing = decide(make_setup(PLAN, AT), History()).known.cold["fit"]
    assert (nothing.mean, nothing.sd) == pytest.approx(by_hand(0, 0.0), abs=2e-4)
    assert sd < 0.8 * nothing.sd, "0.077 instead of 0.100 mm, by hand"


@pytest.mark.parametrize("off", [0.1, -0.1])
def test_a_wide_slot_raises_the_bit_and_a_narrow_one_lowers_it(off: float) -> None:
    """A wider mouth is a thicker bit, whose tails come out looser; higher is tighter. By the mean
    that it moves.
    """
    expected, (_, found) = after(slot(expected_mouth()))[1], after(slot(expected_mouth() + off))
    moved = found.settings["bit_height"] - expected.settings["bit_height"]
    assert moved == pytest.approx((by_hand(1, off)[0] - by_hand(1, 0.0)[0]) / LIFT, abs=0.03)
    assert (
        moved * off > 0 and found.moves is None and found.pieces == 0 and found.status == "tuning"
    )


def test_a_misread_mouth_is_left_out() -> None:
    """2 mm off is no mouth of this bit: nothing moves."""
    _, found = after(slot(expected_mouth() + 2))
    known = decide(make_setup(PLAN, AT, (slot(expected_mouth() + 2),)), History()).known
    assert len(known.misread) == 1 and known.cold["fit"] == pytest.approx(by_hand(0, 0.0), abs=2e-4)
    assert found.pieces == 0


def test_in_the_simulated_shop_a_slot_puts_the_first_piece_nearer() -> None:
    """150 shops, seeded: the first piece's clearance is off by the root of the sums of squares,
    with and without one slot.

    By hand the mouth takes the variance to 0.59 (`by_hand`: 0.077 of 0.100 mm), the piece's own
    aside. Bound: below 0.8 of the mean square; another seed would fail with chance 0.04 at most (F
    of 150 and 150 degrees, dependence not counted).
    """
    plain, told = [], []
    first = first_settings(PLAN, History())
    for seed in range(150):
        truth = Truth(seed)
        plain.append(truth.misfits(PLAN, 1, 1, first)["fit"] - 0.07)
        mouth = truth.slot(PLAN, 1, 1000, first).value + float(
            np.random.default_rng(seed).normal(0, 0.03)
        )
        made = decide(make_setup(PLAN, first, (slot(round(mouth, 2), first),)), History())
        told.append(truth.misfits(PLAN, 1, 1, made.settings)["fit"] - 0.07)
    assert float(np.mean(np.square(told))) < 0.8 * float(np.mean(np.square(plain)))


# --- when it is offered ---------------------------------------------------------------------------


def test_it_is_offered_before_the_first_piece_with_what_it_saves() -> None:
    _, found = after()
    assert found.slot_saves is not None and found.slot_saves >= figures.SLOT_WORTH
    (note,) = [n for n in found.notices if n.code == "slot-first"]
    assert f"saves about {found.slot_saves:.1f} of them" in in_words(
        note
    ) and "`fitlog cut --slot --mouth L`" in in_words(note)
    height = Ruler().length(found.settings["bit_height"])
    assert height in in_words(note) and in_words(note).startswith("A slot first")


def test_what_it_saves_is_what_is_left_less_what_is_left_after_it() -> None:
    """The number stated before is the fall of the pieces that are left, once the mouth came out as
    expected.
    """
    first = first_settings(PLAN, History())
    measured = (slot(expected_mouth(first["bit_height"]), first),)
    before, then = (advise(make_setup(PLAN, first, cuts), History()) for cuts in ((), measured))
    assert before.slot_saves is not None
    assert before.pieces_left - then.pieces_left == pytest.approx(before.slot_saves, abs=0.005)


@pytest.mark.parametrize(
    ("plan", "cuts"),
    [
        (replace(PLAN, words_only=True), ()),
        (replace(PLAN, in_play=("centre", "seat")), ()),
        (PLAN, (make_cut(1, AT, "tight"),)),
        (PLAN, (slot(expected_mouth()), make_cut(1, AT, say("fit", "loose", 0.8), "gap far"))),
        (
            PLAN,
            (
                slot(expected_mouth()),
                slot(expected_mouth(), entry=2),
                slot(expected_mouth(), entry=3),
            ),
        ),
    ],
    ids=["words only", "no fit", "a piece", "a slot and a piece", "three slots"],
)
def test_it_is_not_offered(plan: Plan, cuts: tuple[TrialCut, ...]) -> None:
    _, found = after(*cuts, plan=plan)
    assert found.slot_saves is None and "slot-first" not in {n.code for n in found.notices}


def test_the_height_of_the_slot_is_on_the_users_own_scale() -> None:
    _, found = after(plan=replace(PLAN, machine=table("table", height_step=0.05, height_zero=1.3)))
    (note,) = [n for n in found.notices if n.code == "slot-first"]
    assert f"at {Ruler().length(found.settings['bit_height'] + 1.3)}, measure" in in_words(note)


# --- through the shell ----------------------------------------------------------------------------


@pytest.mark.parametrize("units", ["mm", "fraction"])
def test_a_slot_is_no_piece_in_the_json(shop: Shop, units: str) -> None:
    shop.stocked(machine={"height-step": "0.05", "fence-step": "0.1"})
    if units == "fraction":
        shop.words("prefer --units fraction")
    first = shop.json("start")
    assert first["slot_saves"] > 0.1 and "slot-first" in by_code(first["notices"])
    narrow = 13.03 - 2 * first["settings"]["bit_height"] * math.tan(math.radians(9)) - 0.1
    found = shop.json(f"cut --slot --mouth {narrow:.3f}mm")
    assert (found["pieces"], found["last"], found["moves"]) == (0, None, None)
    assert found["settings"]["bit_height"] < first["settings"]["bit_height"]
    assert found["pieces_left"] < first["pieces_left"]
    piece = shop.json("cut tight, proud 0.3mm")
    assert piece["pieces"] == 1 and piece["last"]["piece"] == 1 and piece["slot_saves"] is None
    assert piece["last"]["settings"] == found["settings"], "it was cut as the slot had it advised"
    other = shop.json("cut --slot --mouth 9.1mm")
    assert (other["pieces"], other["last"]) == (1, piece["last"])


def test_with_words_only_the_shell_offers_none(shop: Shop) -> None:
    found = shop.stocked().json("start --words-only")
    assert found["slot_saves"] is None and "slot-first" not in by_code(found["notices"])
