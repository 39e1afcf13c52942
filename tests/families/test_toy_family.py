"""A family that fitlog has never heard of goes from its first settings to settled ones, and its
second set-up learns from the first.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from building import BIT, STARTED, STOCK
from toy_family.joint import EDGES, PEGS, WINDOWS, Pegs, PegsPlan, set_to
from toy_family.known import make_known

from fitlog.advice import advise
from fitlog.advice.history import History
from fitlog.advice.opening import first_from
from fitlog.domain import (
    Advice,
    AspectKind,
    Fault,
    Reading,
    Settings,
    SetUp,
    TrialCut,
    Verdict,
)
from fitlog.domain.setups import EVERY
from fitlog.errors import Refused

PLAN = PegsPlan(BIT, STOCK, STOCK, None, 150.0, 17.0, 17.0, spacing=30.0)
PRINTED = set_to(10.0, 17.0)
OFF = {"play": -0.31, "place": 0.42}  # the truth that the pegs hide, mm


@pytest.fixture(autouse=True)
def known(monkeypatch: pytest.MonkeyPatch) -> None:
    """The family, known for one test."""
    make_known(monkeypatch)


def misfit(aspect: str, settings: Settings) -> float:
    return Pegs(PLAN).nominal(aspect, settings, PLAN.boards()) + OFF[aspect]


def verdict(settings: Settings) -> Verdict:
    """What an honest person says of a piece."""
    words = [
        (a, PEGS.words(a)[sum(misfit(a, settings) > e for e in EDGES[a])]) for a in PEGS.aspects
    ]
    return Verdict(tuple(PEGS.said(a, word) for a, word in words))


def opened(number: int, past: History) -> SetUp:
    first = first_from(PLAN, PRINTED, past)
    return SetUp(number, PLAN, first, first, STARTED)


def worked(setup: SetUp, past: History) -> tuple[SetUp, list[Advice]]:
    """A set-up, cut and judged until it is settled, with each advice on the way."""
    told = [advise(setup, past)]
    while told[-1].status == "tuning":
        assert len(told) < 15
        at, piece = told[-1].settings, len(told)
        cut = TrialCut(piece, piece, at, verdict(at), stated=PEGS.names)
        setup = replace(setup, cuts=(*setup.cuts, cut))
        told.append(advise(setup, past))
    return setup, told


def test_from_the_first_settings_to_settled_ones() -> None:
    _, told = worked(opened(1, History()), History())
    assert told[0].pieces == 0 and told[0].moves is None
    assert tuple(told[0].settings) == PEGS.names
    assert all(0 < (told[0].chance_good[key] or 0) < 1 for key in (*PEGS.aspects, "all"))
    assert told[-1].status == "ready" and told[-1].settled == PEGS.aspects
    for aspect in PEGS.aspects:
        assert WINDOWS[aspect].holds(misfit(aspect, told[-1].settings))
        assert (told[-1].chance_real[aspect] or 0) > (told[0].chance_real[aspect] or 0)
    # Each move goes to the side that the word asks for.
    first, second = told[0].settings, told[1].settings
    assert verdict(first).of("play") == PEGS.said("play", "stuck")
    assert second["key_gap"] > first["key_gap"] and second["reach"] < first["reach"]
    assert told[1].moves == {
        name: pytest.approx(second[name] - first[name], abs=1e-6) for name in PEGS.names
    }


def test_a_second_set_up_learns_from_the_first() -> None:
    setup, told = worked(opened(1, History()), History())
    past = History([replace(setup, outcome="finished", ended=STARTED)])
    again, later = worked(opened(2, past), past)
    assert len(again.pieces()) < len(setup.pieces())
    for aspect in PEGS.aspects:
        before, now = misfit(aspect, told[0].settings), misfit(aspect, later[0].settings)
        assert abs(now) < abs(before) / 2


def test_only_one_aspect_in_play_leaves_the_other_setting_alone() -> None:
    plan = replace(PLAN, in_play=("place",))
    setup = replace(opened(1, History()), plan=plan)
    _, told = worked(setup, History())
    assert {a.settings["key_gap"] for a in told} == {told[0].settings["key_gap"]}
    assert told[-1].settled == ("place",) and told[-1].chance_real["play"] is None


def test_what_the_family_does_not_know_is_refused() -> None:
    with pytest.raises(Refused, match="'loose' is no word for the play"):
        PEGS.said("play", "loose")
    with pytest.raises(Refused, match="'fit' is no aspect of the invented pegs"):
        PEGS.said("fit", "good")
    for said, readings in (
        (Verdict(faults=(Fault("baseline"),)), ()),
        (Verdict(), (Reading("mouth", 9.0),)),
    ):
        with pytest.raises(Refused, match=r"'baseline' is no place|'mouth' is no kind"):
            TrialCut(1, 1, PRINTED, said, readings)
    with pytest.raises(Refused, match="the key gap must be a size above zero"):
        PRINTED.with_("key_gap", -1.0)
    with pytest.raises(Refused, match="nothing is left to tune"):
        replace(PLAN, in_play=("fit",))


def test_an_aspect_without_a_setting_is_judged_and_never_tuned() -> None:
    """Such as a corner that follows from the rest: its word is kept, its verdict moves nothing."""
    corner = AspectKind("corner", ("open", "closed"), "closed", None, 2)
    family = replace(PEGS, kinds=(*PEGS.kinds, corner))
    plan = replace(PLAN, family=family, in_play=EVERY)
    assert plan.in_play == ("play", "place") and family.aspects[-1] == "corner"
    with pytest.raises(Refused, match="nothing is left to tune"):
        replace(plan, in_play=("corner",))
    said = Verdict((family.said("corner", "open"), family.said("play", "slack")))
    assert str(said) == "slack, open"
    at = Settings(family, PRINTED.lengths)
    setup = SetUp(1, plan, at, at, STARTED, cuts=(TrialCut(1, 1, at, said),))
    found = advise(setup, History())
    assert found.status == "tuning" and "corner" not in found.window
    assert found.settings["key_gap"] < at["key_gap"]
