"""The page in a real browser: a phone's screen, touched. Every answer is in the log once."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from typing import Any

import pytest
from browsing import Phone, Served, playing
from shop import BIT, STOCK, Shop

from fitlog.families.names import FAMILIES

pytestmark = pytest.mark.browser
Opens = Callable[..., Phone]


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playing() as one:
        yield one


@pytest.fixture
def closing() -> Iterator[ExitStack]:
    with ExitStack() as stack:
        yield stack


@pytest.fixture
def served(shop: Shop, closing: ExitStack) -> Served:
    """A shop with one set-up begun by Jo, and the page's server at its log."""
    shop.run("bit", "add", "half", *BIT, env={"USER": "jo"})
    shop.run("stock", "add", "elm", *STOCK)
    shop.run("start", "--title", "chest", env=dict.fromkeys(("LOGNAME", "USER"), "jo"))
    return serve(shop, closing)


def serve(shop: Shop, closing: ExitStack, *options: str) -> Served:
    made = Served(shop.home, shop.db, *options)
    closing.callback(made.end)
    return made


@pytest.fixture
def opens(browser: Any, closing: ExitStack) -> Opens:
    def open_(server: Served, width: int = 360, **options: Any) -> Phone:
        phone = Phone(browser, server, width, **options)
        closing.callback(phone.close)
        return phone

    return open_


def said(shop: Shop) -> list[str]:
    """Every entry about a piece, in the order of the log: its piece, its words, its note."""
    shown = shop.run("show", "--json").document["cuts"]
    return [f"{c['piece']} {_words(c)}".strip() for c in shown if not c["retracted"]]


def _words(cut: dict[str, Any]) -> str:
    words = [word for aspect, word in cut["said"].items() if aspect != "faults" and word]
    return ", ".join([*words, *(["fault"] if cut["said"]["faults"] else []), cut["note"]]).strip(
        ", "
    )


def until(phone: Phone, what: Callable[[], object], wanted: object) -> None:
    """Wait until something is so: an answer that is under way arrives. The browser goes on."""
    end = time.monotonic() + 30
    while (found := what()) != wanted:
        assert time.monotonic() < end, found
        phone.page.wait_for_timeout(100)


def test_a_whole_set_up_by_touch(shop: Shop, served: Served, opens: Opens) -> None:
    phone = opens(served)
    phone.go("/")
    phone.tap("a.tile")
    phone.arrive("set")
    phone.set_and_cut()
    phone.say("tight")
    phone.say("proud", "0.6")
    phone.say("centred")
    assert phone.here == "/s/1/now"
    phone.tap("footer a.go")
    phone.set_and_cut()
    for word in ("good", "flush", "centred"):
        phone.say(word)
    document = shop.run("next", "--json").document
    while document["status"] == "tuning":
        phone.go("/s/1/set")
        phone.set_and_cut()
        for word in ("good", "flush", "centred"):
            phone.say(word)
        document = shop.run("next", "--json").document
    phone.go("/s/1/finish")
    phone.mark("Finish")
    phone.tap("footer button.go")
    phone.arrive("now")
    assert shop.run("next", "--json").document["status"] == "finished"
    first = ["1", "1 tight", "1 proud", "1 proud 0.60", "1 centred"]
    assert said(shop)[:5] == first


@pytest.mark.parametrize("joint", ["half-blind dovetail", "half-lap"])
def test_another_unit_and_another_family(
    shop: Shop, closing: ExitStack, opens: Opens, joint: str
) -> None:
    who = dict.fromkeys(("LOGNAME", "USER"), "jo")
    rows = {one["name"]: one for one in shop.run("joints", "--json").document["joints"]}
    for command in (*rows[joint]["before"], rows[joint]["example"]):
        shop.run(*command, env=who)
    shop.run("prefer", "--units", "fraction", env=who)
    phone = opens(serve(shop, closing))
    words = {kind.name: kind.settling for kind in FAMILIES[joint].kinds}
    for _ in range(6):
        if shop.run("next", "--json").document["status"] != "tuning":
            break
        phone.go("/s/1/set")
        lengths = phone.page.locator("svg.figure").evaluate_all("f => f.map(e => e.ariaLabel)")
        assert all(" in" in length for length in lengths), lengths
        assert " mm" not in phone.page.locator("main").inner_text()
        phone.set_and_cut()
        while phone.here.endswith("/judge"):
            asked = phone.page.locator("form[id^=q] input[name=aspect]").first
            phone.say(words[str(asked.get_attribute("value"))])
    assert shop.run("next", "--json").document["status"] == "ready"


def judging(served: Served, opens: Opens, **options: Any) -> Phone:
    """A phone on which piece 1 is cut and its first question is open."""
    phone = opens(served, **options)
    phone.go("/s/1/set")
    phone.set_and_cut()
    return phone


def test_a_touch_that_marks_and_is_not_stored_logs_nothing(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = judging(served, opens)
    phone.tap(".question button.go[form]")  # nothing is marked: the browser asks for a word
    phone.mark("tight")
    phone.mark("good")
    phone.go("/s/1/judge")
    assert said(shop) == ["1"]


def test_a_place_touched_twice_stores_once(shop: Shop, served: Served, opens: Opens) -> None:
    phone = judging(served, opens)
    phone.mark("good")
    button = phone.page.locator(".question button.go[form]").first
    button.dblclick()
    phone.page.wait_for_url("**/number")
    assert said(shop) == ["1", "1 good"]


def test_what_is_said_without_a_network_arrives_once_and_in_order(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = judging(served, opens)
    phone.context.set_offline(True)
    phone.say("tight", wait=False)
    strip = phone.page.locator("#kept")
    strip.wait_for(state="visible")
    assert "not yet in the log" in strip.inner_text()
    phone.say("proud", wait=False)
    phone.page.locator("text=(2)").wait_for()
    assert phone.here == "/s/1/judge", "no advice is shown from an answer that is not in the log"
    assert said(shop) == ["1"]
    phone.context.set_offline(False)
    until(phone, lambda: said(shop), ["1", "1 tight", "1 proud"])
    phone.page.wait_for_url(
        lambda url: "/judge" not in url or phone.page.locator("#kept").is_hidden()
    )
    assert said(shop) == ["1", "1 tight", "1 proud"]


def test_an_answer_whose_reply_was_lost_is_not_said_twice(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = judging(served, opens)
    lost: list[str] = []

    def lose(route: Any) -> None:
        lost.append(route.request.post_data)
        if len(lost) == 1:  # a network that answers for everybody, and logs nothing
            route.fulfill(status=200, body="<p>Welcome to this network</p>")
            return
        route.fetch()  # the server has it, the phone never hears so
        route.abort()

    phone.page.route("**/answer", lose, times=2)
    phone.say("slightly tight", wait=False)
    until(phone, lambda: len(lost), 2)
    phone.page.wait_for_url("**/number")
    assert said(shop) == ["1", "1 slightly tight"]
    assert len(set(lost)) == 1


def test_a_dead_phone_and_a_killed_server_lose_nothing(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = judging(served, opens)
    served.end()
    phone.say("tight", wait=False)
    phone.page.locator("#kept").wait_for(state="visible")
    kept = phone.context.storage_state()
    phone.context.close()  # its battery
    served.start()
    again = opens(served, storage_state=kept)
    again.go("/")
    until(again, lambda: said(shop), ["1", "1 tight"])
    again.page.locator("#kept").wait_for(state="hidden")


def test_two_people_at_one_piece_see_what_the_other_said(
    shop: Shop, served: Served, opens: Opens
) -> None:
    jo = judging(served, opens)
    kim = opens(served)
    kim.go("/s/1/judge")
    jo.say("tight")
    kim.context.set_offline(True)
    kim.say("good", wait=False)
    kim.say("flush", wait=False)
    kim.context.set_offline(False)
    told = kim.page.locator("text=piece 1: tight")
    told.wait_for()
    assert said(shop) == ["1", "1 tight"]
    kim.tap("label.tick")
    kim.tap("footer button.go")  # what was said after it had seen it, and follows
    until(kim, lambda: said(shop), ["1", "1 tight", "1 good", "1 flush"])
    kim.page.locator("#kept").wait_for(state="hidden")


def test_what_another_said_is_a_band_and_changes_no_number(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = opens(served)
    phone.go("/s/1/set")
    before = phone.page.locator("svg.figure").first.get_attribute("aria-label")
    shop.run("cut", "very tight, centred, flush")
    phone.page.locator("#moved").wait_for(state="visible")
    assert phone.page.locator("svg.figure").first.get_attribute("aria-label") == before
    phone.tap("#moved a")
    phone.page.wait_for_load_state()
    assert phone.page.locator("h1").inner_text() == "Set for piece 2"


def test_back_in_the_browser_and_another_word_is_asked_about(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = judging(served, opens)
    phone.say("tight", "0.4")
    assert phone.here == "/s/1/judge"
    phone.go("/s/1/judge")
    shop.run("cut", "--same-piece", "flush", env={"USER": "jo", "LOGNAME": "jo"})
    phone.mark("slightly proud")
    phone.tap(".question button.go[form]")
    phone.page.locator("text=you, piece 1: flush").wait_for()
    phone.tap("footer a.bar")
    phone.page.wait_for_load_state()
    until(phone, lambda: phone.page.locator("#kept").is_hidden(), True)
    assert said(shop)[-1] == "1 flush"


def test_it_works_before_any_script_runs(shop: Shop, served: Served, opens: Opens) -> None:
    phone = opens(served, java_script_enabled=False)
    phone.go("/s/1/set")
    for box in phone.page.locator("label.big").all():
        box.tap()
    phone.tap("footer button.go")
    phone.tap("label.tick")
    phone.tap("footer button[form=cut]")
    for word in ("slightly loose", "flush", "centred"):
        phone.mark(word)
        with phone.page.expect_navigation():
            phone.tap(".question button.go[form]")
        if phone.here.endswith("/number"):
            with phone.page.expect_navigation():
                phone.tap("footer a")
    assert phone.here == "/s/1/now"
    assert said(shop) == ["1", "1 slightly loose", "1 flush", "1 centred"]


SCREENS = (
    *("/", "/start", "/start?new=1", "/s/1/set", "/s/1/cut", "/s/1/found", "/s/1/judge"),
    *("/s/1/number", "/s/1/now", "/s/1/progress", "/s/1/back", "/s/1/finish"),
    *("/s/1/boards", "/s/1/check", "/s/1/fault", "/s/1/keep"),
)


@pytest.mark.parametrize(
    ("width", "scheme"), [(320, "light"), (360, "light"), (360, "dark"), (768, "dark")]
)
def test_targets_are_large_and_everybody_can_read_it(
    shop: Shop, served: Served, opens: Opens, width: int, scheme: str
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    phone = opens(served, width, color_scheme=scheme, bypass_csp=True)  # for axe's own script alone
    for screen in SCREENS:
        if screen == "/s/1/judge":
            phone.go("/s/1/set")
            phone.set_and_cut()
        if screen == "/s/1/number":
            phone.say("slightly tight", "0.3")
        if screen == "/s/1/cut":  # which is opened by what was seen on the one to set
            screen += f"?seen={phone.page.get_attribute('input[name=seen]', 'value')}"
        phone.go(screen)
        small = phone.page.evaluate(TOO_SMALL, 79 if width >= 360 else 70)
        assert not small, f"{screen}: {small}"
        wide = phone.page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert wide <= 0, f"{screen}: {wide} px beyond the edge"
        found = Axe().run(phone.page)
        assert not found.response["violations"], f"{screen}: {found.generate_report()}"
        assert all(int(h) >= 106 for h in phone.page.evaluate(FIGURES)), screen


# What is touched and seen, and less than 15 mm on a phone of 360 px and 68 mm: 79 px; a drawing is
# narrower with a narrower phone, by a ninth.
TOO_SMALL = """(least) => [...document.querySelectorAll("a, button, summary, input, label")]
  .filter((one) => one.checkVisibility() && one.type !== "hidden" && !one.closest("[hidden]"))
  .filter((one) => !(one.tagName === "INPUT" && one.closest("label")))
  .map((one) => [one.outerHTML.slice(0, 80), one.getBoundingClientRect()])
  .filter(([, box]) => box.width < least || box.height < least)
  .map(([html, box]) => html + " " + Math.round(box.width) + " x " + Math.round(box.height))"""
FIGURES = """() => [...document.querySelectorAll("svg.figure")]
  .map((one) => one.getBoundingClientRect().height)"""
