"""What the page's script is told of an answer that is not let in, so that it stays on the phone
with a sentence that says why; and of one that somebody else gave on that phone.
"""

from __future__ import annotations

import asyncio
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from html import unescape

import httpx
import pytest
from house import House
from paging import paged
from shop import Shop
from visitor import Visitor, code_of, raw

from fitlog.fronts.page.buckets import Buckets
from fitlog.fronts.page.door import MOST_BODY
from fitlog.fronts.page.phones import PhoneBook

TIGHT = {"what": "word", "aspect": "fit", "text": "tight", "key": "of-the-phone"}
MARK = "fitlog-answer"


def begun(shop: Shop) -> None:
    shop.started()
    with paged(shop.db, "kit") as page:
        page.say("/s/1/set", what="cut")


@pytest.fixture
def house(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> Iterator[House]:
    monkeypatch.setenv("LOGNAME", "owner")
    shop.built(begun)
    made = House(shop, whole=True)
    yield made
    asyncio.run(made.desk.close())


def given(phone: Visitor) -> dict[str, str]:
    """An answer as the script keeps it, given on the screen that is shown now."""
    _, _, rest = phone.get("/s/1/judge").text.partition("<body")
    on = dict(re.findall(r'data-(\w+)="([^"]*)"', rest.partition(">\n")[0]))
    return {**TIGHT, "seen": on["seen"], "by": unescape(on["by"])}


def sent(phone: Visitor, one: dict[str, str], **headers: str) -> httpx.Response:
    """Have the script send an answer that it kept."""
    return phone.post("/s/1/answer", one, fitlog_script="1", **headers)


def said(shop: Shop) -> list[str]:
    """Who said which word of the piece."""
    found = [(cut["by"], cut["said"].get("fit")) for cut in shop.json("show")["cuts"]]
    return [f"{by}: {word}" for by, word in found if word]


def no_phone(house: House) -> None:
    PhoneBook(house.book.path).revoke(1)


def no_calm(house: House) -> None:
    house.gate._phones = Buckets(0.0, 0.0)


def no_list(house: House) -> None:
    house.book.path.write_text("{")


def no_writing(house: House) -> None:
    house.gate._door = replace(house.gate._door, read_only=True)


def no_other_name(house: House) -> None:
    house.gate._door = replace(house.gate._door, hosts=frozenset({"192.0.2.6:8517"}))


@pytest.mark.parametrize(
    ("closes", "status", "code"),
    [
        (no_phone, 401, "not-paired"),
        (no_calm, 429, "too-often"),
        (no_list, 503, "phones-unkept"),
        (no_writing, 403, "only-reads"),
        (no_other_name, 421, "wrong-host"),
    ],
)
def test_an_answer_that_is_kept_out_waits_and_its_phone_is_told_why(
    shop: Shop, house: House, closes: Callable[[House], None], status: int, code: str
) -> None:
    phone, before = house.paired("Jo"), shop.entries()
    one = given(phone)
    closes(house)
    script, plain = sent(phone, one), phone.post("/s/1/answer", one)
    assert (script.status_code, script.headers[MARK]) == (200, "waits")
    assert (plain.status_code, code_of(plain), MARK in plain.headers) == (status, code, False)
    assert code_of(script) == code and script.text == plain.text
    ways = re.findall(r'href="([^"]*)" data-way', script.text)
    assert ways == (["/pair"] if code == "not-paired" else [])
    assert shop.entries() == before


def test_so_does_one_whose_log_is_gone_for_now(shop: Shop, house: House) -> None:
    phone = house.paired("Jo")
    one = given(phone)
    away = shop.db.rename(shop.db.with_name("away.db"))
    script, plain = sent(phone, one), phone.post("/s/1/answer", one)
    assert (script.status_code, script.headers[MARK], code_of(script)) == (200, "waits", "log-gone")
    assert (plain.status_code, MARK in plain.headers) == (503, False)
    away.rename(shop.db)
    assert sent(phone, one).headers["fitlog-next"] == "/s/1/judge" and said(shop) == ["Jo: tight"]


def test_one_of_another_site_is_told_nothing_else(house: House) -> None:
    phone = house.paired("Jo")
    other = sent(phone, given(phone), origin="http://shop.example")
    assert (other.headers[MARK], code_of(other)) == ("waits", "cross-site")


def test_one_whose_end_does_not_come_waits(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("fitlog.fronts.page.door._PATIENCE", 0.05)
    phone = house.paired("Jo")
    headers = {
        "host": "192.0.2.5:8517",
        "origin": phone.site,
        "cookie": f"fitlog={phone.cookies['fitlog']}",
        "content-type": "application/x-www-form-urlencoded",
        "fitlog-script": "1",
    }
    said = [(name.encode(), value.encode()) for name, value in headers.items()]
    part = {"type": "http.request", "body": b"what=", "more_body": True}
    (begun, body), _ = raw(house.gate, "POST", "/s/1/answer", said, [part])
    assert (begun["status"], dict(begun["headers"])[MARK.encode()]) == (200, b"waits")
    assert b'data-code="too-slow"' in body["body"]


def test_an_answer_that_can_never_be_taken_does_not_wait(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its writer is shown the sentence, and leaves it out."""
    phone = house.paired("Jo")
    one = given(phone)
    huge = sent(phone, {**one, "text": "a" * MOST_BODY})
    nowhere = phone.post("/s/1/nowhere", one, fitlog_script="1")
    bad = sent(phone, {**one, "key": "?"})
    monkeypatch.setattr("fitlog.fronts.page.app.hear", lambda *_: 1 / 0)
    broken = sent(phone, one)
    found = [(a.status_code, a.headers[MARK], code_of(a)) for a in (huge, nowhere, bad, broken)]
    codes = ("too-large", "no-such-page", "bad-answer", "page-failed")
    assert found == [(200, "not-logged", code) for code in codes]


def test_only_what_is_in_the_log_is_said_to_be(shop: Shop, house: House) -> None:
    phone = house.paired("Jo")
    one = given(phone)
    after = sent(phone, one)
    assert (after.status_code, after.headers[MARK], after.text) == (204, "logged", "")
    assert after.headers["fitlog-next"] == "/s/1/judge" and said(shop) == ["Jo: tight"]
    bare = phone.post("/s/1/answer", one)
    assert bare.status_code == 303 and MARK not in bare.headers
    assert MARK not in phone.get("/", fitlog_script="1").headers


def test_what_follows_a_set_up_stops_where_nobody_may_come_in(house: House) -> None:
    """No browser calls this an error, and none asks again."""
    phone = house.paired("Jo")
    no_phone(house)
    found = phone.get("/s/1/events?seen=e1", accept="text/event-stream")
    assert (found.status_code, found.text) == (204, "")


def test_what_another_said_on_this_phone_counts_once_its_holder_says_so(
    shop: Shop, house: House
) -> None:
    phone = house.paired("Jo <b>")
    one = given(phone)
    phone.post("/who", {"other": "Kim"})
    kept = sent(phone, one)
    assert (kept.status_code, kept.headers[MARK]) == (200, "not-logged")
    assert "Jo &lt;b&gt; said this on this phone, and Kim holds it now" in kept.text
    assert "&#34;tight&#34;" in kept.text and 'data-instead="of-the-phone"' in kept.text
    assert 'href="/who"' in kept.text and said(shop) == []
    assert phone.post("/s/1/answer", one).status_code == 409
    shown = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', kept.text))
    assert shown["seen"] == one["seen"], "what was said meanwhile is asked about as ever"
    taken = sent(phone, {**shown, "by": "Kim"})
    assert taken.headers["fitlog-next"] == "/s/1/judge" and said(shop) == ["Kim: tight"]


def test_whose_phone_it_is_again_says_it_under_the_own_name(shop: Shop, house: House) -> None:
    phone = house.paired("Jo")
    one = given(phone)
    phone.post("/who", {"other": "Kim"})
    assert sent(phone, one).headers[MARK] == "not-logged"
    phone.post("/who", {"other": "Jo"})
    assert sent(phone, one).status_code == 204 and said(shop) == ["Jo: tight"]
    phone.post("/who", {"other": "Kim"})
    again = sent(phone, one)  # its reply was lost: it is in the log, under the name of who gave it
    assert again.status_code == 204 and said(shop) == ["Jo: tight"]


def test_a_start_that_another_said_is_asked_about_too(shop: Shop, house: House) -> None:
    phone = house.paired("Kim")
    one = {"key": "0123456789", "what": "start", "again": "1", "by": "Jo"}
    kept = phone.post("/start", one, fitlog_script="1")
    assert kept.headers[MARK] == "not-logged" and 'action="/start"' in kept.text
    assert 'name="by"' not in kept.text and 'name="again" value="1"' in kept.text
    assert code_of(phone.post("/start", {**one, "by": "Kim"})) == "still-tuning"
