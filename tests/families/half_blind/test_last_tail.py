"""The stops' zero and the tail at the far edge: what the log knows of the centre is taken whole,
what it doesn't is stated.

Outside sources: the play of the last tail from a simulation of the sum with the standard library's
normal numbers; the zero from the arithmetic of the log's own statement. Bits and boards are
invented.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace

import pytest
from building import in_words, make_cut, make_plan, make_setup
from shop import Shop, by_code
from tables import table

from fitlog import defaults
from fitlog.advice import advise
from fitlog.advice.decision import decide
from fitlog.advice.history import History
from fitlog.domain import Misfit
from fitlog.domain.standing import for_real_boards, zero_error
from fitlog.families.half_blind.last_tail import last_tail as tail_of
from fitlog.families.half_blind.layouts.work import last_tail, smaller
from fitlog.families.half_blind.names import set_to
from fitlog.families.half_blind.tail import LastTail
from fitlog.language.units import Ruler

AT = set_to(8.7, 75.0, 11.0)


@pytest.fixture
def stocked(shop: Shop) -> Shop:
    return shop.stocked(machine={"fence-step": "0.05"})


# --- the zero -------------------------------------------------------------------------------------


def test_the_zero_takes_what_is_known_of_the_centre_whole(stocked: Shop) -> None:
    """Walls 50.30 and 49.70 apart: the cut lies 0.30 mm too far out, far more than the 0.05 mm that
    was once allowed for.
    """
    stocked.words("start --pitch 25 --tails 6")
    found = stocked.json("cut good, flush --fence 75.3 --walls 50.3 49.7")
    error = found["misfit"]["centre"]
    assert error["mean"] == pytest.approx(0.3, abs=0.03)
    job = stocked.json("stops")
    real = found["real"]["fence_offset"]
    assert job["zero"] == pytest.approx(real - (error["mean"] + real - 75.3), abs=2e-4)
    assert job["zero"] == pytest.approx(75.0, abs=0.03)
    # of the middle of the law: half the difference of two caliper readings; a slip's far tails are
    # in the misfit's sd alone
    assert job["zero_sd"] == pytest.approx(defaults.CALIPER / math.sqrt(2), rel=0.02)
    assert error["sd"] > job["zero_sd"]


@pytest.mark.parametrize(
    ("units", "never", "least"),
    [
        ("mm", "0.00 mm", "under 0.01 mm"),
        ("inch", "0.000 in", "under 0.001 in"),
        ("fraction", "0 in", "under 1 thou"),
    ],
)
def test_an_uncertainty_is_never_nothing(units: str, never: str, least: str) -> None:
    ruler = Ruler(units)
    assert ruler.length(0.004) == never and ruler.doubt(0.004) == least
    assert ruler.doubt(0.3) == ruler.length(0.3)
    tail = LastTail((0.07, 0.003), 0.001, (0.04, 0.10))
    (told,) = last_tail(Misfit(0.2, 0.001, (0.19, 0.21)), tail)
    text = in_words(told, units)
    assert f"+-{never}" not in text and f"+- {never}" not in text and least in text


@pytest.mark.parametrize("length", [0.4, 12.7, 19.84375, 21.0, 34.925])
@pytest.mark.parametrize("units", ["mm", "inch", "fraction"])
def test_a_length_for_an_option_is_read_back_as_it_is(units: str, length: float) -> None:
    from fitlog.language.units import parse_length

    assert parse_length(Ruler(units).exact(length), units=units).mm == pytest.approx(
        length, abs=2e-4
    )


def test_what_the_advice_says_of_zero_and_real_boards_counts() -> None:
    setup = make_setup(
        make_plan(board_width=200.0, piece_width=150.0),
        AT,
        [make_cut(1, AT, "good", "centred", "flush")],
    )
    found = advise(setup, History())
    assert for_real_boards(setup, found)["fence_offset"] == pytest.approx(
        found.settings["fence_offset"] + 25
    )
    own = replace(found, real=AT.changed(socket_depth=10.9), zero=Misfit(0.12, 0.02, (0.09, 0.15)))
    assert for_real_boards(setup, own)["socket_depth"] == 10.9
    assert zero_error(own, own.real or AT) == own.zero


# --- the last tail --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fit", "centre", "rounded"),
    [
        ((0.07, 0.015), 0.02, 0.0),
        ((0.06, 0.02), 0.05, 0.0),
        ((0.08, 0.01), 0.008, -0.02),
        ((0.05, 0.03), 0.0, 0.3),
    ],
)
def test_the_last_tails_chance_is_that_of_the_sum(
    fit: tuple[float, float], centre: float, rounded: float
) -> None:
    """40,000 draws a case: five standard errors are 0.0125; a false alarm in two million cases, and
    the seed is fixed.
    """
    dice, tail = random.Random(6), LastTail(fit, centre, (0.04, 0.10), rounded)
    plays = [dice.gauss(*fit) + 2 * dice.gauss(0, centre) + rounded for _ in range(40000)]
    assert tail.chance == pytest.approx(
        sum(0.04 <= play <= 0.10 for play in plays) / 40000, abs=0.0125
    )
    assert tail.mean == pytest.approx(fit[0] + rounded) and tail.sd == pytest.approx(
        math.hypot(fit[1], 2 * centre)
    )


def test_one_more_reading_makes_it_surer_as_two_sources_do() -> None:
    tail = LastTail((0.07, 0.02), 0.05, (0.04, 0.10))
    walls = tail.with_(0.02)
    assert (
        walls.centre_sd == pytest.approx(0.05 * 0.02 / math.hypot(0.05, 0.02))
        and walls.fit == tail.fit
    )
    assert tail.chance < walls.chance < tail.with_(0.02, 0.02).chance


def test_the_stops_state_it_and_offer_what_makes_it_surer(shop: Shop) -> None:
    """By a word alone the centre is unsure, and the walls help."""
    stocked = shop.stocked()
    stocked.words("start --pitch 22.6 --tails 6")
    stocked.words("cut good, centred, flush")
    job, said = stocked.json("stops"), " ".join(stocked.words("stops --why").out.split())
    tail = job["last_tail"]
    assert tail["sd"] > 2 * job["zero_sd"] and 0 < tail["chance"] < 1
    assert f"with a chance of {tail['chance']:.0%}" in said
    assert (
        "The two walls measured" in said
        and "gauge the end tails" in said
        and "Never open the edge that lies away" in said
    )
    assert "centre-unsure" in by_code(job["notices"])
    stocked.words("cut --same-piece --walls 62 62")
    sure = stocked.json("stops")
    assert sure["last_tail"]["chance"] > tail["chance"] and sure["zero_sd"] < job["zero_sd"]


def test_what_would_not_help_is_not_offered() -> None:
    sure = smaller(LastTail((0.07, 0.01), 0.002, (0.04, 0.1)), 0.02, 0.02)
    unsure = smaller(LastTail((0.07, 0.01), 0.08, (0.04, 0.1)), 0.02, 0.02)
    assert (
        sure == ()
        and "walls" in in_words(unsure[0])
        and "gauge" in in_words(unsure[-1])
        and smaller(None, 0.02, 0.02) == ()
    )


def test_a_slip_that_is_thought_possible_leaves_the_rest_as_likely() -> None:
    """The word may be a slip (2 %), which spreads the centre's law far out; the chance is that of
    the whole law by hand.

    The fit's and the centre's posteriors as the estimator has them, put together on a plain grid of
    the centre's error.
    """
    setup = make_setup(make_plan(), AT, [make_cut(1, AT, "good", "centred", "flush")])
    known = decide(setup, History()).known
    nominal = known.joint.nominal("fit", AT, setup.plan.boards())
    off = known.law("centre").grid - known.law("centre").mean
    edges = [known.law("fit").cdf(edge - nominal - 2 * off) for edge in (0.04, 0.10)]
    by_hand = float(known.law("centre").weight @ (edges[1] - edges[0]))
    error = advise(setup, History()).misfit["centre"]
    tail = tail_of(setup, History(), AT, error, 0.0)
    assert tail is not None and tail.chance == pytest.approx(by_hand, abs=2e-3)
    assert (
        tail.chance > replace(tail, whole=None).chance + 0.05
    )  # the normal law of the same sd would be too modest


@pytest.mark.parametrize("only", ["fit", "centre", "fit,seat", "centre,seat"])
def test_without_fit_or_centre_nothing_is_claimed_of_it(stocked: Shop, only: str) -> None:
    stocked.words(f"start --pitch 22.6 --tails 6 --only {only}")
    job = stocked.json("stops")
    assert job["last_tail"] is None and (job["zero_sd"] is None) == ("centre" not in only)


def test_what_rounding_does_to_the_last_tail_is_part_of_it(shop: Shop) -> None:
    """A fence in whole millimetres, the zero 0.3 between two of them: the far edge feels that
    twice, and a shim cures it.
    """
    shop.stocked(machine={"fence-step": "1"})
    shop.words("start --pitch 24 --tails 6")
    shop.words("cut good, centred, flush --fence 75.3 --walls 62 62")
    job, said = shop.json("stops"), shop.words("stops --why").out
    error = job["stops"][0]["rounding"]
    assert abs(error) > 0.05
    exact = LastTail((0.07, 0.01), 0.01, (0.04, 0.1))
    assert job["last_tail"]["mean"] - 2 * error == pytest.approx(exact.mean, abs=0.08)
    assert "for the second edge alone set stop 1" in " ".join(said.split())
    assert "centre-unsure" in by_code(job["notices"])


def test_the_shim_goes_the_way_that_gives_the_play_back() -> None:
    """Too much play at the far edge: the slot there must lie nearer to that edge, which is then at
    the fence.
    """
    more, less = (
        smaller(LastTail((0.07, 0.01), 0.01, (0.04, 0.1), off), 0.02, 0.02) for off in (0.2, -0.2)
    )
    assert "0.20 mm further in" in in_words(more[-1]) and "0.20 mm further out" in in_words(
        less[-1]
    )


def test_scrap_in_another_wood_makes_the_last_tail_less_sure(stocked: Shop) -> None:
    sds = []
    for line in ("", " --scrap mdf"):
        stocked.words(f"start --pitch 22.6 --tails 6{line}")
        stocked.words("cut good, centred, flush")
        sds.append(stocked.json("stops")["last_tail"]["sd"])
        stocked.words("finish --abandon")
    assert sds[1] > sds[0]


def test_a_fence_set_between_its_marks_rounds_to_those_places(
    monkeypatch: pytest.MonkeyPatch, stocked: Shop
) -> None:
    from fitlog.domain import adjuster

    machine = table("table", fence_step=0.4, between=("fence",))
    assert adjuster(machine, "fence").step == pytest.approx(0.1)
    stocked.words("machine edit bench --fence-step 0.4")
    stocked.words("start --pitch 22.6 --tails 6")
    assert stocked.json("stops")["fence_step"] == 0.4
    monkeypatch.setattr(
        "fitlog.domain.setups.adjuster", lambda *_, **__: adjuster(machine, "fence")
    )
    assert stocked.json("stops")["fence_step"] == pytest.approx(0.1)
