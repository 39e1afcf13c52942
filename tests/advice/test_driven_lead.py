"""A first aspect that hangs on one judged after it: an invented slide whose fit is felt through a
shoulder that stands off.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from plain_family.joint import Plain, PlainPlan, Table, known, plan_of, setup_of

from fitlog.advice.decision import Decision, decide
from fitlog.advice.history import History
from fitlog.advice.laws import law_of, nominal_of
from fitlog.domain import AspectKind, Family, SettingKind, Settings, TrialCut, Verdict, Window
from fitlog.estimator.observed import PiecewiseLinear

WORDS = ("very low", "low", "right", "high", "very high")
SLIDE = Family(
    "invented slides",
    (
        SettingKind("tongue", "the tongue", "lift", ("longer", "shorter")),
        SettingKind("exposure", "the exposure", "fence", ("more", "less")),
    ),
    (
        AspectKind("hold", WORDS, "right", "exposure", 0, tried=True, driver="shoulder"),
        AspectKind("shoulder", WORDS, "right", "tongue", 1, unread=("right",)),
    ),
)
FELT = PiecewiseLinear.beyond(0.5)
TABLE = Table(
    {"hold": {"exposure": 2.0}, "shoulder": {"tongue": 1.0}},
    {"hold": -10.0, "shoulder": -8.0},
    {"hold": (-0.2, -0.05, 0.05, 0.2), "shoulder": (-0.3, -0.1, 0.1, 0.3)},
    {"hold": Window(-0.05, 0.05), "shoulder": Window(-0.1, 0.1)},
    {"hold": 0.2, "shoulder": 0.3},
    observed=FELT,
)


@pytest.fixture(autouse=True)
def known_here(registry: None) -> None:
    known(SLIDE)


def misfits(plan: PlainPlan, off: dict[str, float], at: Settings) -> dict[str, float]:
    """True misfits; the hold as it is felt."""
    joint, figures = Plain(plan), plan.figures()
    shoulder = joint.nominal("shoulder", at, figures) + off["shoulder"]
    hold = joint.nominal("hold", at, figures) + off["hold"] - 0.5 * max(0.0, shoulder)
    return {"hold": hold, "shoulder": shoulder}


def judged(plan: PlainPlan, off: dict[str, float], at: Settings) -> Verdict:
    said = []
    for aspect, misfit in misfits(plan, off, at).items():
        word = WORDS[sum(misfit > edge for edge in plan.table.edges[aspect])]
        said.append(SLIDE.said(aspect, word, round(abs(misfit), 3) if word != "right" else None))
    return Verdict(tuple(said))


def decided(plan: PlainPlan, cuts: list[TrialCut]) -> Decision:
    return decide(setup_of(plan, cuts[0].settings, cuts), History())


def test_the_driver_is_solved_first_whatever_is_judged_first() -> None:
    assert SLIDE.lead == "hold" and SLIDE.tuned == ("shoulder", "hold")
    # Where the driver's own setting comes later, the driver still goes first.
    late = replace(SLIDE, settings=SLIDE.settings[::-1])
    assert late.tuned == ("shoulder", "hold")


def test_a_hold_that_is_tight_for_its_shoulder_is_not_opened_for_it() -> None:
    """Shoulder 0.4 off: it takes 0.2 of the hold, which the shorter tongue will give back."""
    at = Settings(SLIDE, (8.0, 5.0))
    said = (SLIDE.said("hold", "low", 0.2), SLIDE.said("shoulder", "very high", 0.4))
    cut = TrialCut(1, 1, at, Verdict(said))
    felt = decided(plan_of(SLIDE, TABLE), [cut])
    alone = decided(plan_of(SLIDE, replace(TABLE, observed=PiecewiseLinear.straight(0.0))), [cut])
    assert felt.known.law("hold").mean == pytest.approx(0.0, abs=0.02)
    assert alone.known.law("hold").mean == pytest.approx(-0.2, abs=0.03)
    assert alone.settings["exposure"] > 5.07 and felt.settings["exposure"] == pytest.approx(
        5.0, abs=0.02
    )
    assert felt.settings["tongue"] == pytest.approx(7.6, abs=0.05)
    # What a piece there is expected to show, with the shoulder as it then is.
    law = law_of(felt.known, "hold", at)
    assert nominal_of(felt.known, "hold", at) + law.mean == pytest.approx(-0.2, abs=0.02)


@pytest.mark.parametrize("off", [(0.2, 0.3), (-0.25, 0.5), (0.1, -0.4), (-0.3, 0.25), (0.3, 0.6)])
def test_slides_end_ready_with_both_inside(off: tuple[float, float]) -> None:
    plan, at, cuts = plan_of(SLIDE, TABLE), Settings(SLIDE, (8.0, 5.0)), list[TrialCut]()
    truth = dict(zip(("hold", "shoulder"), off, strict=True))
    for number in range(1, 9):
        cuts.append(TrialCut(number, number, at, judged(plan, truth, at)))
        made = decided(plan, cuts)
        at = made.settings
        if made.ready:
            break
    assert made.ready and len(cuts) <= 5
    for aspect, misfit in misfits(plan, truth, at).items():
        assert abs(misfit) < TABLE.windows[aspect].half + 0.03
    chance = made.chance_real
    assert np.prod([chance[a] or 0 for a in SLIDE.aspects]) > 0.5
