"""Settled by figures: what a number tells of the centre and the seat, what words alone don't, and
what never does.

Outside checks: the combination of a normal law with a reading, by hand; the window of a pull-apart
gap by the geometry of the flank (gap * 2 tan theta). What a caliper and a fence are worth: common
practice, no source.
"""

from __future__ import annotations

import math

import pytest
from building import BIT, make_cut, make_plan, make_setup
from hypothesis import given, settings
from hypothesis import strategies as st
from shop import Shop, by_code
from tables import table

from fitlog import defaults
from fitlog.advice import advise
from fitlog.advice.decision import decide
from fitlog.advice.history import History
from fitlog.advice.settled import judged, settled_by
from fitlog.domain import Aspect, Machine, Reading, Said
from fitlog.estimator.evidence import Voice
from fitlog.families import joint_of
from fitlog.families.half_blind.names import WORDS, say, set_to
from fitlog.families.half_blind.showing import fence_side_chance

STEADY = {"derandomize": True, "deadline": None, "database": None}
AT = set_to(8.7, 75.2, 11.0)
SIXTY_FOURTHS = {"fence-step": "1/64in"}
LIFT = 2 * math.tan(BIT.theta)


# --- the centre -----------------------------------------------------------------------------------


def test_a_number_settles_the_centre_whatever_mark_the_fence_stands_on(shop: Shop) -> None:
    """A cut 0.3 wider after the turn is 0.15 +- 0.015 off: known to far within 0.05, though no
    sixty-fourth hits it.
    """
    found = shop.started(machine=SIXTY_FOURTHS).json("cut good, gap far 0.3, flush")
    by = found["settled_by"]["centre"]
    assert by["way"] == "figures" and by["piece"] is None and 0.95 <= by["chance"] <= 1
    assert found["status"] == "ready" and found["settled"] == ["fit", "centre", "seat"]
    told = by_code(found["reasons"])["centre-settled"]
    assert (
        f"settled by figures ({by['chance']:.0%})" in told
        and "whatever mark the fence stands on" in told
    )
    assert shop.json("next")["centre_by"] == ""


def test_the_stops_take_the_error_that_is_known_whole(shop: Shop) -> None:
    """Zero = the fence that is set less the cut's error there, 0.15: the middle of a 150
    mm board.
    """
    found = shop.started(machine=SIXTY_FOURTHS).json("cut good, gap far 0.3, flush")
    error, job = found["misfit"]["centre"], shop.json("stops")
    assert error["mean"] == pytest.approx(0.15, abs=0.015)
    assert job["zero"] == pytest.approx(
        found["last"]["settings"]["fence_offset"] - error["mean"], abs=2e-4
    )
    assert job["zero_sd"] == pytest.approx(
        defaults.CALIPER / 2, rel=0.05
    )  # half an extra width read by caliper


@pytest.mark.parametrize("machine", [None, {"fence-step": "0.05"}, SIXTY_FOURTHS])
@pytest.mark.parametrize("said", ["gap far", "gap near"])
def test_a_gap_without_its_number_is_no_figure(
    shop: Shop, machine: dict[str, str] | None, said: str
) -> None:
    found = shop.started(machine=machine).json(f"cut good, {said}, flush")
    by = found["settled_by"]["centre"]
    assert by is None or (by["way"] == "nearest" and by["chance"] < 0.95)
    if machine != SIXTY_FOURTHS:
        assert by is None and found["status"] == "tuning"


def test_the_walls_of_a_cut_settle_the_centre_without_a_word(shop: Shop) -> None:
    found = shop.started(machine=SIXTY_FOURTHS).json("cut good, flush --walls 60.4 60.0")
    assert found["settled_by"]["centre"]["way"] == "figures"
    assert found["misfit"]["centre"]["mean"] == pytest.approx(0.2, abs=0.02)


# --- how the centre is shown ----------------------------------------------------------------------


def test_at_an_unknown_fence_and_after_gap_near_the_walls_come_before_any_turn(shop: Shop) -> None:
    first = shop.started(machine={"fence-step": "0.05"}).json("next")
    assert first["centre_by"] == "walls" and {"fence-side", "walls-first"} & set(
        by_code(first["notices"])
    )
    near = shop.json("cut tight, gap near, flush")
    assert near["centre_by"] == "walls" and near["settled_by"]["centre"] is None


def words(aspect: Aspect) -> st.SearchStrategy[Said | None]:
    """No word, any word, or one with its number."""
    size = st.none() | st.integers(2, 150).map(lambda n: n / 100)
    plain = ("centred", "flush", "good")
    made = st.builds(
        lambda w, s: say(aspect, w, None if w in plain or "tight" in w else s),
        st.sampled_from(WORDS[aspect]),
        size,
    )
    return st.none() | made


PIECES = st.lists(
    st.tuples(
        st.integers(-400, 400),
        words("fit"),
        words("centre"),
        words("seat"),
        st.none() | st.integers(-50, 50),
    ),
    max_size=3,
)
MACHINES = st.sampled_from(
    [None, table("marks", fence_step=25.4 / 64, depth_step=0.5), table("fine", fence_step=0.05)]
)


@settings(max_examples=40, **STEADY)
@given(PIECES, MACHINES)
def test_no_turn_where_the_fence_side_may_be_shaved_and_no_fit_without_a_joint(
    rows: list[tuple[int, Said | None, Said | None, Said | None, int | None]],
    machine: Machine | None,
) -> None:
    """Of what is proposed: at most 5 % for more than 0.1 mm off the wall at the fence. The fit: by
    word or reading alone.
    """
    cuts = [
        make_cut(
            n,
            set_to(8.7, 75.2 + off / 1000, 11.0),
            fit,
            centre,
            seat,
            () if walls is None else (Reading("walls", 60 + walls / 100, other=60.0),),
        )
        for n, (off, fit, centre, seat, walls) in enumerate(rows, 1)
    ]
    setup = make_setup(make_plan(machine=machine), AT, cuts)
    made, found = decide(setup, History()), advise(setup, History())
    if found.shown_by == "turn":
        assert fence_side_chance(made.known, found.settings) <= 0.05
        said = [c.verdict.of("centre") for c in cuts if c.verdict.of("centre") is not None]
        assert not said or said[-1].word != "gap near"
    if "fit" in found.settled_by:
        by = found.settled_by["fit"]
        assert by.way in ("word", "reading") and by.piece is not None
        last = next(p for p in reversed(made.pieces) if p.number == by.piece)
        assert judged(made.known.joint, "fit", last)
    for aspect in ("centre", "seat"):
        if (by := found.settled_by.get(aspect)) is not None:
            assert 0 <= by.chance <= 1 and (
                by.way != "figures" or by.chance >= defaults.SETTLED_CHANCE
            )


# --- the fit: the window as stated ----------------------------------------------------------------

WIDE = {
    ("ann", "fit"): Voice((0.0, 0.0, -0.03, 0.011, 0.0, 0.0), 0.03, 0.01)
}  # good from 0.010 to 0.111, as learned


def test_slightly_tight_is_never_settled_by_a_learned_window() -> None:
    """A gap of 0.05 is a clearance of 0.05 * 2 tan 8 deg = 0.014: inside the learned window,
    outside the stated one.
    """
    joint = joint_of(make_plan(), WIDE, "ann")
    assert joint.window("fit").holds(0.05 * LIFT) and not joint.stated_window("fit").holds(
        0.05 * LIFT
    )
    assert (joint.window("fit").low, joint.window("fit").high) == pytest.approx((0.01, 0.111))
    pieces = make_setup(
        make_plan(), AT, [make_cut(1, AT, say("fit", "slightly tight", 0.05), by="ann")]
    ).pieces()
    assert judged(joint, "fit", pieces[0]) is False and settled_by(joint, "fit", pieces) is None
    read = make_setup(
        make_plan(), AT, [make_cut(1, AT, say("fit", "slightly tight", 0.2), by="ann")]
    ).pieces()
    assert judged(joint, "fit", read[0]) is True, "0.056 lies inside the window that was stated"


# --- the seat -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "way", "side"), [("shy 0.2", "shy", "before"), ("proud 0.25", "proud", "behind")]
)
def test_on_a_half_millimetre_stop_the_nearest_is_named_with_its_shim(
    shop: Shop, line: str, way: str, side: str
) -> None:
    """0.2 shy at 12.0: 11.5 would be 0.3 proud, so no mark comes inside 0.15, and no piece would
    change that.
    """
    found = shop.started(machine={"depth-step": "0.5"}).json(f"cut good, centred, {line}")
    by = found["settled_by"]["seat"]
    assert (
        by["way"] == "nearest"
        and by["chance"] < 0.95
        and found["settings"]["socket_depth"] % 0.5 == 0
    )
    told = by_code(found["reasons"])["seat-settled"]
    assert (
        told.startswith("Seat: as near as this stop goes, ")
        and f" {way} of what is wanted, {by['chance']:.0%}" in told
    )
    much = told.split("goes, ")[1].split(f" {way}")[0]
    assert told.endswith(f"; a shim of {much} {side} the stop cures it.")
    step = (
        found["misfit"]["seat"]["mean"]
        + found["last"]["settings"]["socket_depth"]
        - found["settings"]["socket_depth"]
    )
    assert float(much.split()[0]) == pytest.approx(abs(step), abs=0.011)


def test_nothing_is_as_near_as_the_stop_goes_while_the_fit_is_open(shop: Shop) -> None:
    """Another piece is cut anyway, and the next fit moves the seat."""
    found = shop.started(machine={"depth-step": "0.5"}).json("cut tight, centred, shy 0.2")
    assert found["settled_by"]["seat"] is None and found["status"] == "tuning"


# --- a repeat -------------------------------------------------------------------------------------


def test_the_first_fence_of_a_repeat_is_the_last_good_one(shop: Shop) -> None:
    """A fresh fence starts 0.2 too far out; one set-up, two days at 0.05, leave its zero known to
    0.1: no margin.
    """
    shop.started(machine={"fence-step": "0.01"})
    found = shop.json("next")
    assert found["settings"]["fence_offset"] == pytest.approx(75.2, abs=0.005)
    assert "a little too far out" in by_code(found["reasons"])["fence-from"]
    shop.words(
        "cut good, flush --fence 75.3 --walls 60.3 59.7"
    )  # 0.3 too far out: the middle is at 75.0
    shop.words("finish")
    shop.words("start")
    found = shop.json("next")
    assert found["settings"]["fence_offset"] == pytest.approx(
        75.0, abs=0.03
    )  # the prior's mean weighs a little
    assert "too far out" not in by_code(found["reasons"])["fence-from"]
