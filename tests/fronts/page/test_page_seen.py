"""What a person saw before they cut, take back or end: nothing is done that they did not see, and
back leads to where they were, with what they typed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from urllib.parse import urlencode

import pytest
from paging import Page, Seen, paged
from shop import Shop

KIM = {"LOGNAME": "kim"}
TURN = {"height-turn": "1.6", "fence-step": "0.05"}


def begun(shop: Shop) -> None:
    shop.started(machine=TURN)
    shop.words("cut tight, proud 0.5")


@pytest.fixture
def page(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> Iterator[Page]:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(begun)
    with paged(shop.db) as made:
        yield made


def went_on(page: Page, seen: Seen, **typed: str) -> Seen:
    """Go on from a screen to set that was opened before."""
    return page.get(f"/s/1/cut?{urlencode({'seen': seen.fields['seen'], **typed})}")


def slip(shop: Shop) -> str:
    """The socket depth that is advised, with its point a place further on."""
    return f"{shop.json('next')['settings']['socket_depth'] / 10:.3f}"


def back_of(page: Page, refused: Seen) -> Seen:
    """Touch the way back of a refusal."""
    found = re.findall(r'<a class="bar(?: go)?" href="([^"]*)"[^>]*>Back', refused.html)
    assert refused.status == 409 and len(found) == 1, refused.text
    return page.get(found[0].replace("&amp;", "&"))


def test_no_piece_is_cut_by_a_screen_to_set_that_is_out_of_date(shop: Shop, page: Page) -> None:
    set_ = page.get("/s/1/set")
    shop.run("cut", "good,", "flush", env=KIM)
    before = shop.everything()
    stale = went_on(page, set_)
    assert stale.status == 200 and "kim, piece 2: good, flush" in stale.text
    assert "<ol" not in stale.html and "<form" not in stale.html, "no step, and nothing to store"
    assert "/s/1" in stale.links and shop.everything() == before
    with paged(shop.db, only_reads=True) as other:
        assert "kim, piece 2: good, flush" in went_on(other, set_).text
    assert page.get("/s/1/cut").url == "/s/1/set", "who saw no settings sets first"
    assert went_on(page, page.get("/s/1/set")).text.count("Cut piece 3") == 1


def test_nor_by_one_whose_settings_are_others_now(shop: Shop, page: Page) -> None:
    """No entry of the set-up says so, but the bit was measured anew."""
    set_ = page.get("/s/1/set")
    shop.run("bit", "edit", "marsh", "--diameter", "13.4", "--yes")
    stale = went_on(page, set_)
    assert "What is to be set is something else now" in stale.text
    assert "<ol" not in stale.html
    assert "Cut piece 2" in went_on(page, page.get("/s/1/set")).text


def test_what_is_stored_was_seen_with_the_recipe(shop: Shop, page: Page) -> None:
    cut = page.cut()
    shop.run("cut", "good,", "flush", env=KIM)
    before = shop.entries()
    fields = {**cut.fields, "key": "a-key-of-mine"}
    assert "Since you saw it" in page.post("/s/1/answer", **fields).text
    assert shop.entries() == before


def test_an_odd_setting_is_asked_about_before_the_cut_and_once(shop: Shop, page: Page) -> None:
    before, typed = shop.entries(), slip(shop)
    odd = page.cut(**{"set.socket_depth": typed})
    assert "Did you mean" in odd.text and "<ol" not in odd.html
    again = page.get(re.findall(r'href="(/s/1/set\?[^"]*)"', odd.html)[0])
    assert again.fields["set.socket_depth"] == typed and "<details open>" in again.html
    query = {"seen": odd.fields["seen"], "set.socket_depth": typed, "meant": "socket_depth"}
    cut = page.get(f"/s/1/cut?{urlencode(query)}")
    assert "Cut piece 2" in cut.text and "Set otherwise: socket depth" in cut.text
    stored = page.post("/s/1/answer", **{**cut.fields, "key": "a-key-of-mine"})
    assert stored.status == 200 and shop.entries() == before + 1
    at = shop.json("show")["cuts"][-1]["settings"]["socket_depth"]
    assert at == pytest.approx(float(typed))


def test_what_was_meant_is_cut_instead(shop: Shop, page: Page) -> None:
    odd = page.cut(**{"set.socket_depth": slip(shop)})
    form = odd.html.partition("<form")[2].partition("</form>")[0]
    query = dict(re.findall(r'name="([\w.]+)" value="([^"]*)"', form))
    cut = page.get(f"/s/1/cut?{urlencode(query)}")
    assert "Cut piece 2" in cut.text and "meant" not in cut.fields
    assert cut.fields["set.socket_depth"] in odd.text


def test_a_setting_that_cannot_be_is_refused_before_the_cut(page: Page) -> None:
    for typed in ("wide", "4000"):
        refused = page.cut(**{"set.bit_height": typed})
        assert refused.code in ("bad-length", "absurd-size", "bad-setting")
        assert back_of(page, refused).fields["set.bit_height"] == typed


def test_what_was_overtaken_takes_nothing_else_back(shop: Shop, page: Page) -> None:
    back = page.get("/s/1/back")
    shop.run("cut", "--same-piece", "flush", env=KIM)
    before = shop.everything()
    for what in ("undo", "redo", "finish", "as-it-is", "abandon"):
        fields = {**back.fields, "what": what, "key": f"a-key-of-{what}"}
        late = page.post("/s/1/answer", **fields)
        assert late.status == 409 and "kim, piece 1: flush" in late.text
        assert "<form" not in late.html and "Look at it" in late.text
    assert (
        "take back: &#34;tight, proud 0.5&#34; on piece 1"
        in page.post("/s/1/answer", **{**back.fields, "key": "0123456789"}).html
    )
    assert shop.everything() == before


def test_a_number_that_is_refused_is_asked_for_again(page: Page) -> None:
    page.post("/s/1/answer", **{**page.cut().fields, "key": "the-piece-is-cut"})
    page.say("/s/1/judge", what="word", aspect="fit", text="slightly loose")
    for typed in ("1 64", "250"):
        refused = page.say("/s/1/number", what="number", text=typed)
        again = back_of(page, refused)
        assert again.url.startswith("/s/1/number?") and again.fields["text"] == typed


@pytest.mark.parametrize(
    ("at", "typed", "said"),
    [
        ("set", ["wide"], {"what": "slot", "aspect": "mouth", "text": "wide"}),
        ("found", ["wide"], {"what": "found", "set.bit_height": "wide"}),
        ("check", ["0.2x"], {"what": "check", "after": "3", "gap": "", "size.fit": "0.2x"}),
        ("judge", ["9", "8x"], {"what": "reading", "aspect": "walls", "text": "9", "other": "8x"}),
        ("keep", ["shelf\x07"], {"what": "note", "about": "kept", "text": "shelf\x07"}),
    ],
)
def test_back_leads_to_where_it_was_given_with_what_was_typed(
    page: Page, at: str, typed: list[str], said: dict[str, str]
) -> None:
    screen = at
    if at == "judge":
        page.post("/s/1/answer", **{**page.cut().fields, "key": "the-piece-is-cut"})
        for aspect, word in (("fit", "good"), ("seat", "flush")):
            page.say("/s/1/judge", what="word", aspect=aspect, text=word)
    if at == "check":
        said = {**said, "word.fit": "good"}
    again = back_of(page, page.say(f"/s/1/{at}", **said))
    assert again.url.startswith(f"/s/1/{screen}?")
    assert all(f'value="{text}"' in again.html for text in typed), again.html


def test_an_order_of_boards_that_is_none_stays_to_be_mended(page: Page) -> None:
    refused = page.get("/s/1/boards?boards=2+drawrs")
    assert refused.status == 409 and refused.code and "<details open>" in refused.html
    assert refused.fields["boards"] == "2 drawrs" and "data-ticks" not in refused.html
    assert "/s/1/boards" in refused.links


def test_where_somebody_was_at_the_machine_it_is_measured_first(shop: Shop, page: Page) -> None:
    assert 'form="set">It is set' in page.get("/s/1/set").html
    go = r'<(?:a|button) class="bar go"[^>]*>([^<]*)<'
    assert re.findall(go, page.get("/s/1/set").html)[-1] == "It is set: cut"
    shop.run("bit", "add", "other", "--diameter", "9", "--angle", "9", "--cutting-length", "14")
    shop.run("start", "--bit", "other", "--machine", "bench", env=KIM)
    found = page.get("/s/1/set")
    foot = found.html.partition("<footer")[2]
    assert re.findall(go, foot) == ["Measure first"] and "It is set: cut" in foot


def test_bring_back_is_offered_where_it_brings_something_back(shop: Shop, page: Page) -> None:
    assert "Bring back" not in page.get("/s/1/back").text
    page.say("/s/1/back", what="undo")
    assert (
        'Bring back what was taken back last: "tight, proud 0.5" on piece 1'
        in page.get("/s/1/back").text
    )
    shop.run("cut", "good", env=KIM)
    assert "Bring back" not in page.get("/s/1/back").text


def test_a_start_is_taken_back_with_its_title_and_brought_back(shop: Shop, page: Page) -> None:
    shop.words("undo")
    shop.words("undo --yes")
    shop.words("start --title chest")
    with paged(shop.db) as other:
        back = other.get("/s/2/back")
        assert "Take back the start of set-up 2" in back.text and "title" not in back.text
        gone = other.post("/s/2/answer", **{**back.fields, "key": "it-is-taken-back"})
        assert gone.url == "/s/2/now" and "Bring back: the start of set-up 2" in gone.text
        fields = {**other.get("/s/2/back").fields, "what": "redo", "key": "it-is-brought-back"}
        assert other.post("/s/2/answer", **fields).url == "/s/2/set"
    assert shop.json("note --setup 2")["title"] == "chest"


def test_a_page_that_only_reads_shows_what_was_said_and_set(shop: Shop, page: Page) -> None:
    page.post("/s/1/answer", **{**page.cut().fields, "key": "the-piece-is-cut"})
    page.say("/s/1/judge", what="word", aspect="fit", text="good")
    at = shop.json("show")["cuts"][-1]["settings"]["bit_height"]
    with paged(shop.db, "kim", only_reads=True) as other:
        seen = other.get("/s/1/judge")
    assert "This phone only reads." in seen.text and "jo, piece 2: good" in seen.text
    assert f"{at:.2f} mm" in seen.text and "/s/1/now" in seen.links
    assert 'method="post"' not in seen.html
