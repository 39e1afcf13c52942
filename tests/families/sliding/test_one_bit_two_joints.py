"""The same bit in half-blind and in sliding dovetails: what one set-up finds out of its diameter
and angle, the other joint starts with.
Outside check: the joint normal of the causes written down by hand (first-order propagation, GUM,
JCGM 100:2008, 5.1.2) and conditioned with numpy.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from building import STARTED, make_plan
from slides import AT, BIT, said, slide

from fitlog.advice.history import History
from fitlog.advice.knowledge import know
from fitlog.domain import Machine, Plan, Reading, Settings, SetUp, TrialCut, Verdict
from fitlog.families import joint_of
from fitlog.families.half_blind import names as half_blind
from fitlog.families.sliding.craft import first_settings
from fitlog.families.sliding.names import FIT

# Woods, machine and day of the two have nothing in common: what carries over is the bit's alone.
HALF = make_plan(bit=BIT, machine=Machine("invented corner"), pitch=21.0)
HALF_AT = half_blind.set_to(8.7, 75.0, 11.0)
SLIDING = slide()


def finished(plan: Plan, at: Settings, verdict: Verdict, *readings: Reading) -> SetUp:
    """A set-up that ended with one good piece."""
    cuts = (TrialCut(1, 1, at, verdict, readings),)
    return SetUp(1, plan, at, at, STARTED, cuts=cuts, outcome="finished", ended=STARTED)


def known(plan: Plan, at: Settings, *past: SetUp) -> tuple[float, float]:
    """Mean and sd of the fit's offset before the first piece."""
    law = know(plan, (), History(past), at).cold["fit"]
    return law.mean, law.sd


def test_a_half_blind_set_up_tells_the_sliding_one_of_its_bit() -> None:
    """A good joint and rods in its slot tell how the bit cuts. Seen where the exposure's zero, by a
    trial shaving, does not hide it.
    """
    plan = slide(exposure_by="shaving")
    good = half_blind.judged(half_blind.say("fit", "good", 0.14))
    past = finished(HALF, HALF_AT, good, Reading("between_rods", 5.86, rod=3.0))
    cold, told = known(plan, AT), known(plan, AT, past)
    assert told[1] < 0.92 * cold[1]
    # By the exposure that is measured by a depth rod the zero hides nearly all of it.
    rod_cold, rod_told = known(SLIDING, AT), known(SLIDING, AT, past)
    assert rod_told[1] < rod_cold[1] and rod_cold[1] > 2 * cold[1]


def test_a_sliding_set_up_tells_the_half_blind_one_of_its_bit() -> None:
    past = finished(SLIDING, AT, said("good", "closed"), Reading("between_rods", 3.53, rod=4.0))
    cold, told = known(HALF, HALF_AT), known(HALF, HALF_AT, past)
    assert told[1] < 0.85 * cold[1]
    # Another bit teaches nothing.
    strange = replace(SLIDING, bit=replace(BIT, name="another"))
    assert known(HALF, HALF_AT, replace(past, plan=strange)) == pytest.approx(cold)


def conditioned(plan: Plan, at: Settings, other: Plan, there: Settings) -> tuple[float, float]:
    """The sd of a fit's offset, cold and given the exact sum of the other's causes, by hand: a
    normal law of all causes, conditioned on one linear reading with no noise.
    """
    mine, theirs = joint_of(plan).terms(FIT, at), joint_of(other).terms(FIT, there)
    keys = list(
        dict.fromkeys((t.key, t.own and i) for i, ts in ((1, mine), (2, theirs)) for t in ts)
    )
    sds = {(t.key, t.own and i): t.sd for i, ts in ((1, mine), (2, theirs)) for t in ts}
    cov = np.diag([sds[k] ** 2 for k in keys])
    a, b = (
        np.array([sum(t.factor for t in ts if (t.key, t.own and i) == k) for k in keys])
        for i, ts in ((1, mine), (2, theirs))
    )
    cold = math.sqrt(a @ cov @ a)
    told = math.sqrt(a @ cov @ a - (a @ cov @ b) ** 2 / (b @ cov @ b))
    return cold, told


@pytest.mark.parametrize("way", ["half-blind to sliding", "sliding to half-blind"])
def test_no_more_is_taken_over_than_the_shared_causes_allow(way: str) -> None:
    """A set-up that ended with a clearance known to 0.05 mm teaches nearly what one known exactly
    would, and never more.
    """
    plan, at, other, there = SLIDING, AT, HALF, HALF_AT
    good = half_blind.judged(half_blind.say("fit", "good", 0.14))
    if way != "half-blind to sliding":
        plan, at, other, there = HALF, HALF_AT, SLIDING, AT
        good = said("good", "closed")
    cold, least = conditioned(plan, at, other, there)
    found_cold, found = known(plan, at), known(plan, at, finished(other, there, good))
    assert found_cold[1] == pytest.approx(cold, rel=1e-6)
    assert least - 1e-9 <= found[1] < cold
    assert cold - found[1] > 0.6 * (cold - least)


def test_the_next_sliding_set_up_begins_where_the_last_ended() -> None:
    """The same bit, shelf and way of measuring: what was 0.22 is a tenth of a millimetre."""
    at = AT.with_("exposure", AT["exposure"] + 0.1)
    past = finished(SLIDING, at, said("good", "closed"))
    cold, told = known(SLIDING, AT), known(SLIDING, AT, past)
    assert told[1] < 0.5 * cold[1]
    assert told[0] == pytest.approx(-0.2, abs=0.05)  # it wanted 0.1 more on each face


def test_a_first_tongue_is_thick_and_less_so_once_a_tongue_was_good() -> None:
    """What a half-blind set-up tells of the bit leaves the exposure's zero as it was."""
    good = half_blind.judged(half_blind.say("fit", "good", 0.14))
    half, slid = finished(HALF, HALF_AT, good), finished(SLIDING, AT, said("good", "closed"))
    aimed = []
    for past in ((), (half,), (slid,)):
        first = first_settings(SLIDING, History(past))
        joint = joint_of(SLIDING)
        mean, _ = known(SLIDING, AT, *past)
        aimed.append(joint.nominal(FIT, first, SLIDING.figures()) + mean)
    low = joint_of(SLIDING).window(FIT).low
    assert aimed[0] < low - 0.02 and aimed[0] == pytest.approx(aimed[1], abs=0.03)
    assert aimed[0] + 0.02 < aimed[2] < low + 0.03
