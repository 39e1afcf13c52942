"""A kept sample that does not go together with what is known, another bit's, one of the log, and
limits.

Expected values by hand from m = P - D + c, t = D - c and c = 2 D - P - 2 h tan(theta).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from building import make_cut, make_setup
from kept import (
    ALL,
    BETWEEN,
    GAP,
    LIFT,
    MIDDLE,
    MOUTH,
    OVER,
    PLAN,
    TAIL,
    D,
    H,
    P,
    found,
    joint_plan,
)

from fitlog.advice.history import History
from fitlog.domain import Bit, Reading
from fitlog.domain.standing import worth_a_piece
from fitlog.errors import Refused
from fitlog.families.half_blind import figures
from fitlog.families.half_blind.names import set_to
from fitlog.families.half_blind.recovery import recover
from fitlog.families.half_blind.sample import Sample

EGRET = Bit("egret", 12.4, 9.0, 16.0)


def test_a_reading_that_cannot_be_true_is_left_out() -> None:
    back = found([replace(MOUTH, value=9.0), TAIL])
    assert [h.left_out for h in back.heard] == [True, False]
    assert back.height == found([TAIL]).height


def test_a_loose_sample_is_taken_by_its_gap() -> None:
    """c = 2 g tan(theta) = 0.30: no good joint. Its tail end is D - 0.30, and the height is what it
    would be anyway.
    """
    back = found([Reading("tail_width", D - 0.30), Reading("pull_gap", 0.30 / LIFT)])
    assert back.not_good
    assert back.height.mean == pytest.approx((2 * D - P - MIDDLE) / LIFT, abs=0.01)
    assert not found([GAP]).not_good


def test_another_bits_sample_tells_nothing_of_this_bit() -> None:
    plan = joint_plan(bit=EGRET, pitch=21.5, rabbet_depth=6.2)
    alone = recover(plan, History(), None)
    back = recover(plan, History(), Sample(PLAN, (OVER, BETWEEN)))
    assert back.cut_at is None
    assert back.diameter == pytest.approx(alone.diameter, abs=1e-9)
    assert back.angle_deg == pytest.approx(alone.angle_deg, abs=1e-9)
    assert (
        back.height.sd < alone.height.sd
    )  # the pitch is the table's own: over and between rods add up to it


def test_a_sample_of_the_log_is_read_at_its_height() -> None:
    """m = D - 2 h tan(theta) with h known: what the clearance was adds nothing."""
    setup = make_setup(
        PLAN,
        set_to(H, 75.0, 10.6),
        [make_cut(1, set_to(H, 75.0, 10.6), "good")],
        outcome="finished",
    )
    past = History([setup])
    back = recover(PLAN, past, Sample(PLAN, (MOUTH,), height=H))
    assert abs(back.heard[0].off) < 1
    assert back.height.sd < recover(PLAN, past).height.sd < found([]).height.sd
    wrong = recover(PLAN, past, Sample(PLAN, (replace(MOUTH, value=8.3),), height=H))
    assert wrong.heard[0].off > 3


def test_past_a_limit_it_is_refused_with_a_pitch_that_works() -> None:
    plan = joint_plan(pitch=18.0)
    with pytest.raises(Refused) as refused:
        found([], plan)
    assert refused.value.code == "pitch-out-of-reach"
    pitch = float(refused.value.hint.rpartition("--pitch ")[2].removesuffix("mm"))
    back = found([], joint_plan(pitch=pitch))
    assert plan.pin_thickness - back.height.mean > figures.LEAST_LAP


def test_the_test_piece_follows_the_rule_of_the_confirming_cut() -> None:
    """A spoiled joint costs five pieces: a test piece saves more than it costs below a chance of 80
    %.
    """
    assert worth_a_piece(0.79)
    assert not worth_a_piece(0.81)
    assert found(ALL).test_piece
