"""The dialogue without a terminal: where it stands, what a key means there, what an unjudged piece
does.

No outside source: these are promises of the dialogue itself. An advice on an unjudged piece is
checked against the same advice without it.
"""

from __future__ import annotations

import string
from dataclasses import replace

import pytest
from benchwork import ALL, FIRST, STEADY, at_the_bench
from building import in_words, make_cut, make_plan, make_setup
from hypothesis import given, settings
from hypothesis import strategies as st
from shop import Shop, by_code

from fitlog.advice import advise
from fitlog.advice.history import History
from fitlog.domain import Aspect, Reading, Verdict
from fitlog.errors import NotUnderstood
from fitlog.families.half_blind.names import HALF_BLIND, WORDS, say
from fitlog.fronts.bench import (
    Deed,
    Stand,
    View,
    last_word,
    not_judged,
    press,
    stand,
    takes_number,
)
from fitlog.fronts.cli.session import open_session
from fitlog.service.asked import Reported, named

ORDER = HALF_BLIND.asked

# --- where it stands ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("entries", "in_play", "where"),
    [
        ((), ORDER, ("settings", 1)),
        (("cut",), ORDER, ("fit", 1)),
        (("cut", "good"), ORDER, ("seat", 1)),
        (("cut", "good", "flush"), ORDER, ("centre", 1)),
        (("cut", "good", "flush", "gap far"), ORDER, ("settings", 2)),
        (("cut", "flush"), ORDER, ("fit", 1)),
        (("cut", "fit not judged", "seat not judged", "centre not judged"), ORDER, ("settings", 2)),
        (("cut", "good", "flush", Reading("walls", 68.0, other=67.9)), ORDER, ("settings", 2)),
        (("cut", Reading("pull_gap", 0.4)), ORDER, ("seat", 1)),
        (("cut", Reading("mouth", 9.8)), ORDER, ("fit", 1)),
        (("cut",), ("centre",), ("centre", 1)),
        (("cut", "good"), ("fit",), ("settings", 2)),
        (("cut", "good", "flush", "centred", "cut"), ORDER, ("fit", 2)),
    ],
)
def test_it_stands_where_the_log_says(
    entries: tuple[str, ...], in_play: tuple[Aspect, ...], where: tuple[str, int]
) -> None:
    at = stand(at_the_bench(*entries, in_play=in_play))
    assert (at.at, at.piece) == where
    assert stand(at_the_bench(*entries, in_play=in_play, ended=True)).at == "over"


def test_what_cut_logged_in_one_go_is_not_asked_again() -> None:
    setup = make_setup(make_plan(), FIRST, [make_cut(1, FIRST, "tight")])
    assert stand(setup) == Stand("settings", 2)


def test_an_undone_set_up_is_over() -> None:
    assert stand(replace(at_the_bench("cut"), undone=True)).at == "over"


@settings(max_examples=150, **STEADY)
@given(
    st.lists(
        st.sampled_from(["cut", *(w for a in ORDER for w in WORDS[a]), *map(not_judged, ORDER)]),
        max_size=12,
    )
)
def test_every_answer_moves_on_and_undo_moves_back(words: list[str]) -> None:
    """Answering what is asked never asks it again; leaving out the newest entry asks it
    once more.
    """
    entries: list[str] = []
    for word in words:
        at = stand(at_the_bench(*entries)).at
        fits = word == "cut" if at == "settings" else word in WORDS[at] or word == not_judged(at)
        if not fits:
            continue
        entries.append(word)
        assert stand(at_the_bench(*entries)).at != at
        assert stand(at_the_bench(*entries[:-1])).at == at


def test_a_number_belongs_to_the_newest_word_of_the_last_piece() -> None:
    assert last_word(at_the_bench("cut", "tight", "proud")) == say("seat", "proud")
    assert last_word(at_the_bench("cut", "loose", "seat not judged")) == say("fit", "loose")
    assert last_word(at_the_bench("cut", "loose", "flush", "centred", "cut")) is None
    both = make_setup(make_plan(), FIRST, [make_cut(1, FIRST, "loose", "gap far", "flush")])
    assert last_word(both) == say("centre", "gap far")
    assert [w for a in ORDER for w in WORDS[a] if not takes_number(say(a, w))] == [
        "very tight",
        "tight",
        "flush",
        "centred",
    ]


# --- what a key means -----------------------------------------------------------------------------


@pytest.mark.parametrize("aspect", ORDER)
def test_the_digits_are_the_words_from_one_end_to_the_other(aspect: Aspect) -> None:
    asked = View(HALF_BLIND, Stand(aspect, 1))
    heard = [deed.text for key in "123456789" if (deed := press(asked, key)[1]) is not None]
    assert heard == list(WORDS[aspect])
    assert {"fit": heard[3:4], "seat": heard[3:4], "centre": heard[1:2]}[aspect] in (
        ["good"],
        ["flush"],
        ["centred"],
    )
    assert press(asked, "s")[1] == Deed("skip", aspect)


@pytest.mark.parametrize("at", ["settings", *ORDER, "over"])
def test_no_other_key_does_anything(at: str) -> None:
    known = set("u?qfms \r\nhxdwoF\x04") | set(string.digits)
    view = View(HALF_BLIND, Stand(at, 2), say("fit", "loose"))  # type: ignore[arg-type]
    for key in [*(set(map(chr, range(128))) - known), "esc", "other"]:
        after, deed = press(view, key)
        assert (
            deed is None and replace(after, line="") == view and "means nothing here" in after.line
        )


def test_only_the_settings_screen_cuts_and_only_a_ready_one_finishes() -> None:
    for at in ORDER:
        assert (
            press(View(HALF_BLIND, Stand(at, 1)), " ")[1] is None
            and press(View(HALF_BLIND, Stand(at, 1)), "F")[1] is None
        )
    here = View(HALF_BLIND, Stand("settings", 2))
    assert press(here, " ")[1] == press(here, "\r")[1] == press(here, "\n")[1] == Deed("cut")
    assert press(here, "F")[1] is None and "Not ready" in press(here, "F")[0].line
    asked, nothing = press(replace(here, ready=True), "F")
    assert nothing is None and press(asked, "F")[1] == Deed("finish")
    assert press(asked, " ")[1] is None  # a key meant for something else is no yes


def test_typing_a_number_keeps_to_its_line() -> None:
    view = View(HALF_BLIND, Stand("seat", 1), say("fit", "loose"))
    for key in ["m", *"0.45", "\x7f", " ", "i", "n"]:
        view, deed = press(view, key)
        assert deed is None
    assert view.typed == "0.4 in"
    assert press(view, "\r")[1] == Deed("number", "", "0.4 in")
    assert press(view, "esc")[0].mode == "" and press(view, "esc")[1] is None
    assert press(replace(view, typed="  "), "\r")[1] is None
    long = replace(view, typed="1" * 24)
    assert press(long, "1")[0].typed == long.typed


def test_before_the_first_piece_there_is_nothing_to_add_to() -> None:
    first = View(HALF_BLIND, Stand("settings", 1))
    assert (
        not any(press(first, key)[0].mode for key in "mf")
        and press(replace(first, stand=Stand("settings", 2)), "f")[0].mode
    )


# --- a piece that is cut and not judged -----------------------------------------------------------


@pytest.mark.parametrize(
    "before",
    [(), ALL, ("cut", "good", "flush", "centred"), ("cut", "slightly loose", "flush", "gap far")],
)
def test_an_unjudged_piece_asks_for_the_same_settings_again(before: tuple[str, ...]) -> None:
    known = at_the_bench(*before)
    wanted = advise(known, History()).settings
    silent = make_cut(len(known.pieces()) + 1, wanted)
    found = advise(replace(known, cuts=(*known.cuts, silent)), History())
    assert found.settings == wanted
    assert found.moves == {"bit_height": 0.0, "fence_offset": 0.0, "socket_depth": 0.0}
    codes = by_code([{"code": r.code, "text": in_words(r)} for r in found.notices])
    assert (
        "--same-piece" in codes["piece-unjudged"]
        and f"Piece {silent.piece} " in codes["piece-unjudged"]
    )
    assert not [code for code in codes if code.startswith(("surprise", "slip", "gap"))]
    assert not found.cautions and not found.approach


def test_an_unjudged_piece_beyond_a_limit_is_not_proposed_again() -> None:
    """A lap of less than 2.4 mm (the design's limit) is refused to be advised, however it came to
    be cut.
    """
    plan = make_plan()
    deep = FIRST.changed(bit_height=plan.pin_thickness - 2.0)
    found = advise(make_setup(plan, FIRST, [make_cut(1, deep)]), History())
    assert found.settings["bit_height"] <= plan.pin_thickness - 2.4 + 1e-9


def test_an_unjudged_piece_with_the_fence_too_far_in_is_not_proposed_again() -> None:
    near = FIRST.changed(
        fence_offset=74.6
    )  # 0.4 mm inside the middle of the 150 mm board: the fence side is shaved
    found = advise(make_setup(make_plan(), FIRST, [make_cut(1, near)]), History())
    assert found.settings["fence_offset"] >= 75.0


# --- the workbench --------------------------------------------------------------------------------


def test_cut_still_refuses_what_says_nothing_and_the_dialogue_may(shop: Shop) -> None:
    shop.started()
    with open_session(None, create=False) as session:
        bench = session.bench()
        for told in (Reported(Verdict()), Reported(Verdict(), note="looked at")):
            with pytest.raises(NotUnderstood, match="says nothing"):
                bench.record(bench.current(), told)
        made = bench.record(bench.current(), Reported(Verdict(), unjudged=True))
        assert (made.piece, named(made)) == (1, "the cut of piece 1")
        with pytest.raises(NotUnderstood, match="says nothing"):
            bench.record(bench.current(), Reported(Verdict(), later=True, unjudged=True))
    assert "cut, not judged yet" in shop.words("show").out
    assert "piece-unjudged" in by_code(shop.json("next")["notices"])
    assert "piece-unjudged" not in by_code(shop.json("cut --same-piece tight")["notices"])
    rows = [
        line.split()[0]
        for line in shop.words("show").out.splitlines()
        if "later" in line or "not judged" in line
    ]
    assert rows == ["cut", "later"]
    assert (
        '"tight" on piece 1' in shop.words("undo").err
        and "the cut of piece 1" in shop.words("undo").err
    )
    shop.words("cut good")
    assert (
        shop.words("show").out.count("cut at") == 2
    )  # what follows a piece taken back is a new one


def test_what_was_learnt_is_kept_until_the_log_may_tell_more(shop: Shop) -> None:
    """The same workbench answers as a fresh one does, whoever wrote in between; alone it learns
    once.
    """
    shop.started()
    shop.words("cut good, centred, flush")
    shop.words("finish")
    shop.run(
        "bit", "add", "other", "--diameter", "12.7", "--angle", "8", "--cutting-length", "16"
    )  # the same wood
    shop.words("start --bit other")
    with open_session(None, create=False) as session:
        bench = session.bench()
        setup = bench.current()
        learnt = bench.past(setup)
        assert len(learnt) == 1
        bench.record(setup, Reported(Verdict(), unjudged=True))
        bench.answer(setup.number)
        assert bench.past(bench.current()) is learnt
        shop.words("undo --setup 1")  # another window reopens the finished one
        assert len(bench.past(setup)) == 0
        assert bench.answer(setup.number).document == shop.json("next --setup 2")
        shop.words("finish --setup 1")
        bench.take_back(session.log.setup(1))  # the same by this one
        assert len(bench.past(setup)) == 0
