"""Settings that are tuned stage by stage, that freeze once later pieces depend on them, and that
move more than one aspect; by small invented families.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import settings as searched
from hypothesis import strategies as st
from plain_family.joint import PlainPlan, Table, honest, known, plan_of, setup_of, true_misfit

from fitlog.advice.decision import Decision, decide
from fitlog.advice.history import History
from fitlog.advice.notices import moved_all_the_same
from fitlog.advice.reasons import next_reasons
from fitlog.domain import AspectKind, Family, SettingKind, Settings, TrialCut, Verdict, Window
from fitlog.language.english import SENTENCES
from fitlog.language.english.actions import COMMANDS
from fitlog.language.saying import Catalogue
from fitlog.language.units import Ruler

STEADY = {"derandomize": True, "deadline": None, "database": None}
WORDS = ("very low", "low", "right", "high", "very high")
EDGES, GOOD = (-0.3, -0.1, 0.1, 0.3), Window(-0.1, 0.1)


def trays(scraps: str = "the rails") -> Family:
    """Two stages: rails by their depth, then tongues, whose hold hangs on the rail's depth too."""
    return Family(
        "invented trays",
        (
            SettingKind("rail_depth", "the rail depth", "lift", ("up", "down"), scraps=scraps),
            SettingKind("tongue", "the tongue", "stop", ("in", "out"), stage=1),
        ),
        (  # what is judged first is what is solved last
            AspectKind("hold", WORDS, "right", "tongue", 0, tried=True),
            AspectKind("depth", WORDS, "right", "rail_depth", 1, tried=True),
        ),
    )


TABLE = Table(
    slopes={"hold": {"tongue": 1.0, "rail_depth": -0.5}, "depth": {"rail_depth": 1.0}},
    level={"hold": -1.0, "depth": -8.0},
    edges=dict.fromkeys(("hold", "depth"), EDGES),
    windows=dict.fromkeys(("hold", "depth"), GOOD),
    sds=dict.fromkeys(("hold", "depth"), 0.3),
)
OFF = {"hold": 0.35, "depth": -0.45}

pytestmark = pytest.mark.usefixtures("registry")


def opened(family: Family, table: Table = TABLE) -> PlainPlan:
    known(family)
    return plan_of(family, table)


def decided(plan: PlainPlan, pieces: Sequence[tuple[Settings, Verdict]]) -> Decision:
    cuts = [TrialCut(n, n, at, said) for n, (at, said) in enumerate(pieces, 1)]
    return decide(setup_of(plan, pieces[0][0], cuts), History())


def at(plan: PlainPlan, *lengths: float) -> Settings:
    return Settings(plan.family, lengths)


def said(plan: PlainPlan, **words: str) -> Verdict:
    return Verdict(tuple(plan.family.said(aspect, word) for aspect, word in words.items()))


# --- stages ---------------------------------------------------------------------------------------


def test_a_later_stage_waits_until_the_one_before_it_is_settled() -> None:
    plan = opened(trays())
    first = at(plan, 8.0, 5.0)
    made = decided(plan, [(first, said(plan, depth="low"))])
    assert made.settings["rail_depth"] > 8.0 and made.settings["tongue"] == 5.0
    assert made.found.waiting == ["hold"] and made.asked == ("depth",) and not made.ready
    # The pieces of one stage come after those of the other, and the next one shows its stage.
    outlook = made.outlook
    assert outlook.pieces_left(made.unsettled) == pytest.approx(
        outlook.pieces_left(("depth",)) + outlook.pieces_left(("hold",))
    )
    both, now = (outlook.good(a)["all"] or 0.0 for a in (made.unsettled, made.asked))
    assert both < 0.7 * now
    told = {r.aspect: r for r in next_reasons(made, {"hold": None, "depth": None})}
    assert told["hold"].code == "waits" and told["depth"].code == "depth-aim"


def test_the_later_stage_takes_over_and_the_earlier_one_is_left() -> None:
    plan = opened(trays())
    first = at(plan, 8.0, 5.0)
    made = decided(plan, [(first, said(plan, depth="right"))])
    assert made.settled == ("depth",) and made.asked == ("hold",) and not made.found.waiting
    assert made.settings["rail_depth"] == 8.0
    assert made.settings["tongue"] == pytest.approx(5.0, abs=0.02)  # by figures: 5 - 4 - 1 = 0


def test_an_earlier_setting_is_frozen_once_a_later_stage_has_a_piece() -> None:
    plan = opened(trays())
    first = at(plan, 8.0, 5.0)
    pieces = [
        (first, said(plan, depth="right")),
        *[(first, said(plan, depth="low", hold="high"))] * 2,
    ]
    made = decided(plan, pieces)
    assert made.settings["rail_depth"] == 8.0 and made.settings["tongue"] < 5.0
    assert made.found.frozen.keys() == {"depth"} and made.found.frozen["depth"] > 8.02
    assert not made.ready and set(made.asked) == {"hold", "depth"}
    # Cutting on changes nothing of what is frozen: each later piece has the chance of the next.
    now = made.outlook.good(("depth",))["all"] or 0.0
    assert made.outlook.pieces_left(("depth",)) == pytest.approx(min(1 / now, 200), rel=0.02)
    none = {"hold": None, "depth": None}
    (told,) = [r for r in next_reasons(made, none) if r.aspect == "depth"]
    sentence = Catalogue(SENTENCES, {}).say(told, Ruler(), COMMANDS)
    assert told.code == "frozen" and "The rail depth stays" in sentence
    assert "the rails cut before such a move are scrap" in sentence
    # Who moves it all the same is told what it cost, and is then followed.
    moved = [*pieces, (at(plan, 8.4, 5.0), said(plan, depth="right", hold="high"))]
    made = decided(plan, moved)
    (told,) = moved_all_the_same(made.known.joint, made.pieces)
    assert told.code == "frozen-moved" and dict(told.values)["piece"] == 4
    assert made.settings["rail_depth"] == 8.4 and "depth" in made.settled
    assert not list(moved_all_the_same(made.known.joint, made.pieces[:3]))


def test_what_makes_no_scrap_moves_again() -> None:
    plan = opened(trays(scraps=""))
    first = at(plan, 8.0, 5.0)
    pieces = [(first, said(plan, depth="right")), (first, said(plan, depth="low", hold="high"))]
    made = decided(plan, pieces)
    assert made.settings["rail_depth"] > 8.0 and made.settings["tongue"] == 5.0
    assert not made.found.frozen and made.found.waiting == ["hold"]


def test_stages_end_ready_with_every_misfit_inside() -> None:
    plan = opened(trays())
    settings, pieces = at(plan, 8.0, 5.0), list[tuple[Settings, Verdict]]()
    for _ in range(12):
        done = bool(pieces) and "depth" in decided(plan, pieces).settled
        shown = ("hold", "depth") if done else ("depth",)
        pieces.append((settings, honest(plan, OFF, settings, shown)))
        made = decided(plan, pieces)
        settings = made.settings
        if made.ready:
            break
    assert made.ready
    for aspect in ("hold", "depth"):
        assert GOOD.holds(true_misfit(plan, OFF, aspect, settings))
    depths = [at["rail_depth"] for at, verdict in pieces if verdict.of("hold") is not None]
    assert len(set(depths)) == 1


def test_a_family_is_declared_in_the_order_of_its_stages() -> None:
    family = trays()
    assert family.tuned == ("depth", "hold") and family.stage_of("hold") == 1
    with pytest.raises(ValueError, match="order of their stages"):
        replace(family, settings=family.settings[::-1])
    hangs = replace(family.kinds[0], driver="nothing")
    with pytest.raises(ValueError, match="a driver is an aspect with a setting"):
        replace(family, kinds=(hangs, family.kinds[1]))


# --- a setting that moves several aspects ---------------------------------------------------------

KEYED = Family(
    "invented keys",
    (
        SettingKind("gap", "the gap", "key", ("wider", "narrower")),
        SettingKind("starter", "the starter", "spacer", ("wider", "narrower")),
        SettingKind("height", "the height", "lift", ("up", "down")),
    ),
    (
        AspectKind("fit", WORDS, "right", "gap", 0, tried=True),
        AspectKind("ends", WORDS, "right", "height", 1, tried=True),
        AspectKind("edges", WORDS, "right", "starter", 2, tried=True),
    ),
)
KEYED_TABLE = Table(
    slopes={"fit": {"gap": -1.0}, "ends": {"height": 1.0}, "edges": {"starter": 1.0, "gap": -0.5}},
    level={"fit": 9.6, "ends": -12.0, "edges": -4.75},
    edges=dict.fromkeys(KEYED.aspects, EDGES),
    windows=dict.fromkeys(KEYED.aspects, GOOD),
    sds=dict.fromkeys(KEYED.aspects, 0.3),
)


@pytest.mark.parametrize(("word", "kept"), [("low", True), ("very low", False)])
def test_a_settled_aspect_stays_while_its_predicted_misfit_is_inside(word: str, kept: bool) -> None:
    """Half of what the gap moves comes into the edges: a small move leaves them settled."""
    plan = opened(KEYED)
    plan = replace(plan, table=KEYED_TABLE)
    first = at(plan, 9.6, 9.55, 12.0)
    made = decided(plan, [(first, said(plan, fit=word, ends="right", edges="right"))])
    moved = made.settings["gap"] - 9.6
    assert moved < -0.1 and ("edges" in made.settled) == kept
    # What the gap does not touch stays whatever it does.
    assert "ends" in made.settled and made.settings["height"] == 12.0
    if kept:
        assert made.settings["starter"] == 9.55
    else:  # the starter follows by half of what the gap moved, given the new gap
        predicted = true_misfit(plan, dict.fromkeys(KEYED.aspects, 0.0), "edges", made.settings)
        assert made.settings["starter"] - 9.55 == pytest.approx(moved / 2, abs=0.05)
        assert abs(predicted) < 0.06


@searched(max_examples=25, **STEADY)
@given(
    st.tuples(*[st.integers(-50, 50).map(lambda n: n / 100)] * 3),
    st.tuples(*[st.sampled_from([-2.0, -0.5, 0.0, 0.5, 1.0])] * 3),
    st.tuples(*[st.sampled_from([-2.0, -1.0, 1.0, 2.0])] * 3),
)
def test_any_triangle_of_slopes_is_solved(
    off: tuple[float, float, float],
    other: tuple[float, float, float],
    own: tuple[float, float, float],
) -> None:
    """An honest person ends ready with every misfit inside, whatever hangs on what before it."""
    known(KEYED)
    slopes = {
        "fit": {"gap": own[0]},
        "edges": {"starter": own[1], "gap": other[0]},
        "ends": {"height": own[2], "starter": other[1], "gap": other[2]},
    }
    start = {"gap": 9.6, "starter": 9.55, "height": 12.0}
    level = {a: -sum(by * start[name] for name, by in s.items()) for a, s in slopes.items()}
    plan = plan_of(KEYED, replace(KEYED_TABLE, slopes=slopes, level=level))
    offsets = dict(zip(KEYED.aspects, off, strict=True))
    settings, pieces = Settings.named(KEYED, start), list[tuple[Settings, Verdict]]()
    for _ in range(15):
        pieces.append((settings, honest(plan, offsets, settings)))
        made = decided(plan, pieces)
        settings = made.settings
        if made.ready:
            break
    assert made.ready, pieces
    for aspect in KEYED.aspects:
        assert abs(true_misfit(plan, offsets, aspect, settings)) < 0.13
