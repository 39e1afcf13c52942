"""A simulated sliding dovetail: its hidden truth by hand, and the tool beside a habit.

Everything is seeded and exact: for these seeds the checks pass or fail for good.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from fitlog.families.sliding import figures
from fitlog.families.sliding.joint import SlidingDovetail
from fitlog.families.sliding.names import EXPOSURE, FIT, SHOULDER, SLIDING, set_to
from fitlog.families.sliding.plan import sliding
from fitlog.simulation import Advised, Person, Truth, Undeterred, one_joint, run, year
from fitlog.simulation.plans import MACHINE
from fitlog.simulation.simulated import simulated
from fitlog.simulation.truth import causes
from fitlog.simulation.tuned import BASE, rivals


def test_the_truth_by_hand() -> None:
    """The nominal play, all causes by their factors (the angle's in full), and what a tongue on the
    floor takes.
    """
    assert {"exposure zero", "shelf thickness", "tongue zero"} <= set(causes())
    plan = sliding(one_joint(3, MACHINE, SLIDING.aspects, joint=SLIDING.name))
    truth, joint = Truth(3, {"piece": 0.0}), SlidingDovetail(plan)
    at = set_to(plan.socket_height, plan.socket_height - 0.5, 4.0)
    off = {
        a: sum(t.factor * truth.value(t, 1) for t in joint.terms(a, at)) for a in SLIDING.aspects
    }
    wanted = {a: joint.nominal(a, at, plan.figures()) + off[a] for a in SLIDING.aspects}
    found = truth.misfits(plan, 1, 1, at)
    assert found[SHOULDER] == pytest.approx(wanted[SHOULDER])
    assert found[FIT] == pytest.approx(wanted[FIT], abs=0.002)  # second order of the angle
    high = at.with_("tongue_height", plan.socket_height + 0.4)
    wedge = joint.lift * max(0.0, wanted[SHOULDER] + 0.9)
    assert found[FIT] - truth.misfits(plan, 1, 1, high)[FIT] == pytest.approx(wedge, abs=0.01)
    good = at.with_(EXPOSURE, truth.fitting(plan, 1))
    middle = figures.FIT_WINDOWS[plan.length_set].middle
    assert truth.misfits(plan, 1, 1, good)[FIT] == pytest.approx(middle)


def test_an_end_that_is_cut_again_is_the_same_wood() -> None:
    plan = one_joint(3, MACHINE, SLIDING.aspects, joint=SLIDING.name)
    (out,) = run(Truth(3), Person(3), Undeterred(Advised()), [plan])
    pieces = out.setup.pieces()
    assert out.solved and any(p.end is not None for p in pieces)
    for before, piece in pairwise(pieces):
        if piece.end is not None:
            assert piece.own_end == before.own_end
            assert piece.settings[EXPOSURE] >= before.settings[EXPOSURE]


@pytest.mark.parametrize("words_only", [False, True])
def test_all_settle_beside_a_habit(words_only: bool) -> None:
    """Four shops, cold and another day: the tool and its rivals all come to an end."""
    ways = {"tool": Advised, **rivals(SLIDING.name, BASE, words_only)}
    for seed in range(4):
        plan = one_joint(seed, MACHINE, SLIDING.aspects, words_only, joint=SLIDING.name)
        for name, make in ways.items():
            person = Person(seed, words_only=words_only, rule=None if words_only else 0.03)
            outs = run(Truth(seed), person, Undeterred(make()), [plan])
            assert all(o.solved for o in outs), (seed, name)


def test_plans_of_a_year_are_clear_of_every_limit() -> None:
    plans = year(1, 40, joint=SLIDING.name)
    assert {p.in_play for p in plans} == {(FIT,)} and len({p.bit.name for p in plans}) == 4
    for plan in map(sliding, plans):
        joint = SlidingDovetail(plan)
        at = set_to(plan.socket_height, plan.socket_height, 4.0)
        good = joint.setting_for(FIT, joint.window(FIT).middle, at)
        limit = joint.limit(EXPOSURE, at)
        assert limit.low + 0.4 < good < limit.high - 0.4
        assert joint.limit("socket_height", at).low <= plan.socket_height
    assert math.isclose(simulated(SLIDING.name).START_BIAS, 0.07)
