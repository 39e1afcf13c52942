"""The page in a real browser: a phone's screen, touched. Every answer is in the log once."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from browsing import Phone, Served, judging, said, until
from shop import Shop

from fitlog.families.names import FAMILIES

pytestmark = pytest.mark.browser
Opens = Callable[..., Phone]
JO = dict.fromkeys(("LOGNAME", "USER"), "jo")


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
    shop: Shop, serve: Callable[..., Served], opens: Opens, joint: str
) -> None:
    rows = {one["name"]: one for one in shop.run("joints", "--json").document["joints"]}
    for command in (*rows[joint]["before"], rows[joint]["example"]):
        shop.run(*command, env=JO)
    shop.run("prefer", "--units", "fraction", env=JO)
    phone = opens(serve())
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


# What the keyboard stands on: whether it is what is looked for, seen to be, and under nothing else.
ON = """(what) => {
  const one = document.activeElement, box = one.getBoundingClientRect();
  if (!one.matches(what)) return "";
  const above = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
  const seen = one.matches(":focus-visible") && getComputedStyle(one).outlineStyle === "solid";
  return seen && one.contains(above) ? "seen" : one.outerHTML + " is under " + above?.outerHTML;
}"""


def press(phone: Phone, what: str, *keys: str) -> None:
    """Come by Tab from the heading, on which a screen begins, to a place, and press keys there."""
    phone.page.wait_for_function("document.activeElement.matches('h1')")
    come_to(phone, what)
    for key in keys:
        phone.page.keyboard.press(key)


def come_to(phone: Phone, what: str) -> None:
    for _ in range(30):
        phone.page.keyboard.press("Tab")
        found = phone.page.evaluate(ON, what)
        if found:
            assert found == "seen", found
            return
    raise AssertionError(f"no Tab leads to {what}")


def test_a_piece_by_the_keyboard_alone(shop: Shop, served: Served, opens: Opens) -> None:
    phone = opens(served)
    phone.go("/")
    press(phone, "a.tile", "Enter")
    phone.arrive("set")
    press(phone, "label.big input", "Space")
    for _ in range(phone.page.locator("label.big").count() - 1):
        come_to(phone, "label.big input")
        phone.page.keyboard.press("Space")
    come_to(phone, "button[form=set]")
    phone.page.keyboard.press("Enter")
    phone.page.wait_for_url("**/cut*")
    while phone.page.locator("[data-next-step]").is_visible():
        press(phone, "[data-next-step]", "Enter")
    press(phone, "label.tick input", "Space")
    come_to(phone, "button[form=cut]")
    phone.page.keyboard.press("Enter")
    phone.arrive("judge")
    while not phone.here.endswith("/now"):
        before = phone.page.locator("h1 >> visible=true").inner_text()
        if phone.here.endswith("/number"):
            press(phone, "input[name=text]", "0", ".", "3", "Enter")
        else:
            press(phone, "input[type=radio]", "ArrowDown")
            come_to(phone, "button.go[form]")
            phone.page.keyboard.press("Enter")
        phone.page.wait_for_function(
            "b => ![b].includes(document.querySelector('h1')?.innerText)", arg=before
        )
        phone.page.wait_for_load_state()
    press(phone, "summary", "Space")
    assert phone.page.locator("details[open]").count() == 1
    assert [one.partition(" ")[0] for one in said(shop)] == ["1"] * len(said(shop))
    assert len(said(shop)) >= 4


def test_a_touch_that_marks_logs_nothing_and_a_place_touched_twice_stores_once(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = judging(opens(served))
    phone.tap(".question button.go[form]")  # nothing is marked: the browser asks for a word
    phone.mark("tight")
    phone.mark("good")
    phone.go("/s/1/judge")
    assert said(shop) == ["1"]
    phone.mark("good")
    phone.page.locator(".question button.go[form]").first.dblclick()
    phone.arrive("number")
    assert said(shop) == ["1", "1 good"]
    phone.context.add_init_script("delete Window.prototype.indexedDB; delete window.indexedDB")
    phone.go("/s/1/judge")
    assert phone.page.evaluate("typeof indexedDB") == "undefined", "nothing can be kept"
    phone.mark("flush")
    with phone.page.expect_navigation():
        phone.tap(".question button.go[form]")
    assert said(shop) == ["1", "1 good", "1 flush"]
    phone.mark("gap far")
    phone.tap("summary:has-text('walls')")  # instead of the word: that one is left
    until(phone, lambda: phone.page.locator("input[type=radio]:checked").count(), 0)
    for at, length in enumerate(("70.52", "70.03")):
        phone.page.locator("details[open] label.typed input").nth(at).fill(length)
    with phone.page.expect_navigation():
        phone.tap(".question .foot button.go")
    told = shop.words("show 1").out
    assert "walls 70.52 mm at the fence, 70.03 mm far" in told and "gap far" not in told


def test_two_people_at_one_piece_see_what_the_other_said(
    shop: Shop, served: Served, opens: Opens
) -> None:
    jo = judging(opens(served))
    kim = opens(served)
    kim.go("/s/1/judge")
    jo.say("tight")
    kim.mark("good")
    kim.tap(".question button.go[form]")
    told = kim.page.locator("text=piece 1: tight")
    told.wait_for()
    assert said(shop) == ["1", "1 tight"]
    kim.tap("label.tick")
    kim.tap("footer button.go")
    kim.page.wait_for_url(lambda url: not url.endswith("/judge") or False)
    assert said(shop) == ["1", "1 tight", "1 good"]


def test_what_another_said_is_a_band_and_changes_no_number(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = opens(served)
    phone.go("/s/1/set")
    figure = phone.page.locator("svg.figure").first
    before = figure.get_attribute("aria-label"), figure.bounding_box()
    shop.run("cut", "very tight, centred, flush")
    phone.page.locator("#moved").wait_for(state="visible")
    assert (figure.get_attribute("aria-label"), figure.bounding_box()) == before
    phone.tap("#moved a")
    phone.page.wait_for_load_state()
    assert phone.page.locator("h1").inner_text() == "Set for piece 2"


def test_back_in_the_browser_and_another_word_is_asked_about(
    shop: Shop, served: Served, opens: Opens
) -> None:
    phone = judging(opens(served))
    phone.say("tight", "0.4")
    assert phone.here == "/s/1/judge"
    phone.go("/s/1/judge")
    shop.run("cut", "--same-piece", "flush", env={"USER": "jo", "LOGNAME": "jo"})
    phone.mark("slightly proud")
    phone.tap(".question button.go[form]")
    phone.page.locator("text=you, piece 1: flush").wait_for()
    phone.tap("summary:has-text('Leave mine out')")
    phone.tap("a[data-drop]")
    phone.arrive("judge")
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
    *("/", "/start", "/start?new=1", "/s/1/set", "/s/1/cut?seen=e2", "/s/1/found", "/s/1/judge"),
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
