"""What is said on a phone without a network, in several tabs or as its battery dies: it is kept
there, and is in the log once and in order.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from browsing import Phone, Served, judging, said, until
from shop import BIT, Shop

pytestmark = pytest.mark.browser
Opens = Callable[..., Phone]
JO = dict.fromkeys(("LOGNAME", "USER"), "jo")
KIM = dict.fromkeys(("LOGNAME", "USER"), "kim")
NEW = "/start?joint=half-blind%20dovetail"
# A browser without a screen shows all its tabs at once.
HIDE = """(on) => {
  Object.defineProperty(document, "hidden", { value: on, configurable: true });
  document.dispatchEvent(new Event("visibilitychange"));
}"""


def entries(shop: Shop) -> list[tuple[int, str]]:
    """All that happened, in the order of the log: to which set-up, and what."""
    with closing(sqlite3.connect(shop.db)) as plain:
        return plain.execute("SELECT setup, kind FROM entry ORDER BY id").fetchall()


def test_two_tabs_without_a_network_lose_nothing_and_keep_one_order(
    shop: Shop, served: Served, opens: Opens
) -> None:
    shop.run("bit", "add", "other", *BIT)
    shop.run("start", "--bit", "other", env=JO)
    phone = judging(opens(served))
    one, two = phone.page, phone.tab()
    phone.page = two
    judging(phone, 2)
    before = entries(shop)
    phone.context.set_offline(True)
    one.evaluate("dispatchEvent(new PageTransitionEvent('pageshow', { persisted: true }))")
    for tab, word, count in (
        (one, "slightly tight", ""),
        (two, "good", "(3)"),
        (one, "proud", "(4)"),
    ):
        phone.page = tab
        phone.say(word, wait=False)
        tab.locator(f"#kept:has-text('Kept here, not yet in the log. {count}')").wait_for()
        if word == "slightly tight":  # its number is asked here too
            for key in "0.4":
                phone.tap(f"[data-number] .keypad button:text-is('{key}')")
            phone.tap("[data-number] button.go")
            tab.locator("#kept:has-text('(2)')").wait_for()
    phone.tap("[data-pass]")  # that of the second is not measured
    one.locator("text=once the log has it").wait_for()
    assert phone.here == "/s/1/judge", "no advice is shown from an answer that is not in the log"
    assert entries(shop) == before
    phone.context.set_offline(False)  # both tabs bring in all four
    until(phone, lambda: entries(shop)[len(before) :], [(n, "cut") for n in (1, 1, 2, 1)])
    one.locator("h1:has-text('centre') >> visible=true").wait_for()
    two.locator("#kept").filter(has_not_text="not yet").wait_for(state="attached")
    assert said(shop) == ["1", "1 slightly tight", "1 slightly tight 0.40", "1 proud"]
    assert said(shop, 2) == ["1", "1 good"]


def test_an_answer_whose_reply_was_lost_is_not_said_twice(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = judging(opens(served))
    lost: list[str] = []

    def lose(route: Any) -> None:
        route.fetch()  # the server has it, the phone never hears so
        lost.append(route.request.post_data)
        route.abort()

    phone.page.route("**/answer", lose, times=2)
    phone.say("slightly tight", wait=False)
    until(phone, lambda: len(lost), 2)
    phone.page.locator("#kept:has-text('In the log.')").wait_for()
    assert phone.here == "/s/1/judge", "no screen changes under the hand"
    assert phone.page.locator("#moved").is_hidden(), "nobody else said anything"
    phone.tap("#kept a")
    phone.arrive("number")
    assert said(shop) == ["1", "1 slightly tight"]
    assert len(set(lost)) == 1


def test_a_dead_phone_and_a_killed_server_lose_no_word_and_no_start(
    shop: Shop, served: Served, opens: Opens, tmp_path: Path
) -> None:
    shop.run("bit", "add", "other", *BIT)
    phone = judging(opens(served, folder=str(tmp_path / "phone")))
    word = phone.page
    phone.page = phone.tab()
    phone.go(NEW)
    served.end()
    phone.mark("other")
    phone.through("Start it")
    phone.page.locator("text=It goes on once the log has it").wait_for()
    phone.page = word
    phone.say("tight", wait=False)
    phone.page.locator("#kept:has-text('(2)')").wait_for()
    phone.die()
    served.start()
    again = opens(served, folder=phone.folder)
    again.go("/")
    until(again, lambda: said(shop), ["1", "1 tight"])
    again.page.locator("#kept:has-text('In the log.')").wait_for()
    again.tap("#kept a")
    again.arrive("judge")
    again.go("/")
    again.tap("a.tile:has-text('other')")
    again.arrive("s/2/set")
    assert [one for one in entries(shop) if one[1] == "start"] == [(1, "start"), (2, "start")]


def test_what_was_said_after_an_answer_that_somebody_came_before_follows_it(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = judging(opens(served))
    phone.context.set_offline(True)
    phone.say("tight", wait=False)
    phone.say("proud", wait=False)
    phone.page.locator("#kept:has-text('(2)')").wait_for()
    phone.tap("[data-pass]")
    shop.run("cut", "--same-piece", "centred", env=KIM)
    phone.context.set_offline(False)
    phone.page.locator("text=kim, piece 1: centred").wait_for()
    phone.tap("label.tick")
    phone.tap("footer button.go")
    until(phone, lambda: said(shop), ["1", "1 centred", "1 tight", "1 proud"])


def test_a_note_and_a_title_arrive_and_what_is_taken_back_is_what_was_shown(
    shop: Shop, served: Served, opens: Opens
) -> None:
    shop.run("cut", "tight", env=JO)
    phone = opens(served)
    phone.go("/s/1/keep")
    keep, back = phone.page, phone.tab()
    back.goto(f"{served.url}/s/1/back")
    phone.context.set_offline(True)
    for about, field, text in (("Write a note", "textarea", "dull bit"), ("Title", "input", "lid")):
        phone.tap(f"summary:text-is('{about}')")
        keep.locator(f"details[open] {field}[name=text]").locator("visible=true").fill(text)
        phone.tap("details[open] button")
        keep.locator("text=It goes on once the log has it").last.wait_for()
    phone.page = back
    phone.tap("label.tick")
    phone.tap("footer button.go")
    back.locator("#kept:has-text('(3)')").wait_for()
    phone.context.set_offline(False)
    back.locator("text=Not logged yet").wait_for()
    assert entries(shop)[-2:] == [(1, "note"), (1, "note")]
    assert said(shop) == ["1 tight"]
    keep.locator("#kept:has-text('One answer is not in the log yet.')").wait_for()
    assert "lid" in keep.locator("ul.told").inner_text()


def test_only_the_tab_that_is_seen_listens_and_each_tells_what_came_meanwhile(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = opens(served)
    tabs = [phone.page, *(phone.tab() for _ in range(7))]  # a browser has six connections
    for tab in tabs:
        tab.goto(f"{served.url}/s/1/set")
        tab.evaluate(HIDE, True)
    shop.run("cut", "tight", env=KIM)
    tabs[0].evaluate(HIDE, False)
    tabs[0].locator("#moved").wait_for(state="visible")
    assert tabs[1].locator("#moved").is_hidden()


def test_a_tab_that_hears_nothing_for_long_asks_again(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = opens(served)
    phone.page.clock.install()
    phone.page.route("**/events*", lambda route: route.fulfill(status=503), times=1)
    phone.go("/s/1/set")
    shop.run("cut", "tight", env=KIM)
    until(phone, lambda: [line for line in phone.said if "503" in line] != [], True)
    phone.said.clear()
    phone.page.clock.fast_forward(41_000)
    phone.page.locator("#moved").wait_for(state="visible")
