"""A setting that is made of blocks and papers: the advice shows only what can be stacked, and of
what.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import settings as searched
from hypothesis import strategies as st
from plain_family.joint import Table, honest, known, plan_of, setup_of, true_misfit

from fitlog.advice.decision import Decision, decide
from fitlog.advice.history import History
from fitlog.advice.reasons import next_reasons
from fitlog.domain import (
    AspectKind,
    Family,
    SettingKind,
    Settings,
    TrialCut,
    Verdict,
    Window,
    pack_of,
    set_adjuster,
)
from fitlog.language.english import SENTENCES
from fitlog.language.english.actions import COMMANDS
from fitlog.language.saying import Catalogue
from fitlog.language.units import Ruler

STEADY = {"derandomize": True, "deadline": None, "database": None}
WORDS = ("very low", "low", "right", "high", "very high")
SPACED = Family(
    "invented spacers",
    (SettingKind("spacer", "the spacer", "spacer", ("wider", "narrower"), positive=True),),
    (AspectKind("place", WORDS, "right", "spacer", 0, tried=True),),
)
FINE = set_adjuster(pack_of("block 6, paper 0.1 x4, tape 0.13 x2, shim 0.5", float), positive=True)
COARSE = set_adjuster(pack_of("one of block 6, thick block 7", float), positive=True)

pytestmark = pytest.mark.usefixtures("registry")


def table(coarse: bool) -> Table:
    return Table(
        {"place": {"spacer": 1.0}},
        {"place": -6.2},
        {"place": (-0.3, -0.1, 0.1, 0.3)},
        {"place": Window(-0.1, 0.1)},
        {"place": 0.3},
        adjusters={"spacer": COARSE if coarse else FINE},
    )


def decided(coarse: bool, off: float, first: float, count: int) -> list[Decision]:
    known(SPACED)
    plan, at, made = plan_of(SPACED, table(coarse)), Settings(SPACED, (first,)), list[Decision]()
    cuts: list[TrialCut] = []
    for number in range(1, count + 1):
        cuts.append(TrialCut(number, number, at, honest(plan, {"place": off}, at)))
        made.append(decide(setup_of(plan, at, cuts), History()))
        at = made[-1].settings
        if made[-1].ready:
            break
    return made


@searched(max_examples=30, **STEADY)
@given(st.integers(-40, 40).map(lambda n: n / 100))
def test_the_advice_shows_only_what_can_be_stacked(off: float) -> None:
    made = decided(False, off, 6.2, 10)
    values = [value for value, _ in FINE.stacks]
    assert all(min(abs(d.settings["spacer"] - v) for v in values) < 1e-6 for d in made)
    if -0.4 < off < 0.2:  # what the pack can make good
        assert made[-1].ready
        known(SPACED)
        plan = plan_of(SPACED, table(False))
        assert abs(true_misfit(plan, {"place": off}, "place", made[-1].settings)) < 0.13


def test_the_stack_is_said() -> None:
    (made,) = decided(False, 0.2, 6.2, 1)
    told = next_reasons(made, {"place": None})
    (stack,) = [r for r in told if r.code == "stack"]
    assert made.settings["spacer"] == 6.0 and dict(stack.values)["names"] == ("block",)
    (made,) = decided(False, -0.4, 6.2, 1)
    said = [
        Catalogue(SENTENCES, {}).say(r, Ruler(), COMMANDS)
        for r in next_reasons(made, {"place": None})
        if r.code == "stack"
    ]
    assert made.settings["spacer"] > 6.5 and said[0].startswith("The spacer: stack block, ")


def test_a_set_that_ends_short_of_what_is_wanted_gives_its_last_value() -> None:
    """Two blocks a millimetre apart: none is good, and the wanted one is said beside it."""
    made = decided(True, -0.5, 6.0, 3)
    assert {d.settings["spacer"] for d in made} == {7.0}
    assert made[-1].found.wanted["place"] == pytest.approx(6.7, abs=0.15)
    assert not any(d.ready for d in made)


def test_a_set_with_nothing_inside_the_word_stays_where_it_is() -> None:
    """Low at the widest block there is: no narrower one goes against the word."""
    known(SPACED)
    plan, at = plan_of(SPACED, table(True)), Settings(SPACED, (7.0,))
    said = Verdict((SPACED.said("place", "very low"),))
    made = decide(setup_of(plan, at, [TrialCut(1, 1, at, said)]), History())
    assert made.settings["spacer"] == 7.0 and made.found.wanted["place"] > 7.2
