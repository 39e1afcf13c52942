"""A family that fitlog has never heard of goes from its first settings to settled ones, and its
second set-up learns from the first.
"""

from __future__ import annotations

import inspect
import re
from dataclasses import replace

import pytest
from building import BIT, STARTED, STOCK
from tables import table
from toy_family.joint import EDGES, PEGS, WINDOWS, Pegs, PegsPlan, set_to
from toy_family.known import make_known

from fitlog import document
from fitlog.advice import advise
from fitlog.advice.became import of_earlier
from fitlog.advice.craft import craft_of
from fitlog.advice.history import History
from fitlog.advice.opening import first_from
from fitlog.domain import (
    Advice,
    AspectKind,
    Fault,
    Note,
    Reading,
    Settings,
    SetUp,
    TrialCut,
    Verdict,
)
from fitlog.domain.setups import EVERY
from fitlog.errors import Refused
from fitlog.families import telling
from fitlog.families.outcomes import became_of
from fitlog.families.telling import GENERAL, say
from fitlog.language.units import Ruler

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
    first = craft_of(PLAN).first_settings(PLAN, past)
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


def test_all_that_is_said_of_it_has_a_sentence_in_its_own_names() -> None:
    """No sentence of its own is there: the general ones speak of its settings and misfits."""
    machine = table("invented table", backlash=0.2)
    plan = replace(PLAN, machine=machine, piece_thickness=16.0)
    first = first_from(plan, PRINTED, History())
    far = first.with_("key_gap", first["key_gap"] + 1.0)
    verdicts = (
        (first, [("play", "stuck"), ("place", "long")]),
        (far, [("play", "stuck"), ("place", "short")]),
        (far, [("play", "falling out"), ("place", "long")]),
    )
    cuts = tuple(
        TrialCut(n, n, at, Verdict(tuple(PEGS.said(a, w) for a, w in said)), stated=PEGS.names)
        for n, (at, said) in enumerate(verdicts, 1)
    )
    setup = SetUp(1, plan, first, first, STARTED)
    split = TrialCut(4, 4, far, Verdict(faults=(Fault("split", 0.3), Fault("unplaced"))))
    own = replace(split, verdict=Verdict(), sizes={"thickness": 15.0})
    told: dict[str, str] = {}
    for n, last in ((0, ()), (1, ()), (2, ()), (3, ()), (3, (split,)), (3, (own,))):
        found = advise(replace(setup, cuts=(*cuts[:n], *last)), History())
        whole = (*found.reasons, *found.notices, *found.cautions, *found.approach.values())
        told |= {remark.code: say(remark, Ruler()) for remark in whole}
    settled, _ = worked(setup, History())
    found = advise(settled, History())
    told |= {remark.code: say(remark, Ruler()) for remark in (*found.reasons, *found.notices)}
    print(told)
    assert told["play-aim"].startswith("Play: ") and "the play at that setting" in told["play-aim"]
    assert "a reach of" in told["real-board"] and "a reach of" in told["other-size"]
    assert told["play-held"] == "Play: the key gap stays as it is until the gap is cured."
    assert "at the split" in told["gap-split"] and "go-below" in told and "come-up" in told
    assert {"gap-where", "piece-unjudged", "play-settled", "place-settled", "unplug"} <= set(told)
    joined = " ".join(told.values())
    assert not [w for w in ("bit height", "rabbet", "tails", "socket") if w in joined]


def named_in(code: str) -> set[str]:
    """What a general sentence asks for what it is called."""
    source = inspect.getsource(GENERAL.sentences[code])
    return set(re.findall(r"t\.name\(['\"]([a-z ]+)['\"]\)", source))


@pytest.mark.parametrize("code", [code for code in GENERAL.sentences if named_in(code)])
def test_a_general_sentence_knows_what_every_aspect_is_called(code: str) -> None:
    known = telling.catalogue(PEGS.name).names
    assert {f"{aspect} {name}" for aspect in PEGS.aspects for name in named_in(code)} <= set(known)


def test_what_became_of_it_is_kept_where_there_is_one_window() -> None:
    """Its words are its own, and `start` has no option for another aim: nothing is offered."""
    assert craft_of(PLAN).other_aim(PLAN) is None
    done = replace(worked(opened(1, History()), History())[0], outcome="finished")
    for said, heard in (("sliding with glue", "good"), ("slack with glue", None)):
        past = replace(done, notes=(Note("outcome", said, 9),))
        became = became_of(past)
        assert (became and became.direction) == heard
        assert list(of_earlier(PLAN, History([past]), "wren")) == []


def test_the_document_tells_what_the_family_declares() -> None:
    setup = opened(1, History())
    found = document.advice_document(setup, advise(setup, History()), Ruler())
    assert found["fixed"] == {"spacing": 30.0} and found["joint"] == PEGS.name
    assert set(found["settings"]) == set(found["real"]) == set(PEGS.names)
    assert set(found["window"]) == set(found["misfit"]) == set(PEGS.aspects)
    assert found["centre_by"] == "" and document.zeros(PEGS, None) == dict.fromkeys(PEGS.names, 0.0)
    words = document.said(PEGS, Verdict((PEGS.said("play", "slack", 0.25),), (Fault("split"),)))
    assert words == {"play": "slack 0.25", "place": None, "faults": ["gap split"]}


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
