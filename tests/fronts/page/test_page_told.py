"""What the page says is so: of the piece, of what is measured, of what comes next."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from paging import Page, paged
from shop import Shop

from fitlog.domain import remark
from fitlog.families.example import example_of
from fitlog.families.half_blind.recipe import recipe
from fitlog.families.names import FAMILIES
from fitlog.families.telling import PAGE, say
from fitlog.families.tenon.craft import again
from fitlog.language.units import Ruler
from fitlog.log import open_log

MM = Ruler("mm")


def begun(shop: Shop, joint: str = "half-blind dovetail") -> None:
    example = example_of(joint)
    for command in (*example.BEFORE, example.EXAMPLE):
        shop.run(*command)


@pytest.fixture
def page(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> Iterator[Page]:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(begun)
    with paged(shop.db) as made:
        yield made


def steps(page: Page) -> str:
    """The steps of the next piece."""
    return page.cut().html.partition("<ol")[2].partition("</ol>")[0]


def cut(page: Page, key: str = "the-piece-is-cut") -> None:
    assert page.post("/s/1/answer", **{**page.cut().fields, "key": key}).status == 200


def test_a_number_is_named_once_with_how_it_is_taken(page: Page) -> None:
    cut(page)
    number = page.say("/s/1/judge", what="word", aspect="fit", text="slightly loose")
    assert number.url == "/s/1/number" and number.text.lower().count("pull-apart gap") == 1
    assert "How far the seated tail comes straight back out" in number.text


def test_a_joint_of_the_real_boards_had_no_second_pass(page: Page) -> None:
    check = page.get("/s/1/check")
    assert "second pass" not in check.text and "shaving" not in check.text
    assert "measure the two walls beside it" in check.text
    assert "size.fit" in check.fields and "size.centre" not in check.fields


def test_what_is_asked_once_the_log_has_it_is_not_all(page: Page) -> None:
    cut(page)
    rest = "The rest is asked once the log has it."
    assert rest in page.get("/s/1/judge").html
    for aspect, word in (("fit", "good"), ("seat", "flush")):
        page.say("/s/1/judge", what="word", aspect=aspect, text=word)
    last = page.get("/s/1/judge")
    assert "centre" in last.text and rest not in last.html and "All said" not in last.html


@pytest.mark.parametrize("joint", FAMILIES)
def test_each_question_begins_as_a_sentence_does(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, joint: str
) -> None:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(begun, joint)
    with paged(shop.db) as page:
        cut(page)
        for path in ("judge", "check"):
            asked = re.findall(r'<p class="asks">(.)', page.get(f"/s/1/{path}").html)
            assert asked and all(letter.isupper() for letter in asked), path


def test_only_a_piece_that_may_be_turned_is_judged_before_the_turn(shop: Shop) -> None:
    shop.built(begun)
    with open_log(str(shop.db), create=False) as log:
        setup = log.setup(1)
    for by in ("", "walls", "turn", None):
        for asked in ((), ("fit",)):
            steps = recipe(setup.plan, setup.first, by, asked)
            for short in (False, True):
                told = " ".join(say(step, MM, PAGE, short=short) for step in steps)
                assert ("a turn widens" in told or "before any turn" in told) == (by != ""), told


def test_nothing_tells_of_a_key_or_of_two_ways_to_make_one_pass() -> None:
    known = say(remark("centre-known", "centre", chance=0.97), MM, PAGE)
    assert 'no turn, and "not judged" leaves it out' in known
    side = say(remark("fence-side", "centre", shaving=0.05, chance=0.3), MM, PAGE)
    assert side.endswith("no second pass is needed.") and "skip" not in side


def test_the_same_end_of_a_tenon_goes_into_the_same_mortise(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(begun, "tenon")
    with paged(shop.db) as page:
        assert "near wall" in steps(page)
        shop.words("cut very tight, flush")
        assert "Cut the end of piece 1 again" in page.get("/s/1/now").text
        assert "near wall" not in steps(page) and "Rail scrap" in steps(page)
    fresh = (remark("cut-mortise", fence=6.0, wide=8.0, deep=20.0), remark("measure-tenon"))
    assert again(fresh, {"mortise_fence": 0.0}) == fresh[1:]
    assert again(fresh, {"mortise_fence": 0.05}) == fresh, "its fence moves"


def test_the_advice_of_a_piece_is_the_one_that_it_was_cut_by(shop: Shop, page: Page) -> None:
    cut(page)
    page.say("/s/1/judge", what="word", aspect="fit", text="very loose")
    page.get("/s/1/set")  # by that word something else is advised
    page.say("/s/1/back", what="undo")
    page.say("/s/1/judge", what="word", aspect="fit", text="tight")
    shown = shop.words("show 1").out
    assert len(re.findall(r"^ *1 +advised", shown, re.M)) == 1 and shown.count("cut at") == 1
    cuts = shop.json("show 1")["cuts"]
    assert all(one["advised"] == one["settings"] for one in cuts)
