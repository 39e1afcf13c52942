"""Whatever is said of box joints: a fit never moves against the word just said, settings stay
within their limits, chances are chances. Invariants of the tool itself, no outside source.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from building import STARTED

from fitlog.advice import advise
from fitlog.advice.craft import craft_of
from fitlog.advice.history import History
from fitlog.domain import Machine, Part, SetUp, TrialCut, Verdict
from fitlog.families import joint_of
from fitlog.families.names import family_of
from fitlog.simulation import one_joint

MACHINES = (
    Machine("invented table"),
    Machine("coarse table", {"key": Part(step=0.08), "pass": Part(step=0.05)}),
)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("joint", ["box", "box-steps"])
def test_no_word_is_gone_against(joint: str, seed: int) -> None:
    """Three pieces of random words each; the seeds are fixed, so that nothing is left to chance."""
    family, r = family_of(joint), random.Random(seed)
    plan = one_joint(seed, MACHINES[seed % 2], family.aspects, joint=joint)
    first, lead = craft_of(plan).first_settings(plan, History()), family.setting_of["fit"]
    setup, made = SetUp(1, plan, first, first, STARTED), joint_of(plan)
    for number in (1, 2, 3):
        verdict = Verdict(tuple(family.said(k.name, r.choice(k.words)) for k in family.kinds))
        setup = replace(setup, cuts=(*setup.cuts, TrialCut(number, number, setup.shown, verdict)))
        advice, last = advise(setup, History()), setup.shown
        now, said = advice.settings, verdict.of("fit")
        assert said is not None
        assert said.side * made.slope("fit", now) * (now[lead] - last[lead]) <= 1e-9
        if said.settles:
            assert now[lead] == last[lead]
        for name in family.names:
            limit = made.limit(name, now)
            assert limit.low - 1e-6 <= now[name] <= limit.high + 1e-6, name
        told = [c for c in (*advice.chance_good.values(), *advice.chance_real.values()) if c]
        assert all(0 <= chance <= 1 for chance in told)
        setup = replace(setup, shown=now)
