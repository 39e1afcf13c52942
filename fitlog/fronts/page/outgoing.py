"""What goes back to a browser: the headers of every answer, and words where there are none."""

from __future__ import annotations

from collections.abc import Callable

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import Message, Scope, Send

from ...errors import FitlogError
from .door import Door
from .refusals import bare

_POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_ALWAYS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    # With "no-referrer" a browser would send "Origin: null" with the page's own forms.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
}


class Answer:
    """What goes back: with the headers that every answer has, and a sentence of ours where the page
    has only a bare status to say. out: sends on what is answered; still: whether an answer that
    takes long, such as what a page is told of changes, may go on.
    """

    def __init__(self, send: Send, scope: Scope, door: Door) -> None:
        self._send, self._scope, self._door = send, scope, door
        self.begun = self._over = False
        self.still: Callable[[], bool] = lambda: True
        self.refused: FitlogError | None = None

    async def __call__(self, message: Message) -> None:
        """Send a part of the page's answer."""
        if message["type"] == "http.response.start" and message["status"] >= 400:
            kind = Headers(raw=message["headers"]).get("content-type", "text/plain")
            if kind.startswith("text/plain"):
                self.refused = bare(message["status"], self._scope)
        if self.refused is not None or self._over:
            return
        if message.get("more_body") and not self.still():
            self._over, message = True, {"type": "http.response.body", "body": b""}
        await self.out(message)

    async def out(self, message: Message) -> None:
        """Send a part of an answer with the headers of all."""
        if message["type"] == "http.response.start":
            self.begun = True
            headers = MutableHeaders(raw=list(message["headers"]))
            for name, value in _ALWAYS.items():
                headers[name] = value
            if self._door.open or self._door.secure:  # elsewhere browsers ignore it, and say so
                headers["Cross-Origin-Opener-Policy"] = "same-origin"
            fixed = self._scope["path"].startswith("/static/")
            headers.setdefault("Cache-Control", "no-cache" if fixed else "no-store")
            message = {**message, "headers": headers.raw}
        await self._send(message)
