"""Which requests are for this page at all: the address that they were sent to, the page that they
come from, and how large they may be. Whose they are is the gate's question.
"""

from __future__ import annotations

import asyncio
from collections.abc import Collection
from dataclasses import dataclass

from starlette.datastructures import Headers
from starlette.types import Receive

from ...errors import Refused

MOST_BODY = 65_536  # bytes
_PATIENCE = 10.0  # s for a body to arrive
_FORM = "application/x-www-form-urlencoded"


class Gone(Exception):
    """Whoever asked has gone away meanwhile."""


@dataclass(frozen=True, slots=True)
class Door:
    """Where the page is served. hosts: what a request's Host may read, port and all; secure: over
    TLS; open: who comes to the computer's own door needs no pairing; read_only: nobody may say
    anything; owner: the login of whoever started it.
    """

    hosts: Collection[str]
    owner: str
    secure: bool = False
    open: bool = True
    read_only: bool = False

    def require_ours(self, method: str, headers: Headers) -> None:
        """Refuse what was not sent to this page, or not by it. Raises Refused: wrong-host,
        no-method, cross-site.

        A page of another site reaches this one by a name of its own that leads here (rebinding), by
        a form or by a script; the browser says in Host, Origin and Sec-Fetch-* what it is.
        """
        host = headers.getlist("host")
        if len(host) != 1 or host[0].lower() not in self.hosts:
            raise Refused(
                "wrong-host",
                "this page is not at {host!r}",
                "open it at the address that the computer shows",
                host=", ".join(host)[:60],
            )
        if method not in ("GET", "HEAD", "POST"):
            raise Refused(
                "no-method",
                "this page knows no {method!r}",
                "use what it shows",
                method=method[:20],
            )
        own = f"{'https' if self.secure else 'http'}://{host[0].lower()}"
        if not (_is_own_post(headers, own) if method == "POST" else _is_own_look(headers)):
            raise Refused(
                "cross-site",
                "that was sent by another site",
                "open this page itself, and say it there",
            )

    def require_small(self, headers: Headers) -> None:
        """Refuse a body by what is said of it. Raises Refused: bad-form, too-large, not-a-form."""
        if "content-length" in headers and "transfer-encoding" in headers:
            raise Refused(  # where it ends is then a matter of opinion
                "bad-form", "what was sent is no form of this page", "open the page again"
            )
        length = headers.get("content-length", "0")
        if not (length.isascii() and length.isdecimal()) or int(length[:12]) > MOST_BODY:
            raise _too_large()
        kind = headers.get("content-type", "").split(";")[0].strip().lower()
        if kind != _FORM and (kind or length != "0" or "transfer-encoding" in headers):
            raise Refused(
                "not-a-form",
                "this page takes forms, not {kind!r}",
                "open it, and say it there",
                kind=kind[:60],
            )


def _is_own_post(headers: Headers, own: str) -> bool:
    if origin := headers.getlist("origin"):
        return origin == [own]
    return headers.getlist("sec-fetch-site") == ["same-origin"]


def _is_own_look(headers: Headers) -> bool:
    """A link may lead here from anywhere; what another page only fetches may not."""
    foreign = headers.get("sec-fetch-site", "") in ("cross-site", "same-site")
    return not foreign or headers.get("sec-fetch-mode") == "navigate"


async def whole_body(receive: Receive) -> bytes:
    """Return the body of a request. Raises Refused: too-large, too-slow; Gone."""
    body = bytearray()
    try:
        async with asyncio.timeout(_PATIENCE):
            while True:
                message = await receive()
                if message["type"] == "http.disconnect":
                    raise Gone
                body += message.get("body", b"")
                if len(body) > MOST_BODY:
                    raise _too_large()
                if not message.get("more_body"):
                    return bytes(body)
    except TimeoutError:
        raise Refused(
            "too-slow",
            "what was sent did not arrive in time",
            "look at the network, then say it again",
        ) from None


def _too_large() -> Refused:
    return Refused(
        "too-large",
        "what was sent is larger than {most} bytes",
        "say less in one go",
        most=MOST_BODY,
    )
