"""The sliding dovetail's closed forms and what it assumes, against values worked out elsewhere.

Sources are named beside each: derived by polygons (`test_polygon_oracle`), or published. Windows
and uncertainties are common practice, no source.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from slides import AT, BIT, cut, said, setup, slide

from fitlog import defaults
from fitlog.advice.decision import decide
from fitlog.advice.history import History
from fitlog.advice.knowledge import know
from fitlog.domain import Machine, Reading
from fitlog.domain.machines import Part
from fitlog.domain.packs import Pack, Shim
from fitlog.errors import Refused
from fitlog.families.sliding import figures
from fitlog.families.sliding import geometry as g
from fitlog.families.sliding.craft import first_settings
from fitlog.families.sliding.joint import SlidingDovetail
from fitlog.families.sliding.limits import exposure_limit, height_limit
from fitlog.families.sliding.names import (
    EXPOSURE,
    FIT,
    HEIGHT,
    LONG,
    LONGEST,
    SHOULDER,
    SLIDING,
    set_to,
)

RISE = math.tan(BIT.theta)
SIZES = (12.7, 18.0)  # D and T of the check values, at a socket 8 mm deep


@pytest.mark.parametrize(
    ("angle", "exposure", "play"),
    [(14, 4.600, -0.0892), (14, 4.6846, 0.080), (7, 3.6723, 0.080)],
)
def test_check_values_of_the_play(angle: float, exposure: float, play: float) -> None:
    """Derived; checked by polygons."""
    theta = math.radians(angle)
    assert g.clearance(*SIZES, exposure, 8.0, theta) == pytest.approx(play, abs=1e-4)
    assert g.exposure_for(play, *SIZES, 8.0, theta) == pytest.approx(exposure, abs=5e-5)
    deeper = g.clearance(*SIZES, exposure, 8.1, theta)
    step = {14: -0.0499, 7: -0.0246}[angle]
    assert deeper - g.clearance(*SIZES, exposure, 8.0, theta) == pytest.approx(step, abs=5e-5)


def test_check_values_of_gap_shoulder_and_rods() -> None:
    """Derived; checked by polygons. Rods by Machinery's Handbook, dovetail slides."""
    assert g.pulled_gap(0.080, BIT.theta) == pytest.approx(0.1604, abs=5e-5)
    assert g.felt(0.080, 0.20, BIT.theta) == pytest.approx(-0.0198, abs=1e-4)
    assert g.felt(0.080, -0.20, BIT.theta) == 0.080
    over = g.over_rods(7.8628, 4.0, BIT.theta)
    between = g.between_rods(12.7, 4.0, BIT.theta)
    assert (over, between) == pytest.approx((16.9825, 3.5802), abs=1e-4)
    assert g.play_by_rods(between, over, 4.0, 9.5, BIT.theta) == pytest.approx(0.100, abs=1e-4)


def test_a_tongue_as_short_as_was_advised_in_print_is_good() -> None:
    """.005 in shorter than its socket: "Bookcases" (Fine Woodworking), p. 146."""
    assert figures.SHOULDER_WINDOW.holds(-0.005 * 25.4)


def test_the_joint_says_what_the_closed_forms_say() -> None:
    joint = SlidingDovetail(slide())
    figured = joint.plan.figures()
    assert joint.nominal(FIT, AT, figured) == pytest.approx(0.080, abs=1e-4)
    assert joint.nominal(SHOULDER, AT, figured) == pytest.approx(-0.1)
    for aspect in (FIT, SHOULDER):
        for name in AT:
            moved = AT.with_(name, AT[name] + 0.01)
            change = joint.nominal(aspect, moved, figured) - joint.nominal(aspect, AT, figured)
            assert change / 0.01 == pytest.approx(joint.slope(aspect, AT, name), abs=1e-9)
    assert SlidingDovetail(slide(one_face=True)).slope(FIT, AT) == 1.0
    wanted = joint.setting_for(FIT, 0.2, AT)
    assert joint.nominal(FIT, AT.with_(EXPOSURE, wanted), figured) == pytest.approx(0.2)


@pytest.mark.parametrize(("one_face", "by"), [(False, 0.5), (True, 1.0)])
def test_another_thickness_is_followed_by_the_exposure(one_face: bool, by: float) -> None:
    """Two faces share what the shelf is thicker."""
    joint = SlidingDovetail(slide(one_face=one_face, piece_thickness=17.0))
    real = joint.carried(AT)
    assert real[EXPOSURE] - AT[EXPOSURE] == pytest.approx(by)
    assert joint.for_piece(real) == AT
    same = joint.nominal(FIT, AT, joint.plan.figures())
    assert joint.nominal(FIT, real, joint.plan.boards()) == pytest.approx(same)


@pytest.mark.parametrize(
    ("wide", "words", "window"),
    [(150, "", (0.04, 0.10)), (151, LONG, (0.08, 0.15)), (351, LONGEST, (0.10, 0.18))],
)
def test_the_words_are_those_of_the_slides_length(
    wide: float, words: str, window: tuple[float, float]
) -> None:
    """Common practice, no source; "X" beyond 350 mm is a guess."""
    plan = slide(board_width=wide)
    assert plan.word_set == words and plan.length_set == words
    found = SlidingDovetail(plan).stated_window(FIT)
    assert (found.low, found.high) == window
    low, high = figures.FIT_EDGES[words][2:4]
    assert (low, high) == window  # `good` is what is wanted
    # A scrap of less than 100 mm is called like a short slide; the window stays the shelf's.
    narrow = slide(board_width=wide, piece_width=90.0)
    assert narrow.word_set == "" and narrow.length_set == words
    assert slide(board_width=400.0, stopped=60.0).slide == 340.0


def test_the_first_piece_is_known_to_a_quarter_of_a_millimetre_and_cut_thick_on_purpose() -> None:
    """0.23 by figures: common practice, no source. Thicker than the window's near edge, as far as
    minutes of cuts and of fresh ends have it.
    """
    plan = slide()
    joint = SlidingDovetail(plan)
    law = know(plan, (), History(), AT).cold[FIT]
    assert math.hypot(law.sd, joint.piece_sd(FIT)) == pytest.approx(0.23, abs=0.015)
    first = first_settings(plan, History())
    aimed = joint.nominal(FIT, first, plan.figures()) + law.mean
    assert -0.2 < aimed < joint.window(FIT).low - 0.03
    assert first[HEIGHT] == 8.0
    assert joint.nominal(SHOULDER, first, plan.figures()) == pytest.approx(-0.1, abs=0.011)


def test_a_closed_shoulder_says_only_that_none_is_seen() -> None:
    joint = SlidingDovetail(slide())
    bands = joint.word_bands(SHOULDER)
    assert bands[0] == ((-math.inf, 0.05, 1.0),)
    (heard,) = joint.evidence(SHOULDER, setup(slide(), cut(1, AT, said("good", "closed"))).pieces())
    assert heard.read is None and heard.other is None and heard.bands == bands[0]
    (heard,) = joint.evidence(SHOULDER, setup(slide(), cut(1, AT, said("", "open", 0.3))).pieces())
    assert (heard.read, heard.read_sd) == pytest.approx((0.3, math.hypot(0.03, 0.0)))


def test_a_fit_is_felt_through_the_shoulder() -> None:
    """Wedged by 0.30 of its height a tongue feels 2 tan(14 deg) x 0.30 tighter than it is."""
    plan = slide()
    joint = SlidingDovetail(plan)
    at = AT.with_("tongue_height", 8.3)
    told = decide(setup(plan, cut(1, at, said("tight", "open", 0.3))), History()).known
    alone = decide(setup(plan, cut(1, AT, said("tight", "closed"))), History()).known
    wedge = 2 * RISE * 0.30
    assert told.law(FIT).mean - alone.law(FIT).mean == pytest.approx(wedge, abs=0.03)
    assert joint.observed(at).taken(np.array([-0.2, 0.3])) == pytest.approx([0.0, wedge])


def test_a_pulled_gap_is_the_same_whether_the_tongue_bottoms_or_not() -> None:
    plan = slide()
    read = (Reading("pull_gap", 0.1604),)
    laws = [
        decide(setup(plan, cut(1, at, verdict, read)), History()).known.law(FIT)
        for at, verdict in (
            (AT, said("", "closed")),
            (AT.with_("tongue_height", 8.3), said("tight", "open", 0.3)),
        )
    ]
    assert laws[0].mean == pytest.approx(laws[1].mean, abs=1e-3)
    assert laws[0].mean == pytest.approx(0.0, abs=0.01)  # 0.08 is what the figures say


@pytest.mark.parametrize(
    ("tongue", "socket"),
    [
        (Reading("over_rods", 16.4933, rod=4.0), Reading("mouth", 8.7107)),
        (Reading("over_rods", 16.4933, rod=4.0), Reading("between_rods", 3.5802, rod=4.0)),
        (Reading("wide_end", 11.3131), Reading("mouth", 8.7107)),
    ],
)
def test_tongue_and_socket_measured_give_the_clearance_tight_or_not(
    tongue: Reading, socket: Reading
) -> None:
    """Of a root of 7.3736 (exposure 5.3132) in a socket whose mouth is 8.7107: as printed, though
    such bits run small; a tongue 0.3 thicker moves the clearance by most of that.
    """
    at = set_to(8.0, 7.9, 5.3132)
    plan = slide()
    cold = know(plan, (), History(), at).cold[FIT]

    def law(*readings: Reading) -> tuple[float, float]:
        pieces = setup(plan, cut(1, at, said(), readings)).pieces()
        found = know(plan, pieces, History(), at).cold[FIT]
        return found.mean, found.sd

    mean, sd = law(tongue, socket)
    assert cold.mean < mean < 0.0 and sd < 0.5 * cold.sd
    thicker = Reading(tongue.kind, tongue.value + 0.3, rod=tongue.rod)
    assert law(thicker, socket)[0] == pytest.approx(mean - 0.3, abs=0.06)


def test_play_and_pulled_gap_read_the_clearance_itself() -> None:
    joint = SlidingDovetail(slide())
    pieces = setup(slide(), cut(1, AT, said(), (Reading("play", 0.09),))).pieces()
    assert joint.reading_of(FIT, pieces[0]) == (0.09, 0.03)
    pieces = setup(slide(), cut(1, AT, said(), (Reading("pull_gap", 0.2),))).pieces()
    lift = 2 * RISE
    assert joint.reading_of(FIT, pieces[0]) == pytest.approx((0.2 * lift, 0.05 * lift))


def test_limits_keep_a_root_and_half_a_panel() -> None:
    """Common practice, no source."""
    plan = slide()
    assert exposure_limit(plan).high == pytest.approx(6.0)  # a third of 18 mm is kept
    assert height_limit(plan).high == 10.0
    widest = (12.7 - BIT.thinnest - 0.1) / (2 * RISE)  # what still passes the mouth
    assert height_limit(slide(pin_thickness=40.0)).high == pytest.approx(widest)
    assert exposure_limit(slide(tail_thickness=30.0)).high == pytest.approx(6.35)
    for wrong, code in (
        (slide(socket_height=11.0), "beyond-limit"),
        (slide(tail_thickness=8.0), "no-room"),
        (slide(tail_thickness=26.0), "no-room"),
        (slide(pin_thickness=3.0), "no-room"),
    ):
        with pytest.raises(Refused) as refused:
            first_settings(wrong, History())
        assert refused.value.code == code
    with pytest.raises(Refused, match="straight bit"):
        slide(bit=type(BIT)("straight", 12.7, 0.0, 20.0))


def test_what_is_packed_under_the_shelf_makes_the_tongue_shorter() -> None:
    pack = Pack((Shim("paper", 0.1, 2), Shim("tape", 0.13)))
    machine = Machine("bench", {"tongue": Part(pack=pack), "fence": Part(step=0.05, zero=3.0)})
    plan = slide(machine)
    can = plan.adjuster(SHOULDER)
    assert can.above(7.88) == pytest.approx(7.9) and can.made_of(7.9) == ("paper",)
    assert can.below(7.85) == pytest.approx(7.8) and can.above(9.0) == pytest.approx(8.0)
    first = first_settings(plan, History())
    assert first["tongue_height"] in (pytest.approx(7.9), pytest.approx(7.87))
    # The exposure is set by the fence's steps, from a zero of its own.
    fit = plan.adjuster(FIT)
    assert (fit.kind, fit.step, fit.origin) == ("steps", 0.05, 0.0)
    assert first[EXPOSURE] == pytest.approx(round(first[EXPOSURE] / 0.05) * 0.05)
    assert fit.sd == pytest.approx(0.02)


def test_the_causes_keep_their_keys_and_factors() -> None:
    """First-order propagation (GUM, JCGM 100:2008, 5.1.2) by finite differences."""
    terms = {t.key[0]: t for t in SlidingDovetail(slide()).terms(FIT, AT)}
    by = 1e-6
    turned = g.clearance(*SIZES, 4.6846, 8.0, BIT.theta + by) - g.clearance(
        *SIZES, 4.6846, 8.0, BIT.theta
    )
    assert terms["angle"].factor == pytest.approx(turned / by, rel=1e-4)
    assert terms["diameter"].factor == 1.0 and terms["diameter"].key[:2] == ("diameter", BIT.name)
    assert terms["height zero"].factor == pytest.approx(-2 * RISE)
    assert terms["exposure zero"].factor == 2.0 and terms["exposure zero"].sd == 0.10
    assert terms["shelf thickness"].factor == -1.0
    axis = {t.key[0]: t for t in SlidingDovetail(slide(to_axis=True)).terms(FIT, AT)}
    assert axis["diameter"].factor == 2.0
    one = {t.key[0]: t for t in SlidingDovetail(slide(one_face=True, to_axis=True)).terms(FIT, AT)}
    assert one["diameter"].factor == 1.5 and one["exposure zero"].factor == 1.0
    zero, chips = SlidingDovetail(slide()).terms(SHOULDER, AT)
    apart, _ = SlidingDovetail(slide(two_machines=True)).terms(SHOULDER, AT)
    assert (zero.sd, chips.sd, apart.sd) == (0.05, 0.05, 0.15) and chips.own
    assert defaults.DIAMETER_PRINTED[0] == pytest.approx(terms["diameter"].mean)


def test_a_pulled_gap_is_play_whatever_the_word_that_goes_with_it() -> None:
    joint = SlidingDovetail(slide())
    for word in ("slightly tight", "good", "slightly loose", "very loose"):
        told = joint.misfit_of(SLIDING.said(FIT, word, 0.3))
        assert told == pytest.approx(0.6 * math.tan(math.radians(14)))
