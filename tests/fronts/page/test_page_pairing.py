"""How a phone comes in: by the number that the computer shows, then under a name."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Iterator
from datetime import timedelta

import httpx
import pytest
from house import SITE, House
from shop import Shop
from visitor import code_of

from fitlog.fronts.page.pairing import TRIES, TRIES_EACH
from fitlog.fronts.page.phones import PhoneBook
from fitlog.log import open_log


@pytest.fixture
def house(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> Iterator[House]:
    monkeypatch.setenv("LOGNAME", "owner")
    shop.stocked().run("prefer", "--name", "Wren", "--units", "fraction")
    made = House(shop)
    yield made
    asyncio.run(made.desk.close())


def test_a_new_phone_types_the_number_then_says_who_holds_it(house: House) -> None:
    phone = house.visitor()
    assert phone.get("/").headers["location"] == "/pair"
    form = phone.get("/pair")
    assert 'inputmode="numeric"' in form.text and "Wren" not in form.text
    (number,) = house.screen.numbers
    answer = phone.post("/pair", {"number": f" {number[:3]} {number[3:]} "})
    assert answer.headers["location"] == "/"
    assert phone.get("/").headers["location"] == "/who"
    who = phone.get("/who")
    assert 'value="Wren"' in who.text
    assert phone.post("/who", {"name": "Wren", "other": ""}).headers["location"] == "/"
    assert phone.get("/").json() == [1, "owner", False]
    assert phone.get("/pair").headers["location"] == "/"
    for text in (form.text, answer.text, who.text, answer.headers["location"]):
        assert number not in text


def test_the_key_is_long_and_kept_from_scripts_and_other_sites(house: House) -> None:
    phone = house.visitor()
    phone.get("/pair")
    said = phone.post("/pair", {"number": house.screen.numbers[-1]}).headers["set-cookie"]
    name, _, rest = said.partition("=")
    key, *told = rest.split("; ")
    assert name == "fitlog" and re.fullmatch("[A-Za-z0-9_-]{43}", key)  # 6 bits each: 256
    assert {*told} == {"HttpOnly", "Max-Age=34560000", "Path=/", "SameSite=strict"}
    assert key not in house.book.path.read_text() and key not in "".join(house.screen.lines)


def test_over_tls_the_key_goes_over_nothing_else(shop: Shop) -> None:
    house = House(shop.stocked(), secure=True)
    phone = house.visitor()
    phone.get("/pair")
    answer = phone.post("/pair", {"number": house.screen.numbers[-1]})
    assert "; Secure" in answer.headers["set-cookie"]
    asyncio.run(house.desk.close())


@pytest.mark.parametrize(
    "typed", ["", "12345", "1234567", "12345a", "１２３４５６", "-12345", "1.2e34"]
)
def test_what_is_no_number_is_no_try(house: House, typed: str) -> None:
    phone = house.visitor()
    phone.get("/pair")
    for _ in range(TRIES):
        answer = phone.post("/pair", {"number": typed})
        assert (answer.status_code, code_of(answer)) == (200, "not-six-digits")
    assert phone.post("/pair", {"number": house.screen.numbers[-1]}).status_code == 303


def test_a_wrong_number_lets_nobody_in(house: House) -> None:
    phone = house.visitor()
    phone.get("/pair")
    for _ in range(TRIES_EACH):
        answer = phone.post("/pair", {"number": house.screen.wrong()})
        assert (answer.status_code, code_of(answer)) == (200, "wrong-number")
        assert "set-cookie" not in answer.headers and house.screen.wrong() not in answer.text
    answer = phone.post("/pair", {"number": house.screen.numbers[-1]})
    assert (answer.status_code, code_of(answer)) == (429, "too-many-tries")
    assert house.book.all() == ()
    other = house.visitor("192.0.2.8")
    assert other.post("/pair", {"number": house.screen.numbers[-1]}).status_code == 303


@pytest.mark.parametrize("body", ["number", "number=%ff", "=&" * 300, "a=1&" * 300, "\xff"])
def test_what_is_no_form_is_refused(house: House, body: str) -> None:
    said = {"origin": SITE, "content-type": "application/x-www-form-urlencoded"}
    phone = house.visitor()
    phone.get("/pair")
    answer = phone.ask("POST", "/pair", said, content=body.encode("latin-1"))
    assert (answer.status_code, code_of(answer)) == (400, "bad-form")


def test_a_number_in_the_address_is_none(house: House) -> None:
    phone = house.visitor()
    phone.get("/pair")
    phone.get(f"/pair?number={house.screen.numbers[-1]}")
    answer = phone.post(f"/pair?number={house.screen.numbers[-1]}")
    assert code_of(answer) == "not-six-digits" and house.book.all() == ()


@pytest.mark.parametrize(("accept", "path"), [("*/*", "/"), ("image/*", "/x.svg")])
def test_a_script_of_a_phone_that_is_not_let_in_is_told_so(
    house: House, accept: str, path: str
) -> None:
    answer = house.visitor().get(path, accept=accept)
    assert (answer.status_code, code_of(answer)) == (401, "not-paired")
    for path in ("/say", "/who"):
        said = house.visitor().post(path, {"other": "Jo"})
        assert (said.status_code, code_of(said)) == (401, "not-paired")


def test_who_the_log_knows_is_told_to_phones_that_were_let_in(house: House) -> None:
    assert house.visitor().get("/who").headers["location"] == "/pair"


def test_what_a_page_looks_like_is_no_secret(house: House) -> None:
    """The page behind this gate has no such file; the gate lets the question through to it."""
    assert code_of(house.visitor().get("/static/page.css")) == "no-such-page"


def test_a_key_that_is_not_the_one_lets_nobody_in(house: House) -> None:
    key = house.paired("Wren").cookies["fitlog"]
    lines = [
        f"fitlog={key.swapcase()}",
        f"fitlog={key[:-1]}",
        f"Fitlog={key}",
        f"fitlog={key}; fitlog={key}",
        f"fitlog={'A' * 43}",
        f'fitlog="{key}"',
        "fitlog=",
        f"fitlog={house.book.all()[0].digest}",
    ]
    for line in lines:
        assert house.visitor().get("/", cookie=line).headers.get("location") == "/pair", line
    assert house.visitor().get("/", cookie=f"a=1; fitlog={key}").json() == [1, "owner", False]


def test_a_revoked_phone_is_out_at_once(house: House) -> None:
    first, second = house.paired("Wren"), house.paired("Jo")
    PhoneBook(house.book.path).revoke(1)  # as another process does
    assert first.get("/").headers["location"] == "/pair"
    assert first.post("/say", {}).status_code == 401
    assert second.get("/").json() == [2, "Jo", False]


def test_a_revoked_phone_is_told_nothing_more_of_what_it_follows(house: House) -> None:
    phone = house.paired("Wren")
    assert phone.get("/follow").text == "before"
    assert phone.get("/").headers["location"] == "/pair"


def test_a_phone_is_known_at_a_later_start(house: House, shop: Shop) -> None:
    phone = house.paired("Wren")
    later = House(shop)
    again = later.visitor()
    again.cookies = phone.cookies
    assert again.get("/").json() == [1, "owner", False]
    asyncio.run(later.desk.close())


def test_a_name_is_text_whatever_it_contains(house: House) -> None:
    house.paired('<b>Jo</b> & "O\'Neal"')
    shown = house.paired().get("/who").text
    assert "<b>Jo" not in shown
    assert "&lt;b&gt;Jo&lt;/b&gt; &amp; &#34;O&#39;Neal&#34;" in shown


@pytest.mark.parametrize("name", ["", "  ", "-x", "\x00", "a\x1b[31m", "n" * 61, "\u202egro"])
def test_a_name_that_cannot_be_is_asked_for_again(house: House, name: str) -> None:
    answer = house.paired().post("/who", {"other": name})
    assert (answer.status_code, code_of(answer)) == (200, "bad-name")
    assert house.book.all()[0].login == ""


def test_a_name_adds_no_header(house: House) -> None:
    phone = house.paired()
    answer = phone.post("/who", {"other": "Jo\r\nSet-Cookie: fitlog=x"})
    assert "set-cookie" not in answer.headers
    assert house.book.all()[0].name == "Jo Set-Cookie: fitlog=x"


def test_a_name_is_whose_it_is_in_the_log(house: House, shop: Shop) -> None:
    """A name before a login, in any case; somebody new has the owner's units, and keeps them."""
    shop.run("prefer", "--name", "Robin", "--units", "inch", env={"LOGNAME": "rob"})
    found = {name: house.paired(name).get("/").json()[1] for name in ("wren", "ROBIN", "rob", "Jo")}
    assert found == {"wren": "owner", "ROBIN": "rob", "rob": "rob", "Jo": "Jo"}
    assert [p.name for p in house.book.all()] == ["Wren", "Robin", "Robin", "Jo"]
    shop.run("prefer", "--units", "inch", env={"LOGNAME": "Jo"})
    house.paired("Jo")
    with open_log(str(shop.db), create=False) as log:
        units = {login: log.preferences(login).units for login in ("owner", "rob", "Jo")}
    assert units == {"owner": "fraction", "rob": "inch", "Jo": "inch"}


def test_who_only_reads_need_not_say_who(house: House, shop: Shop) -> None:
    before = shop.everything()
    reading = House(shop, read_only=True)
    phone = reading.paired()
    assert phone.get("/").json() == [1, "owner", True]
    assert code_of(phone.post("/say", {})) == code_of(phone.post("/who", {"other": "Jo"}))
    assert code_of(phone.post("/say", {})) == "only-reads"
    asyncio.run(reading.desk.close())
    assert shop.everything() == before


def test_phones_that_cannot_be_read_let_nobody_in_and_name_no_file(house: House) -> None:
    phone = house.paired("Wren")
    house.book.path.write_text("{")
    answer = phone.get("/")
    assert (answer.status_code, code_of(answer)) == (503, "phones-unkept")
    assert str(house.book.path) not in answer.text
    assert str(house.book.path) in house.screen.lines[-1]


def test_that_a_phone_is_there_is_written_down_beside_the_answer(house: House) -> None:
    phone = house.paired("Wren")
    before = house.book.all()[0].seen
    house.book._now = lambda: before + timedelta(minutes=2)

    async def look() -> None:
        transport = httpx.ASGITransport(app=house.gate)
        async with httpx.AsyncClient(
            transport=transport, base_url=SITE, cookies=phone.cookies
        ) as client:
            assert (await client.get("/")).status_code == 200
        assert house.gate._noting is not None
        await house.gate._noting

    asyncio.run(look())
    assert PhoneBook(house.book.path).all()[0].seen == before + timedelta(minutes=2)
