"""Who may come in at the page, and what every answer tells the browser, whoever asks."""

from __future__ import annotations

from typing import Any

import httpx
import pytest
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, StreamingResponse
from starlette.routing import Route
from visitor import Visitor, code_of, raw

from fitlog.fronts.page import door as doors
from fitlog.fronts.page.buckets import Buckets
from fitlog.fronts.page.door import MOST_BODY, Door
from fitlog.fronts.page.gate import Gate

HOSTS = frozenset({"127.0.0.1:8517", "localhost:8517"})
OURS = [(b"host", b"127.0.0.1:8517"), (b"origin", b"http://127.0.0.1:8517")]
FORM = (b"content-type", b"application/x-www-form-urlencoded")


class Site:
    """A page behind the gate, which says what came through to it."""

    def __init__(self, **door: Any) -> None:
        self.said: list[str] = []
        self.complaints: list[str] = []
        page = Starlette(
            routes=[
                Route("/", self._look),
                Route("/say", self._say, methods=["POST"]),
                Route("/broken", self._broken),
                Route("/half", self._half),
            ]
        )
        self.gate = Gate(page, Door(HOSTS, "wren", **door), None, self._complain)

    def _complain(self, text: str, **values: object) -> None:
        self.complaints.append(text.format(**values))

    async def _look(self, request: Request) -> JSONResponse:
        phone = request.scope["phone"]
        self.said.append("looked")
        return JSONResponse([phone.number, phone.login, phone.only_reads])

    async def _say(self, request: Request) -> PlainTextResponse:
        body = await request.body()
        self.said.append(body.decode())
        return PlainTextResponse(str(len(body)))

    async def _broken(self, _request: Request) -> PlainTextResponse:
        raise KeyError("the-secret")

    async def _half(self, _request: Request) -> StreamingResponse:
        def parts() -> Any:
            yield "one"
            raise KeyError("the-secret")

        return StreamingResponse(parts())


@pytest.fixture
def site() -> Site:
    return Site()


def test_the_computer_itself_comes_in(site: Site) -> None:
    for own in ("http://127.0.0.1:8517", "http://localhost:8517", "http://LOCALHOST:8517"):
        assert Visitor(site.gate, own).get("/").json() == [0, "wren", False]
    assert Visitor(site.gate).post("/say", {"a": "1"}).text == "3"
    assert site.said[-1] == "a=1"


@pytest.mark.parametrize(
    "host",
    [
        *("shop.example", "shop.example:8517", "127.0.0.1", "127.0.0.1:80", "127.0.0.1:85170"),
        *("127.0.0.1:8517.shop.example", "shop.example@127.0.0.1:8517", "[::1]:8517", ""),
        *("127.0.0.1:8517, shop.example", "2130706433:8517", "<script>alert(1)</script>"),
    ],
)
def test_a_name_that_only_leads_here_opens_nothing(site: Site, host: str) -> None:
    answer = Visitor(site.gate).get("/", host=host)
    assert (answer.status_code, code_of(answer)) == (421, "wrong-host")
    assert "<script>alert" not in answer.text and site.said == []


@pytest.mark.parametrize("more", [[], [(b"host", b"127.0.0.1:8517")] * 2])
def test_no_host_and_two_are_none(site: Site, more: list[tuple[bytes, bytes]]) -> None:
    sent, _ = raw(site.gate, headers=more)
    assert sent[0]["status"] == 421 and site.said == []


@pytest.mark.parametrize(
    "origin",
    [
        *("null", "http://shop.example", "https://127.0.0.1:8517", "http://127.0.0.1:8518"),
        *("http://localhost:8517", "http://127.0.0.1:8517/", "http://127.0.0.1:8517.shop.example"),
    ],
)
def test_a_form_of_another_page_says_nothing(site: Site, origin: str) -> None:
    """Another name of ours is another origin, too: a browser says the one of the page at hand."""
    answer = Visitor(site.gate).post("/say", {"a": "1"}, origin)
    assert (answer.status_code, code_of(answer)) == (403, "cross-site")
    # What a script of another site can add changes nothing.
    assert Visitor(site.gate).post("/say", origin=origin, sec_fetch_site="same-origin").is_error
    assert site.said == []


@pytest.mark.parametrize(
    ("fetch", "status"),
    [("same-origin", 200), ("same-site", 403), ("cross-site", 403), ("none", 403), ("", 403)],
)
def test_without_an_origin_the_browser_says_what_sent_it(
    site: Site, fetch: str, status: int
) -> None:
    said = {"sec_fetch_site": fetch} if fetch else {}
    assert Visitor(site.gate).post("/say", {}, None, **said).status_code == status


def test_two_origins_are_none(site: Site) -> None:
    sent, _ = raw(site.gate, "POST", "/say", [*OURS, OURS[1], FORM])
    assert sent[0]["status"] == 403


def test_a_link_leads_here_and_a_picture_of_another_site_does_not(site: Site) -> None:
    visitor = Visitor(site.gate)
    assert visitor.get("/", sec_fetch_site="cross-site", sec_fetch_mode="navigate").is_success
    for site_said in ("cross-site", "same-site"):
        answer = visitor.get("/", sec_fetch_site=site_said, sec_fetch_mode="no-cors")
        assert code_of(answer) == "cross-site"
    assert visitor.get("/", sec_fetch_site="same-origin", sec_fetch_mode="cors").is_success


@pytest.mark.parametrize("method", ["PUT", "DELETE", "OPTIONS", "TRACE", "PATCH", "POSTS"])
def test_a_page_is_looked_at_or_posted_to(site: Site, method: str) -> None:
    answer = Visitor(site.gate).ask(method, "/", {})
    assert (answer.status_code, answer.headers["allow"]) == (405, "GET, HEAD, POST")
    assert site.said == []


def test_ten_megabytes_are_refused_unread(site: Site) -> None:
    declared = (b"content-length", b"10000000")
    parts = [{"type": "http.request", "body": b"a" * 10_000_000, "more_body": False}]
    sent, taken = raw(site.gate, "POST", "/say", [*OURS, FORM, declared], parts)
    assert (sent[0]["status"], taken) == (413, 0)
    assert site.said == []


def test_ten_megabytes_without_a_length_are_refused_once_they_are_too_many(site: Site) -> None:
    part = {"type": "http.request", "body": b"a" * 10_000, "more_body": True}
    chunked = (b"transfer-encoding", b"chunked")
    sent, taken = raw(site.gate, "POST", "/say", [*OURS, FORM, chunked], [part] * 1000)
    assert (sent[0]["status"], taken) == (413, MOST_BODY // 10_000 + 1)
    assert site.said == []


def test_a_body_may_be_as_long_as_is_said(site: Site) -> None:
    visitor = Visitor(site.gate)
    kept, more = {"a": "b" * (MOST_BODY - 2)}, {"a": "b" * (MOST_BODY - 1)}
    assert visitor.post("/say", kept).text == str(MOST_BODY)
    assert code_of(visitor.post("/say", more)) == "too-large"


@pytest.mark.parametrize("length", [b"-1", b"1e9", b"9" * 5000, b"\xc2\xb2", b"0x10", b""])
def test_a_length_that_is_none_is_refused(site: Site, length: bytes) -> None:
    sent, _ = raw(site.gate, "POST", "/say", [*OURS, FORM, (b"content-length", length)])
    assert sent[0]["status"] == 413


@pytest.mark.parametrize("kind", ["text/plain", "application/json", "multipart/form-data"])
def test_only_forms_are_taken(site: Site, kind: str) -> None:
    said = {**{k.decode(): v.decode() for k, v in OURS}, "content-type": kind}
    answer = Visitor(site.gate).ask("POST", "/say", said, content=b"a=1")
    assert (answer.status_code, code_of(answer), site.said) == (415, "not-a-form", [])


def test_a_body_that_does_not_come_is_not_waited_for(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(doors, "_PATIENCE", 0.05)
    part = {"type": "http.request", "body": b"a=", "more_body": True}
    sent, taken = raw(site.gate, "POST", "/say", [*OURS, FORM], [part])
    assert (sent[0]["status"], taken, site.said) == (408, 1, [])


def test_who_went_away_gets_no_answer_and_said_nothing(site: Site) -> None:
    parts = [
        {"type": "http.request", "body": b"a=", "more_body": True},
        {"type": "http.disconnect"},
    ]
    sent, _ = raw(site.gate, "POST", "/say", [*OURS, FORM], parts)
    assert sent == [] and site.said == []


def _policy(answer: httpx.Response) -> None:
    said = answer.headers
    policy = said["content-security-policy"]
    assert "default-src 'none'" in policy and "unsafe" not in policy and "*" not in policy
    assert "frame-ancestors 'none'" in policy and "base-uri 'none'" in policy
    assert said["x-content-type-options"] == "nosniff"
    assert said["referrer-policy"] == "same-origin"
    assert said["cross-origin-resource-policy"] == said["cross-origin-opener-policy"]
    assert said["cache-control"] == "no-store"
    assert "access-control-allow-origin" not in said


def test_every_answer_has_the_headers(site: Site) -> None:
    visitor = Visitor(site.gate)
    answers = [visitor.get(path) for path in ("/", "/nowhere", "/broken", "/pair")]
    answers += [visitor.get("/", host="x"), visitor.post("/say"), visitor.post("/say", {}, "null")]
    answers += [visitor.ask("HEAD", "/", {}), visitor.ask("PUT", "/", {})]
    assert [a.status_code for a in answers] == [200, 404, 500, 303, 421, 200, 403, 200, 405]
    for answer in answers:
        _policy(answer)


def test_what_the_page_says_bare_is_a_sentence(site: Site) -> None:
    visitor = Visitor(site.gate)
    nowhere = visitor.get("/<b>nowhere")
    assert (nowhere.status_code, code_of(nowhere)) == (404, "no-such-page")
    assert "<b>nowhere" not in nowhere.text and "&lt;b&gt;nowhere" in nowhere.text
    wrong = visitor.get("/say")
    assert (wrong.status_code, code_of(wrong)) == (405, "no-method")


def test_what_goes_wrong_here_is_told_here_and_without_a_secret(site: Site) -> None:
    answer = Visitor(site.gate).get("/broken?key=the-secret")
    assert (answer.status_code, code_of(answer)) == (500, "page-failed")
    (line,) = site.complaints
    assert line.startswith("fitlog: the page failed at GET /broken: KeyError in test_page_gate.py:")
    assert "the-secret" not in answer.text + line and "Traceback" not in answer.text


def test_half_an_answer_does_not_end_as_a_whole_one(site: Site) -> None:
    with pytest.raises(KeyError):
        raw(site.gate, path="/half", headers=OURS[:1])
    assert len(site.complaints) == 1


def test_a_page_that_is_only_read_takes_nothing() -> None:
    site = Site(read_only=True)
    visitor = Visitor(site.gate)
    answer = visitor.post("/say", {"a": "1"})
    assert (answer.status_code, code_of(answer), site.said) == (403, "only-reads", [])
    assert visitor.get("/").json() == [0, "wren", True]


def test_a_bucket_fills_again() -> None:
    now = [0.0]
    buckets = Buckets(2.0, 3.0, lambda: now[0])
    assert [buckets.take("a") for _ in range(4)] == [True, True, True, False]
    assert buckets.take("b")
    now[0] = 0.5
    assert [buckets.take("a") for _ in range(2)] == [True, False]
    now[0] = 1000.0
    assert [buckets.take("a") for _ in range(4)] == [True, True, True, False]


def test_who_asks_without_end_is_slowed_down_alone(site: Site) -> None:
    site.gate._addresses = Buckets(0.0, 3.0)
    near, far = Visitor(site.gate), Visitor(site.gate, address="192.0.2.7")
    assert [near.get("/").status_code for _ in range(4)] == [200, 200, 200, 429]
    answer = near.get("/")
    assert code_of(answer) == "too-often" and answer.headers["retry-after"] == "5"
    assert far.get("/").status_code == 200


def test_an_address_of_many_is_one(site: Site) -> None:
    """A device has 2 to the 64 addresses of its network of IPv6."""
    site.gate._addresses = Buckets(0.0, 1.0)
    found = [
        raw(site.gate, headers=OURS[:1], client=(address, 1))[0][0]["status"]
        for address in ("2001:db8::1", "2001:db8::2%eth0", "2001:db8:0:1::1")
    ]
    assert found == [200, 429, 200]


def test_ten_phones_that_poll_all_day_are_never_slowed_down() -> None:
    """Each asks once a second, and opens a page with its style and script every three."""
    from fitlog.fronts.page import gate

    now = [0.0]
    phone, address = (Buckets(*size, lambda: now[0]) for size in (gate._PHONE, gate._ADDRESS))
    for second in range(3600):
        now[0] = float(second)
        for number in range(10):
            for _ in range(1 if second % 3 else 5):
                assert phone.take(number) and address.take("one access point")
