"""`fitlog page` as its user starts it: where it serves, what it shows, and how it ends."""

from __future__ import annotations

import re
import signal
import socket
import ssl
import sys

import httpx
import pytest
import segno
from atterminal import certificate, served
from shop import Shop, sentence

from fitlog.fronts.page import serving


@pytest.fixture(autouse=True)
def nothing_is_served_in_this_process(monkeypatch: pytest.MonkeyPatch) -> None:
    async def serve(*_: object) -> None:
        raise AssertionError("it serves, and would until the end of time")

    monkeypatch.setattr(serving._Server, "serve", serve)


def test_a_phone_comes_in_and_is_kept_out_again(shop: Shop) -> None:
    """From the number on the screen to the page, on a server of its own, and to its end."""
    shop.stocked()
    with served(shop, "--at", "127.0.0.1") as page:
        number = page.reads(r"Number for a new phone: (\d{3} \d{3}) ")
        with httpx.Client(base_url=page.url, headers={"accept": "text/html"}) as phone:
            own = {"origin": page.url}
            assert phone.get("/").headers["location"] == "/pair"
            huge = phone.post(
                "/pair",
                content=b"a" * 10_000_000,
                headers={**own, "content-type": "application/x-www-form-urlencoded"},
            )
            assert huge.status_code == 413
            assert phone.post("/pair", data={"number": number}, headers=own).status_code == 303
            assert phone.post("/who", data={"other": "Jo"}, headers=own).status_code == 303
            opened = phone.get("/")
            assert opened.status_code == 200 and "server" not in opened.headers
            assert phone.get("/static/page.css").status_code == 200
            assert phone.get("/", headers={"x-forwarded-for": "127.0.0.1"}).status_code == 200
            shop.words("page phones --revoke 1")
            assert phone.get("/").headers["location"] == "/pair"
            key = phone.cookies["fitlog"]
        assert page.ended(signal.SIGTERM) == 128 + signal.SIGTERM
    assert "A phone at 127.0.0.1 was paired" in page.shown and key not in page.shown


def test_the_loopback_address_alone_is_served_unasked(shop: Shop) -> None:
    shop.stocked()
    with served(shop) as page:
        assert re.fullmatch(r"http://127\.0\.0\.1:\d+", page.url)
        assert httpx.get(page.url).status_code == 200
        assert httpx.get(page.url, headers={"host": "shop.example"}).status_code == 421
        port = int(page.url.rsplit(":", 1)[1])
        with socket.socket() as other:  # an address of this computer, too
            assert other.connect_ex(("127.0.0.2", port)) != 0
        told = shop.refused("page", "--port", str(port))
        assert f"listens at port {port} already" in told and f"--port {port + 1}" in told
        assert page.ended(signal.SIGINT) == 130
    # Where it is, how phones come, how it ends, and that it was ended, after an empty line.
    assert page.shown.count("\n") == 5 and page.shown.count("interrupted") == 1


def test_over_tls_with_a_certificate_of_ones_own_and_only_to_be_read(shop: Shop) -> None:
    shop.stocked()
    pem, key = certificate(shop.home)
    options = ("--at", "127.0.0.1", "--read-only", "--certificate", str(pem), "--key", str(key))
    with served(shop, *options) as page:
        number = page.reads(r"Number for a new phone: (\d{3} \d{3}) ")
        assert page.url.startswith("https://") and "read along" not in page.shown
        trusted = ssl.create_default_context(cafile=str(pem))
        with httpx.Client(base_url=page.url, verify=trusted) as phone:
            said = phone.post("/pair", data={"number": number}, headers={"origin": page.url})
            assert "; Secure" in said.headers["set-cookie"]
            assert phone.post("/start", data={}, headers={"origin": page.url}).status_code == 403
        with pytest.raises(httpx.TransportError):
            httpx.get(page.url.replace("https", "http"))
        assert page.ended(signal.SIGTERM) == 143


def test_a_certificate_that_cannot_be_served_is_told(shop: Shop) -> None:
    shop.stocked()
    pem, key = certificate(shop.home)
    for files in (
        (pem, shop.home / "none.key"),
        (pem, pem),
        (key, key),
        (shop.db, key),
        (pem, shop.home / "locked.key"),
    ):
        given = ["--certificate", str(files[0]), "--key", str(files[1])]
        told = shop.refused("page", "--port", "0", *given)
        assert "cannot be served" in told and str(files[1]) in told
    half = shop.refused("page", "--port", "0", "--certificate", str(pem), code=2)
    assert "only one of them" in half


@pytest.mark.parametrize(
    "at",
    [
        *("0.0.0.0", "::", "::ffff:0.0.0.0", "224.0.0.1", "198.51.100.1", "", "a b", "x" * 99),
        *("127.0.0.1:80", "http://127.0.0.1", "[::1]", "::1%1"),
    ],
)
def test_what_is_no_address_of_this_computer_is_told(shop: Shop, at: str) -> None:
    told = shop.stocked().refused("page", "--port", "0", "--at", at)
    assert "is no one address of this computer" in told and "--at " in told.split(": ", 2)[2]


def test_an_address_in_ipv6_is_served_as_a_browser_writes_it(shop: Shop) -> None:
    try:
        socket.create_server(("::1", 0), family=socket.AF_INET6).close()
    except OSError:
        pytest.skip("this computer has no IPv6")
    with served(shop.stocked(), "--at", "::1") as page:
        assert re.fullmatch(r"http://\[::1\]:\d+", page.url)
        page.reads("(No phone reaches ::1)")
        answer = httpx.get(page.url, headers={"accept": "text/html"})
        assert answer.headers["location"] == "/pair"
        assert page.ended(signal.SIGTERM) == 143


@pytest.mark.parametrize(
    ("host", "port", "scheme", "said"),
    [
        ("Shop.Example", 8517, "http", "shop.example:8517"),
        ("Müller.example", 8517, "http", "xn--mller-kva.example:8517"),
        ("2001:db8::1", 8517, "https", "[2001:db8::1]:8517"),
        ("192.0.2.5", 443, "https", "192.0.2.5"),
        ("192.0.2.5", 443, "http", "192.0.2.5:443"),
    ],
)
def test_a_host_is_written_as_browsers_do(host: str, port: int, scheme: str, said: str) -> None:
    assert serving._authority(host, port, scheme) == said


def test_a_port_that_cannot_be_is_told(shop: Shop) -> None:
    for port in ("-1", "65536", "x"):
        sentence(shop.run("page", "--port", port, code=2).err)


def test_without_a_log_nothing_is_served(shop: Shop) -> None:
    assert "there is no log" in shop.refused("page", "--port", "0") and not shop.db.exists()


def test_damaged_phones_are_told_before_anything_is_served(shop: Shop) -> None:
    shop.stocked()
    path = shop.home / "home/config/fitlog/phones.json"
    path.parent.mkdir(parents=True)
    path.write_text("{")
    assert str(path) in shop.refused("page", "--port", "0")


def test_without_the_extra_it_says_what_to_install(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop.stocked()
    for name in [n for n in sys.modules if n.startswith("fitlog.fronts.page.")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "segno", None)
    told = shop.refused("page", "--port", "0")
    assert "needs segno" in told and "pip install '.[page]'" in told
    assert shop.words("page phones").out.startswith("No phone is paired")


def test_the_code_on_the_screen_is_the_address() -> None:
    """Light where a module is light: read back module by module, a quiet zone around it."""
    url = "http://192.168.1.20:8517"
    rows = serving.qr_rows(url)
    lights = {"█": (0, 0), "▀": (0, 1), "▄": (1, 0), " ": (1, 1)}
    read = [[lights[cell][half] for cell in row] for row in rows for half in (0, 1)]
    wanted = [[int(bool(cell)) for cell in row] for row in segno.make(url, micro=False).matrix]
    size, border = len(wanted), 2
    inner = [row[border : border + size] for row in read[border : border + size]]
    assert inner == wanted
    assert len(rows[0]) == size + 2 * border <= 40
    assert not any(any(row) for row in read[:border])
    assert not any(row[0] or row[1] or row[-1] or row[-2] for row in read[: size + 2 * border])
