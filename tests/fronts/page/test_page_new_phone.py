"""A phone that is new at the page, in a real browser: from the code on the terminal to a set-up,
and what it is told once it is let in no more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from typing import Any

import pytest
import segno
from atterminal import Served, certificate, served
from browsing import Phone, playing
from shop import Shop

pytestmark = pytest.mark.browser
NUMBER = r"Number for a new phone: (\d{3} \d{3}) "
SCREENS = (
    *(
        "/",
        "/start",
        "/start?joint=half-blind dovetail",
        "/s/1",
        "/s/1/set",
        "/s/1/cut",
        "/s/1/judge",
    ),
    *("/s/1/number", "/s/1/now", "/s/1/progress", "/s/1/back", "/s/1/finish", "/s/1/found"),
    *("/s/1/boards", "/s/1/check", "/s/1/looked", "/s/1/fault", "/s/1/keep", "/s/1/begun"),
)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playing() as one:
        yield one


@pytest.fixture
def opens(browser: Any) -> Iterator[Callable[..., Phone]]:
    with ExitStack() as closing:

        def open_(server: Served, **options: Any) -> Phone:
            phone = Phone(browser, server, **options)
            closing.callback(phone.close)
            return phone

        yield open_


def new_number(page: Served) -> str:
    """The number that is shown next."""
    page.shown = ""
    return page.reads(NUMBER)


def code_shown(page: Served) -> list[list[bool]]:
    """The code on the terminal, module by module: its half blocks are light, on a dark screen."""
    halves = {"█": (0, 0), "▀": (0, 1), "▄": (1, 0), " ": (1, 1)}
    rows = [line for line in page.shown.splitlines() if line and set(line) <= {*halves}]
    return [[bool(halves[cell][half]) for cell in row] for row in rows for half in (0, 1)]


def types(phone: Phone, number: str) -> None:
    phone.page.locator("input[name=number]").fill(number)
    with phone.page.expect_navigation():
        phone.tap("button.go")


def test_a_new_phone_from_the_code_to_a_set_up_and_after_it_was_let_in_no_more(
    shop: Shop, opens: Callable[..., Phone]
) -> None:
    shop.started()
    with served(shop, "--at", "127.0.0.2") as page:
        number = page.reads(NUMBER)
        wanted = [[bool(c) for c in row] for row in segno.make(page.url, micro=False).matrix]
        shown = code_shown(page)
        assert [row[2:-2] for row in shown[2 : len(wanted) + 2]] == wanted
        phone = opens(page)
        phone.go("/")
        phone.arrive("pair")
        types(phone, "000000" if number != "000 000" else "000001")
        refused = phone.page.locator("[data-code=wrong-number]")
        assert refused.inner_text().startswith("That is not the number")
        types(phone, number)
        phone.arrive("who")
        phone.page.locator("input[name=other]").fill("Jo")
        phone.tap("button.go")
        phone.tap("a.tile")
        phone.set_and_cut()
        (cookie,) = phone.context.cookies()
        flags = [cookie[name] for name in ("httpOnly", "sameSite", "secure", "path")]
        assert flags == [True, "Strict", False, "/"]
        assert phone.page.evaluate("document.cookie") == ""
        _revoked(shop, page, phone)
        assert not [url for url in phone.asked if cookie["value"] in url or "number=" in url]


def _revoked(shop: Shop, page: Served, phone: Phone) -> None:
    """Its page is still open: what is said there stays on it, and counts for whoever holds the
    phone after that.
    """
    shop.words("page phones --revoke 1")
    other = "<p>Welcome to this network</p>"  # which answers for everybody, and logs nothing
    phone.page.route("**/answer", lambda route: route.fulfill(body=other), times=1)
    phone.say("tight", wait=False)
    strip = phone.page.locator("#kept")
    phone.page.locator("#kept .why").wait_for()
    assert "not yet in the log. This phone is not let in" in " ".join(strip.inner_text().split())
    phone.tap("#kept a")
    phone.arrive("pair")
    types(phone, new_number(page))
    phone.arrive("who")
    phone.page.locator("input[name=other]").fill("Kim")
    phone.tap("button.go")
    phone.page.locator("#kept button").wait_for()
    assert phone.here == "/" and shop.json("show")["cuts"][-1]["said"]["fit"] is None
    phone.tap("#kept button")
    phone.page.get_by_text("Jo said this on this phone, and Kim holds it now").wait_for()
    phone.tap("label.tick")
    phone.tap("footer button.go")
    phone.arrive("judge")
    last = shop.json("show")["cuts"][-1]
    assert (last["by"], last["said"]["fit"]) == ("Kim", "tight")
    # One that can never be taken, as that of a page of another version, is left out once seen.
    elsewhere = f"{page.url}/s/1/nowhere"
    phone.page.route("**/answer", lambda route: route.continue_(url=elsewhere), times=1)
    phone.say("proud", wait=False)
    phone.page.locator("[data-code=no-such-page]").wait_for()
    phone.tap("main a.go")
    phone.page.locator("a.tile").wait_for()
    phone.go("/s/1/judge")
    phone.page.wait_for_timeout(500)
    assert strip.is_hidden() and len(shop.json("show")["cuts"]) == 2


def test_over_tls_a_page_that_is_only_read_has_no_form_and_takes_none(
    shop: Shop, opens: Callable[..., Phone]
) -> None:
    shop.started()
    shop.words("cut tight, proud")
    pem, key = certificate(shop.home)
    files = ("--certificate", str(pem), "--key", str(key))
    with served(shop, "--at", "127.0.0.2", "--read-only", *files) as page:
        phone = opens(page, ignore_https_errors=True)
        phone.go("/")
        types(phone, page.reads(NUMBER))
        assert phone.here == "/" and phone.context.cookies()[0]["secure"]
        before = shop.everything()
        for screen in SCREENS:
            phone.go(screen)
            assert phone.page.locator("form[method=post]").count() == 0, screen
        forged = phone.context.request.post(
            f"{page.url}/s/1/answer",
            form={"what": "word", "aspect": "fit", "text": "good", "key": "0123456789"},
            headers={"origin": page.url},
        )
        assert forged.status == 403 and 'data-code="only-reads"' in forged.text()
        assert shop.everything() == before
