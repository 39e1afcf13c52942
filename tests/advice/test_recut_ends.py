"""Cuts again on the same end, by an invented lap: raising the bit takes more off, lowering it takes
a fresh end.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest
from plain_family.joint import (
    PIECE_SD,
    SLIP,
    WORD_NOISE,
    PlainPlan,
    Table,
    known,
    plan_of,
    setup_of,
    true_misfit,
)
from scipy.stats import norm

from fitlog import defaults
from fitlog.advice.chances import Outlook
from fitlog.advice.decision import Decision, decide
from fitlog.advice.ends import aimed
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
    merge,
)
from fitlog.language.english import SENTENCES
from fitlog.language.english.actions import COMMANDS
from fitlog.language.saying import Catalogue
from fitlog.language.units import Ruler

WORDS = ("very low", "low", "right", "high", "very high")


def laps(free: str = "+") -> Family:
    return Family(
        "invented laps",
        (SettingKind("height", "the height", "lift", ("up", "down"), free=free),),
        (AspectKind("web", WORDS, "right", "height", 0, tried=True),),
    )


TABLE = Table(
    {"web": {"height": 2.0}},
    {"web": -20.0},
    {"web": (-0.3, 0.0, 0.08, 0.25)},
    {"web": Window(0.0, 0.08)},
    {"web": 0.15},
    end_sds={"web": 0.04},
)

pytestmark = pytest.mark.usefixtures("registry")


def opened(free: str = "+", table: Table = TABLE) -> PlainPlan:
    family = laps(free)
    known(family)
    return plan_of(family, table)


def cut(plan: PlainPlan, number: int, height: float, off: float, end: int | None) -> TrialCut:
    """A cut that an honest person judges in words."""
    at = Settings(plan.family, (height,))
    misfit = true_misfit(plan, {"web": off}, "web", at)
    word = WORDS[sum(misfit > edge for edge in TABLE.edges["web"])]
    return TrialCut(number, number, at, Verdict((plan.family.said("web", word),)), end=end)


def decided(plan: PlainPlan, *cuts: TrialCut) -> Decision:
    return decide(setup_of(plan, cuts[0].settings, cuts), History())


def told(made: Decision) -> list[str]:
    found = next_reasons(made, {"web": None})
    ends = [r for r in found if r.code in ("same-end", "fresh-end")]
    return [Catalogue(SENTENCES, {}).say(r, Ruler(), COMMANDS) for r in ends]


def test_an_end_that_fell_short_is_cut_again_and_one_cut_too_far_is_not() -> None:
    plan = opened()
    short = decided(plan, cut(plan, 1, 10.0, -0.2, None))
    assert short.found.end == 1 and short.settings["height"] > 10.0
    again = "Cut the end of piece 1 again: it only takes wood off (log it with `--same-end`)."
    assert told(short) == [again]
    over = decided(plan, cut(plan, 1, 10.0, 0.2, None))
    assert over.found.end is None and over.settings["height"] < 10.0
    assert told(over)[0].startswith("Cut a fresh end")
    # A setting that goes on neither way, or both, has no end to come up to from one side.
    assert told(decided(opened(""), cut(opened(""), 1, 10.0, -0.2, None))) == []
    both = opened("both")
    for off in (-0.2, 0.2):
        made = decided(both, cut(both, 1, 10.0, off, None))
        assert made.found.end == 1


def test_the_free_side_may_be_the_other_one() -> None:
    plan = opened("-")
    assert decided(plan, cut(plan, 1, 10.0, 0.2, None)).found.end == 1
    assert decided(plan, cut(plan, 1, 10.0, -0.2, None)).found.end is None


def test_the_next_cut_keeps_to_the_free_side_of_the_middle() -> None:
    """The free setting is aimed lower than one that a miss on either side costs as much."""
    one_way, either = opened("+"), opened("")
    near, middle = (
        decided(plan, cut(plan, 1, 10.0, -0.35, None)).settings["height"]
        for plan in (one_way, either)
    )
    assert 10.0 < near < middle - 0.015
    # With a reading at hand it goes further in, towards the middle.
    said = Verdict((one_way.family.said("web", "low", 0.2),))
    at = Settings(one_way.family, (10.0,))
    read = decided(one_way, TrialCut(1, 1, at, said))
    assert 2 * (read.settings["height"] - 10.0) - 0.2 == pytest.approx(0.04, abs=0.025)


def test_a_side_on_which_nothing_is_measured_is_not_taken_for_read() -> None:
    """A cut that falls well short pays where it shows a number. Where it shows none a first one is
    aimed about as by words alone, a little further in, since one beyond shows some.
    """
    first = list[float]()
    for unread, words_only in (((), False), (("very low", "low"), False), ((), True)):
        plan = replace(opened("+"), words_only=words_only)
        kind = replace(plan.family.kinds[0], unread=unread)
        family = replace(plan.family, kinds=(kind,))
        known(family)
        at = Settings(family, (10.0,))
        made = decide(setup_of(replace(plan, family=family), at), History())
        first.append(aimed(made.known, "web", at, None).misfit)
    assert first[0] < first[2] - 0.2 and first[2] < first[1] < first[2] + 0.06


def test_an_aspect_that_is_told_on_one_side_alone_is_not_come_up_to() -> None:
    """Behind its settling word a void may be: the middle is aimed at, as where nothing is free."""
    shut = AspectKind("web", ("shut", "open", "wide"), "shut", "height", 0)
    table = replace(TABLE, edges={"web": (0.08, 0.25)})
    heights = []
    for free in ("+", ""):
        family = replace(laps(free), kinds=(shut,))
        known(family)
        at = Settings(family, (10.0,))
        said = Verdict((family.said("web", "open", 0.2),))
        made = decided(plan_of(family, table), TrialCut(1, 1, at, said))
        heights.append(made.settings["height"])
    assert heights[0] == heights[1] < 10.0


def test_ends_are_named_for_their_first_piece() -> None:
    plan = opened()
    cuts = [
        cut(plan, n, 10.0 + n / 50, -0.2, end) for n, end in ((1, None), (2, 1), (3, 2), (4, None))
    ]
    assert [piece.own_end for piece in merge(cuts)] == [1, 1, 1, 4]
    made = decided(plan, *cuts)
    assert [e.end for e in made.known.joint.evidence("web", made.pieces)] == [1, 1, 1, 4]


@pytest.mark.parametrize("seed", range(6))
def test_nibbling_ends_good_on_few_ends(seed: int) -> None:
    """Against the same rule on fresh ends alone: fewer ends, whatever the ends' own sizes."""
    ends: dict[str, int] = {}
    for free in ("+", ""):
        r, plan = random.Random(seed), opened(free)
        zero, height, cuts = r.gauss(0, 0.15), 9.9, list[TrialCut]()
        own = [r.gauss(0, 0.04) for _ in range(30)]
        end, used = None, 0
        for number in range(1, 25):
            used += end is None
            cuts.append(cut(plan, number, height, zero + own[used], end))
            made = decided(plan, *cuts)
            height, end = made.settings["height"], made.found.end
            if made.ready:
                break
        assert made.ready
        ends[free] = used
    assert ends["+"] <= ends[""] and ends["+"] <= 2


def test_a_family_says_free_in_one_of_four_ways() -> None:
    with pytest.raises(ValueError, match=r"free to go \+, -, both ways or none"):
        laps("up")
    kind = laps("+").settings[0]
    assert kind.goes_on(0.1) and not kind.goes_on(-0.1)
    assert replace(kind, free="both").goes_on(-0.1) and not replace(kind, free="").goes_on(0.1)


def test_the_chances_of_the_next_cut_are_those_of_its_end() -> None:
    """By sums over the offset and the end's part, from the model's statement: the words on the end
    speak of what the next cut on it will be.
    """
    plan = opened()
    made = decided(plan, cut(plan, 1, 9.8, -0.05, None), cut(plan, 2, 9.97, -0.05, 1))
    assert made.found.end == 1
    x, part = np.linspace(-1.2, 1.2, 1201), 0.04 * np.linspace(-6, 6, 121)
    times = math.exp(defaults.SCALE_DOUBT * math.sqrt(3))
    sds = ((1 / 6, 0.15 / times), (2 / 3, 0.15), (1 / 6, 0.15 * times))
    prior = sum((chance * norm.pdf(x, 0, sd) for chance, sd in sds), np.zeros_like(x))
    weight = prior[:, None] * norm.pdf(part, 0, 0.04)[None, :]
    off = x[:, None] + part[None, :]
    for piece in made.pieces:
        said = piece.verdict.of("web")
        assert said is not None
        low, high = ((-math.inf, -0.3), (-0.3, 0.0))[said.index]
        at, noise = 2 * piece.settings["height"] - 20 + off, math.hypot(WORD_NOISE, PIECE_SD)
        like = norm.cdf(high, at, noise) - norm.cdf(low, at, noise)
        weight = weight * ((1 - SLIP) * like + SLIP / 5)
    weight = weight / weight.sum()
    at = 2 * made.settings["height"] - 20 + off
    noise = math.hypot(max(WORD_NOISE, 0.0), PIECE_SD)
    inside = float((weight * (norm.cdf(0.08, at, noise) - norm.cdf(0.0, at, noise))).sum())
    expected = (1 - defaults.SLIP) * inside + defaults.SLIP / 5
    assert made.outlook.good(("web",))["web"] == pytest.approx(expected, abs=5e-4)
    fresh = Outlook(made.known, made.settings).good(("web",))["web"] or 0.0
    assert abs(fresh - expected) > 0.02
