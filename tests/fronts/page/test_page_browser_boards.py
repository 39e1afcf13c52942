"""Beside the way from piece to piece, by touch: the real boards, a joint looked at, what is wrong,
what is kept, what was found at the machine.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from browsing import Phone, Served, said
from shop import BIT, STOCK, Shop

from fitlog.families import folder_of
from fitlog.families.names import FAMILIES

pytestmark = pytest.mark.browser
Opens = Callable[..., Phone]
Serve = Callable[..., Served]
JO = dict.fromkeys(("LOGNAME", "USER"), "jo")
KIM = dict.fromkeys(("LOGNAME", "USER"), "kim")


def ready(shop: Shop) -> None:
    """A set-up of Jo's that is ready, at a machine."""
    for line in (
        ("bit", "add", "half", *BIT),
        ("stock", "add", "elm", *STOCK),
        ("machine", "add", "bench", "--fence-step", "0.05"),
        ("start", "--title", "chest"),
        ("cut", "slightly tight, gap far 0.3, proud 0.2"),
        ("cut", "good 0.2, centred, flush"),
    ):
        shop.run(*line, env=JO)


def ticked(phone: Phone) -> int:
    """How many boxes of the list are ticked."""
    return int(phone.page.locator(".stopped-at input:checked").count())


def look_at_a_joint(phone: Phone, joints: str, *words: str) -> None:
    """From the boards to what a joint says: how many are cut, and a word of each aspect."""
    phone.tap("[data-check]")
    field = phone.page.locator("input[name=after]")
    while joints != field.input_value():
        wrong = not joints.startswith(field.input_value())
        key = phone.page.evaluate("document.body.dataset.erase") if wrong else ""
        phone.tap(f".keypad button:text-is('{key or joints[len(field.input_value())]}')")
    for word in words:
        step(phone)
        phone.mark(word)
    if phone.page.locator("[data-next-step]").is_visible():
        step(phone)


def step(phone: Phone) -> None:
    """Touch Next until the step is another: right after the one before a touch is not heard."""
    count = phone.page.locator("[data-count]")
    before = count.inner_text()
    while count.inner_text() == before:
        phone.tap("[data-next-step]")


def test_real_boards_are_ticked_and_counted_and_a_joint_stops_them(
    shop: Shop, serve: Serve, opens: Opens
) -> None:
    ready(shop)
    served = serve()
    phone = opens(served)
    phone.go("/s/1/boards")
    phone.tap(".stopped-at")
    assert ticked(phone) == 0, "one short touch ticks nothing"
    phone.hold(".stopped-at")
    phone.hold(".stopped-at >> nth=2")
    assert ticked(phone) == 2
    served.end()
    served.start()
    phone.go("/s/1/boards")
    assert ticked(phone) == 2
    phone.hold("[data-hold=joint]")
    assert phone.page.locator("output.joints").inner_text() == "1"
    assert phone.page.locator("[data-due]").is_visible()
    look_at_a_joint(phone, "1", "good", "flush", "centred")
    phone.tap("footer button.go[form]")
    phone.arrive("looked")
    assert phone.page.locator("h1").inner_text() == "Go on"
    phone.tap("footer a.go")
    phone.arrive("boards")
    assert phone.page.locator("[data-due]").is_hidden() and ticked(phone) == 2
    look_at_a_joint(phone, "15", "very tight", "not judged", "not judged")
    phone.tap("footer button.go[form]")
    phone.arrive("looked")
    assert phone.page.locator("h1").inner_text() == "Look at the next joint"
    phone.tap("footer a.go")
    phone.arrive("boards")
    look_at_a_joint(phone, "16", "very tight", "not judged", "not judged")
    phone.context.set_offline(True)
    phone.tap("footer button.go[form]")
    phone.page.locator("text=It goes on once the log has it").wait_for()
    assert said(shop)[-1] == "4 very tight"
    phone.context.set_offline(False)
    phone.arrive("looked")
    assert phone.page.locator("h1").inner_text() == "Stop"
    assert "bit height" in phone.page.locator(".big .name").all_inner_texts()
    shop.run("cut", "slightly tight", env=JO)
    phone.go("/s/1/boards")
    assert ticked(phone) == 0, "the stops are others"
    name_boards_and_touch_what_is_wrong(phone)


def name_boards_and_touch_what_is_wrong(phone: Phone) -> None:
    """On the boards: their order stays as it was named, and the drawing leads to causes."""
    phone.tap("summary:has-text('Which boards')")
    phone.page.locator("input[name=boards]").fill("front 2, back 2, side 4")
    phone.tap("details[open] form button")
    phone.page.wait_for_url("**/boards?boards=*")
    boxes = phone.page.locator(".stopped-at").count()
    phone.tap("footer a:has-text('What is wrong?')")
    phone.arrive("fault")
    place = phone.page.locator("svg.seen a").first
    symptom = str(place.get_attribute("aria-label")).partition(": ")[2]
    place.tap()
    phone.page.wait_for_url("**/fault?what=*")
    assert phone.page.locator("h1").inner_text() == symptom
    assert phone.page.locator("text=Cure:").count() > 1
    phone.go("/s/1/boards")
    phone.page.wait_for_url("**/boards?boards=*")
    assert phone.page.locator(".stopped-at").count() == boxes


def test_another_family_has_its_own_boards(shop: Shop, serve: Serve, opens: Opens) -> None:
    example = import_module(f"{folder_of('box')}.example")
    for line in (*example.BEFORE, example.EXAMPLE):
        shop.run(*line, env=JO)
    words = [kind.settling for kind in FAMILIES["box"].kinds]
    shop.run("cut", ", ".join(words), env=JO)
    shop.run("cut", ", ".join(words), env=JO)
    phone = opens(serve(), 768)
    phone.go("/s/1/boards")
    phone.hold(".stopped-at")
    assert ticked(phone) == 1
    look_at_a_joint(phone, "1", *words)
    phone.tap("footer button.go[form]")
    phone.arrive("looked")
    assert phone.page.locator("h1").inner_text() == "Go on"
    phone.go("/s/1/fault")
    phone.page.locator("svg.seen a").last.tap()
    phone.page.wait_for_url("**/fault?what=*")
    assert phone.page.locator("text=Cure:").count() > 1


def saved(phone: Phone, what: str) -> bytes:
    """What a touch on a link to a file gives to keep."""
    if phone.page.locator(f"details:not([open]) a[href$='{what}']").count():
        phone.tap(f"details:has(a[href$='{what}']) summary")
    with phone.page.expect_download() as found:
        phone.tap(f"a[href$='{what}']")
    path: Any = found.value.path()
    return Path(path).read_bytes()


def measure_first(phone: Phone, dialled: str) -> None:
    """From the tile of a set-up at whose machine Kim was since, to what is to be dialled."""
    phone.go("/")
    tile = phone.page.locator("a.tile:has-text('chest')")
    assert "kim was at bench since, with set-up 2: measure first" in tile.inner_text()
    tile.tap()
    phone.arrive("set")
    assert "kim" in phone.page.locator(".band").first.inner_text()
    phone.tap("a:text-is('Measure first')")
    phone.arrive("found")
    for key in "9.1":
        phone.tap(f".keypad button:text-is('{key}')")
    while phone.page.locator("[data-next-step]").is_visible():
        step(phone)
    phone.tap("footer button.go[form]")
    phone.page.locator("main .big").wait_for()
    told = phone.page.locator("main .big").inner_text()
    assert "9.10 mm" in told and dialled in told


def test_measured_first_then_taken_back_brought_back_finished_kept_and_told_after(
    shop: Shop, serve: Serve, opens: Opens
) -> None:
    ready(shop)
    shop.run("bit", "add", "other", *BIT, env=KIM)
    height = shop.run("next", "--json", env=JO).document["settings"]["bit_height"]
    shop.run("start", "--bit", "other", env=KIM)
    phone = opens(serve(), 320)
    measure_first(phone, f"{height:.2f} mm")
    phone.go("/s/1/now")
    for left in (2, 1):  # what was found is the newest, then the second piece
        phone.tap("header a.undo")
        phone.arrive("back")
        phone.tap("label.tick")
        phone.tap("footer button.go")
        phone.page.wait_for_url(lambda url: not url.endswith("/back"))
        assert len(said(shop)) == left
    phone.go("/s/1/back")
    phone.tap("label.tick >> nth=1")
    phone.tap("main button")
    phone.page.wait_for_url(lambda url: not url.endswith("/back"))
    assert len(said(shop)) == 2
    phone.go("/s/1/finish")
    phone.mark("Finish")
    phone.tap("footer button.go")
    phone.arrive("now")
    phone.tap("footer a:has-text('Keep')")
    phone.arrive("keep")
    for about, text in (("Title", "lid"), ("What became of it", "tight with glue")):
        phone.tap(f"summary:text-is('{about}')")
        phone.page.locator("details[open] input[name=text]").fill(text)
        with phone.page.expect_navigation():
            phone.tap("details[open] button")
    written = phone.page.locator("ul.told").inner_text()
    assert "lid" in written and "tight with glue" in written
    assert shop.run("show", "1", "--json").document["setup"]["status"] == "finished"
    assert saved(phone, "label.pdf").startswith(b"%PDF-")
    drawing = ElementTree.fromstring(saved(phone, "label.svg"))
    assert drawing.tag.endswith("svg")
