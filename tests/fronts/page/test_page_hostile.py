"""The page's server in a process of its own, spoken to over sockets as no browser does: nothing
comes in, nothing is logged, nothing is told that is nobody's business, and it serves on.
"""

from __future__ import annotations

import re
import signal
import time
from collections.abc import Iterator
from contextlib import suppress

import pytest
from atterminal import served
from rawline import ANSWER, AT, Reply, Target, get, post, request
from shop import make_shop

from fitlog.fronts.page.pairing import TRIES, TRIES_EACH

PATIENCE = 2.0  # s, shorter than what people have
IMPATIENT = (
    "from fitlog.fronts.page import connection, door\n"
    f"connection._PATIENCE = door._PATIENCE = {PATIENCE}"
)
PARTS = b"2710\r\n" + b"a" * 10_000 + b"\r\n"  # of 10 000 bytes each
# What the computer may show while all this goes on.
SHOWN = re.compile(
    r"The page is at .*|No phone reaches .*|Without --cert.*|Ctrl-C ends.*|[ █▀▄]*|"
    r"Number for a new phone: \d{3} \d{3} \(until .*|A phone at 127\S+ was paired: .*|"
    r"Phone 1 is held by Jo\."
)


@pytest.fixture(scope="module")
def target(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Target]:
    """A server that is there for all of it: nothing was logged until it ends, and it served on."""
    with pytest.MonkeyPatch.context() as patch:
        shop = make_shop(tmp_path_factory.mktemp("hostile"), patch)
        shop.started()
        with served(shop, "--at", AT, first=IMPATIENT) as page:
            made, before = Target(shop, page), shop.everything()
            yield made
            assert shop.everything() == before
            assert made.says(post()).status == 303, "nothing was wrong with the answer itself"
            assert shop.everything() != before
            assert page.ended(signal.SIGTERM) == 128 + signal.SIGTERM
    assert made.key not in page.shown
    odd = [line for line in page.shown.splitlines() if not SHOWN.fullmatch(line)]
    assert odd == []


def keeps_out(target: Target, found: Reply, status: int, code: str) -> None:
    """Hold that it was refused, and that nothing else was said."""
    assert (found.status, found.code) == (status, code), found.text[:300]
    assert "data-seen" not in found.text and "tile" not in found.text
    assert target.key not in found.text and str(target.shop.home) not in found.text
    assert "\nset-cookie:" not in found.text.lower()
    if code:
        assert "content-security-policy: default-src 'none'" in found.text.lower()


BARE = 400, ""  # what is no request is told so, and no more
WRONG, CROSS = (421, "wrong-host"), (403, "cross-site")
ELSEWHERE = b"shop.example"


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        (get(host=ELSEWHERE), WRONG),
        (get(host=b"HOST.shop.example"), WRONG),
        (get(host=b"shop.example@HOST"), WRONG),
        (get(host=b"localhost"), WRONG),
        (get(b"http://shop.example/"), (404, "no-such-page")),
        (get(b"http://HOST/", host=ELSEWHERE), WRONG),
        (get(b"/", b"X-Forwarded-Host: HOST", host=ELSEWHERE), WRONG),
        (get(b"/", b"Host: HOST"), BARE),
        (get().replace(b"Host: HOST\r\n", b""), BARE),
        (get().replace(b"Host: HOST\r\n", b"").replace(b"/1.1", b"/1.0"), WRONG),
        (post(host=ELSEWHERE, origin=b"Origin: http://shop.example"), WRONG),
    ],
)
def test_another_name_opens_nothing(target: Target, said: bytes, wanted: tuple[int, str]) -> None:
    keeps_out(target, target.says(said), *wanted)


@pytest.mark.parametrize(
    "said",
    [
        *(post(origin=b""), post(origin=b"Origin: null"), post(origin=b"Origin: https://HOST")),
        *(post(origin=b"Origin: http://shop.example"), post(origin=b"Origin: http://HOST, null")),
        post(b"/s/1/answer", ANSWER, b"Origin: http://shop.example"),
        post(b"/s/1/answer", ANSWER, b"Sec-Fetch-Site: same-origin", origin=b"Origin: null"),
        post(b"/s/1/answer", ANSWER, b"Sec-Fetch-Site: same-site", origin=b""),
        post(b"/s/1/answer", ANSWER, b"Referer: http://HOST/", origin=b""),
        get(b"/s/1/set", b"Sec-Fetch-Site: cross-site", b"Sec-Fetch-Mode: no-cors"),
        get(b"/s/1/sheet.svg", b"Sec-Fetch-Site: same-site", b"Sec-Fetch-Mode: cors"),
    ],
)
def test_another_page_says_and_reads_nothing(target: Target, said: bytes) -> None:
    keeps_out(target, target.says(said), *CROSS)


@pytest.mark.parametrize(
    "cookie",
    [
        *(b"", b"fitlog=", b"fitlog=" + b"A" * 43, b"fitlog=KEY; fitlog=KEY", b"Fitlog=KEY"),
        *(b"fitlog=KEY\r\nCookie: fitlog=" + b"A" * 43, b"fitlog=KEY,", b'fitlog="KEY"'),
        *(b"a=fitlog=KEY", b"fitlog=\x7f", b"fitlog=%00KEY"),
    ],
)
def test_another_key_lets_nobody_in(target: Target, cookie: bytes) -> None:
    found = target.says(get(cookie=cookie))
    assert found.status == 303 and "location: /pair" in found.text.lower()
    keeps_out(target, target.says(post(cookie=cookie)), 401, "not-paired")


CHUNKED = b"Transfer-Encoding: chunked"


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        (post(body=b"a" * 10_000_000), (413, "too-large")),
        (post(body=PARTS * 1000 + b"0\r\n\r\n", length=CHUNKED), (413, "too-large")),
        (
            post(length=b"Content-Length: 21\r\n" + CHUNKED, body=b"21\r\n" + ANSWER),
            (400, "bad-form"),
        ),
        (post(length=CHUNKED + b"\r\nContent-Length: 0", body=b"0\r\n\r\n"), (400, "bad-form")),
        (post(length=b"Content-Length: 33\r\nContent-Length: 34"), BARE),
        (post(length=b"Content-Length: +33"), BARE),
        (post(length=b"Content-Length: 0x21"), BARE),
        (post(length=b"Transfer-Encoding: gzip, chunked", body=b"0\r\n\r\n"), BARE),
        (post(length=b"Transfer-Encoding: xchunked", body=b"0\r\n\r\n"), BARE),
        (post(length=CHUNKED + b"\r\n" + CHUNKED, body=b"0\r\n\r\n"), BARE),
        (post(length=CHUNKED, body=b"no number\r\nabc\r\n0\r\n\r\n"), BARE),
        (post(length=CHUNKED, body=b"1;" + b"a" * 40_000), BARE),
        (post().replace(b"application/x-www-form-urlencoded", b"text/plain"), (415, "not-a-form")),
    ],
)
def test_what_is_too_much_or_ends_in_two_places_is_not_taken(
    target: Target, said: bytes, wanted: tuple[int, str]
) -> None:
    keeps_out(target, target.says(said), *wanted)


def test_what_follows_a_refused_request_is_none_of_its_own(target: Target) -> None:
    """A body that says it is long, and holds another request, is a body to its end."""
    hidden = get().replace(b"Connection: close\r\n", b"")
    said = post(length=b"Content-Length: 1000", body=hidden, origin=b"Origin: null")
    with target.line() as line:
        line.sendall(target.filled(said.replace(b"Connection: close\r\n", b"")))
        told = b""
        while b"</html>" not in told:
            told += line.recv(65_536)
        line.settimeout(0.5)
        with suppress(TimeoutError):
            told += line.recv(65_536)
    keeps_out(target, Reply.of(told), *CROSS)
    assert told.count(b"HTTP/1.1 ") == 1


def test_two_requests_at_once_are_asked_about_each(target: Target) -> None:
    first = get().replace(b"Connection: close\r\n", b"")
    found = target.says(first + get(host=ELSEWHERE))
    assert re.findall(r"HTTP/1\.1 (\d+)", found.text) == ["200", "421"]


NOWHERE = (404, "no-such-page")


@pytest.mark.parametrize(
    ("path", "wanted"),
    [
        *(
            (b"/static/" + way, NOWHERE)
            for way in (b"../gate.py", b"%2e%2e/gate.py", b"..%2fgate.py")
        ),
        *(
            (b"/static/" + way, NOWHERE)
            for way in (b"/etc/hostname", b"%2fetc/hostname", b"page.js%00")
        ),
        *((b"/static/" + way, NOWHERE) for way in (b"..%5cgate.py", b"%ff", b"", b"a" * 5000)),
        *((way, NOWHERE) for way in (b"/%00", b"/%1b%5b31mred", b"/%e2%80%ae", b"//shop.example/")),
        *((way, NOWHERE) for way in (b"/s/1%0d%0aSet-Cookie:%20a=b", b"/s/-1", b"/s/1/..%2f..%2f")),
        (b"/s/" + b"9" * 400, (404, "unknown-setup")),
        (b"/s/1/cut?seen=e1&set.nothing=1", (409, "bad-choice")),
        (b"/s/1/cut?seen=e1&set.%00=1", (409, "bad-choice")),
        *((way, BARE) for way in (b"/ a", b"/\x01", b"/" + b"a" * 300_000)),
    ],
)
def test_an_address_that_is_none_leads_nowhere(
    target: Target, path: bytes, wanted: tuple[int, str]
) -> None:
    keeps_out(target, target.says(get(path)), *wanted)


@pytest.mark.parametrize(
    "said",
    [
        *(b"\x16\x03\x01\x02\x00\x01\x00" * 20, b"GET /\r\n\r\n"),
        *(b"GET / HTTP/1.1\r\nX: " + b"a" * 20_000, get(b"/", b"X : a"), get(b"/", b"X: a\0b")),
    ],
)
def test_what_is_no_request_is_told_so(target: Target, said: bytes) -> None:
    """Of another protocol, without an end, or of no grammar."""
    keeps_out(target, target.says(said), *BARE)


@pytest.mark.parametrize("method", [b"TRACE /", b"CONNECT HOST", b"OPTIONS *", b"DELETE /s/1"])
def test_a_page_is_looked_at_and_posted_to(target: Target, method: bytes) -> None:
    keeps_out(target, target.says(request(method + b" HTTP/1.1")), 405, "no-method")


def test_who_is_slow_is_let_go_of_and_everybody_else_is_served(target: Target) -> None:
    """A head and a body that come drop by drop, a body that stops, and one that says nothing."""
    slow = [target.line() for _ in range(4)]
    head = get()
    body = target.filled(post(length=b"Content-Length: 30000", body=b"a="))
    slow[1].sendall(body)
    slow[2].sendall(body)
    since = time.monotonic()
    for n in range(int(PATIENCE / 0.1)):
        for line, drop in ((slow[0], head[n : n + 1]), (slow[1], b"a")):
            line.sendall(drop)
        time.sleep(0.1)
        if n == 5:
            assert target.says(get()).status == 200
    heard = [target.heard(line) for line in slow]
    assert [(one.status, one.code) for one in heard] == [
        *((0, ""), (408, "too-slow"), (408, "too-slow"), (0, ""))
    ]
    assert time.monotonic() - since >= PATIENCE
    for line in slow:
        line.close()


def test_who_opens_many_connections_takes_them_from_nobody_else(target: Target) -> None:
    lines = [target.line("127.0.0.9") for _ in range(110)]
    assert target.says(get()).status == 200
    gone = [line for line in lines[100:] if target.heard(line).text == ""]
    assert len(gone) == 10
    assert target.heard(lines[0], get()).status == 200
    for line in lines:
        line.close()


def test_guessing_from_many_addresses_ends_the_number(target: Target) -> None:
    """Those that are only said to be others are one. One run in 100 000 guesses a number."""

    def tries(number: int, source: str, *more: bytes) -> str:
        return target.says(post(b"/pair", b"number=%06d" % number, *more, cookie=b""), source).code

    assert target.says(get(b"/pair", cookie=b""), "127.0.1.1").status == 200  # a number is shown
    others = [b"X-Forwarded-For: 198.51.100.%d" % n for n in range(TRIES_EACH + 1)]
    found = [tries(n, "127.0.1.1", other) for n, other in enumerate(others)]
    assert found == ["wrong-number"] * TRIES_EACH + ["too-many-tries"]
    found = [tries(n, f"127.0.1.{n}") for n in range(TRIES_EACH + 2, 40)]
    assert found[: TRIES - TRIES_EACH] == ["wrong-number"] and {*found[1:]} == {"too-many-tries"}
    assert target.says(get()).status == 200, "who is in is not kept out"
