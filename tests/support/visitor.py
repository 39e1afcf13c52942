"""A browser, as far as the page's gate sees one: what it asks in this process, by no network."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import Any

import httpx

HTML = "text/html,application/xhtml+xml,*/*;q=0.8"


class Visitor:
    """Somebody at an address. It keeps the cookies that it is given, and says the page's own
    origin with a form, unless it is told to say another or none.
    """

    def __init__(
        self, app: Any, site: str = "http://127.0.0.1:8517", address: str = "127.0.0.1"
    ) -> None:
        self.site = site
        self.cookies = httpx.Cookies()
        self._transport = httpx.ASGITransport(app=app, client=(address, 40_000))

    def get(self, path: str, **headers: str) -> httpx.Response:
        """Open a page."""
        return self.ask("GET", path, {"accept": HTML, **_named(headers)})

    def post(
        self, path: str, data: Mapping[str, str] | None = None, origin: str | None = "", **rest: str
    ) -> httpx.Response:
        """Send a form. origin: "" for the page's own, None for none."""
        own = {} if origin is None else {"origin": origin or self.site}
        return self.ask("POST", path, {"accept": HTML, **own, **_named(rest)}, data=data or {})

    def ask(
        self, method: str, path: str, headers: Mapping[str, str], **more: Any
    ) -> httpx.Response:
        """Send a request as it is said."""

        async def asked() -> httpx.Response:
            async with httpx.AsyncClient(
                transport=self._transport, base_url=self.site, cookies=self.cookies
            ) as client:
                answer = await client.request(method, path, headers=headers, **more)
                self.cookies = client.cookies
                return answer

        return asyncio.run(asked())


def _named(headers: Mapping[str, str]) -> dict[str, str]:
    return {name.replace("_", "-"): value for name, value in headers.items()}


def raw(
    app: Any,
    method: str = "GET",
    path: str = "/",
    headers: list[tuple[bytes, bytes]] | None = None,
    body: list[dict[str, Any]] | None = None,
    client: tuple[str, int] = ("127.0.0.1", 40_000),
) -> tuple[list[dict[str, Any]], int]:
    """Send what no library sends; return the answer's messages and how many parts of the body were
    taken. body: its messages; after the last one nothing comes any more.
    """
    left, sent, taken = list(body or []), [], 0

    async def receive() -> dict[str, Any]:
        nonlocal taken
        if not left:
            await asyncio.sleep(60)
        taken += 1
        return left.pop(0)

    async def send(message: dict[str, Any]) -> None:
        sent.append(message)

    scope = {
        "type": "http",
        "asgi": {"version": "3.0"},
        "http_version": "1.1",
        "method": method,
        "path": path,
        "raw_path": path.encode(),
        "root_path": "",
        "query_string": b"",
        "scheme": "http",
        "headers": headers or [],
        "client": client,
        "server": ("127.0.0.1", 8517),
    }
    asyncio.run(app(scope, receive, send))
    return sent, taken


def code_of(answer: httpx.Response) -> str:
    """The code of a refusal, which is in its sentence."""
    before, found, after = answer.text.partition('data-code="')
    assert found and before, answer.text
    return after.split('"')[0]
