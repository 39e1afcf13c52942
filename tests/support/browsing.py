"""The page as somebody at the bench has it: the real server in a process of its own, and a real
browser with a phone's screen that is touched.
"""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from shutil import which
from typing import Any

import pytest
from shop import Shop

CHROMIUM = which("chromium")
REQUIRED = os.environ.get("FITLOG_TEST_BROWSER") == "required"
# Without these Chromium asks hosts of its maker for this and that.
_ALONE = [
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync"),
    *("--disable-background-networking", "--disable-component-update", "--disable-dev-shm-usage"),
]
WAIT = 20_000  # ms; a busy machine is slow, and no test is about how fast


def free_port() -> int:
    """Return a port that was free just now."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


class Served:
    """The page's server at a log, which can be killed and started again at the same port."""

    def __init__(self, home: Path, db: Path | str, *options: str, login: str = "jo") -> None:
        self.port, self.options = free_port(), options
        self.env = {
            **{k: v for k, v in os.environ.items() if not k.startswith("FITLOG_")},
            **dict.fromkeys(("LOGNAME", "USER", "LNAME", "USERNAME"), login),
            "HOME": str(home),
            "FITLOG_DB": str(db),
        }
        self.start()

    @property
    def url(self) -> str:
        """Where it is."""
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        """Start it and wait until it answers."""
        command = [sys.executable, "-m", "fitlog", "page", "--port", str(self.port), *self.options]
        self.process = subprocess.Popen(
            command, env=self.env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT
        )
        until = time.monotonic() + 60
        while time.monotonic() < until:
            try:
                urllib.request.urlopen(f"{self.url}/static/page.css", timeout=5).close()
                return
            except OSError:
                assert self.process.poll() is None, self.process.communicate()[0].decode()
                time.sleep(0.05)
        raise AssertionError("the page's server does not answer")

    def end(self, how: int = signal.SIGKILL) -> str:
        """End it; return what it said."""
        self.process.send_signal(how)
        return self.process.communicate(timeout=30)[0].decode()


@contextmanager
def playing() -> Iterator[Any]:
    """A running browser; skips where there is none, unless one is required."""
    if CHROMIUM is None and not REQUIRED:
        pytest.skip("no chromium on this machine: install Debian's to run these")
    if not REQUIRED:
        pytest.importorskip("playwright", reason="install the extra browser to run these")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=CHROMIUM, args=_ALONE)
        yield browser
        browser.close()


# After each touch, and on the screen that comes of it: what would be stored or left out by a second
# touch in the same place.
_UNDER_THE_FINGER = """(() => {
  const look = () => {
    const at = JSON.parse(sessionStorage.getItem("touched") || "null");
    const one = at && document.elementFromPoint(at.x, at.y)?.closest("a[data-drop], button");
    const form = one?.form?.method === "post" && one.type === "submit" && !one.disabled && one.form;
    if (!one || (one.matches("button") && !(form && form.checkValidity()))) return;
    if (one.outerHTML !== at.on) console.error("under the finger: " + one.outerHTML);
  };
  addEventListener("pointerdown", (event) => {
    const { clientX: x, clientY: y } = event, on = event.target.closest("button, a")?.outerHTML;
    sessionStorage.setItem("touched", JSON.stringify({ x, y, on }));
  }, true);
  addEventListener("click", () => requestAnimationFrame(look));
  addEventListener("load", () => {
    look();
    new MutationObserver(look).observe(document.body, { childList: true });
  });
})()"""


class Phone:
    """One phone with a touch screen: a context of the browser, with its own storage, or with a
    `folder` one that a dead battery leaves. `said` is all that its console said, and what a second
    touch in one place would store; `asked` every address that it asked for.
    """

    def __init__(
        self, browser: Any, server: Served, width: int = 360, folder: str = "", **options: Any
    ) -> None:
        height = {320: 568, 360: 640}.get(width, 1024)
        self.server, self.folder = server, folder
        options.update(viewport={"width": width, "height": height}, has_touch=True)
        if folder:
            kind = browser.browser_type
            self.context = kind.launch_persistent_context(
                folder, executable_path=CHROMIUM, args=_ALONE, **options
            )
        else:
            self.context = browser.new_context(**options)
        self.context.set_default_timeout(WAIT)
        self.context.add_init_script(_UNDER_THE_FINGER)
        self.said: list[str] = []
        self.asked: list[str] = []
        self.page = self.tab()

    def tab(self) -> Any:
        """Open one more tab, and return it."""
        page = self.context.new_page()
        page.on("console", lambda message: self.said.append(message.text))
        page.on("pageerror", lambda error: self.said.append(str(error)))
        page.on("request", lambda request: self.asked.append(request.url))
        return page

    def die(self) -> None:
        """As a battery does: from now to nothing."""
        own = f"--user-data-dir={self.folder}".encode()
        for path in Path("/proc").glob("[0-9]*/cmdline"):
            with suppress(OSError):
                if own in path.read_bytes().split(b"\0"):
                    os.kill(int(path.parent.name), signal.SIGKILL)
        with suppress(Exception):  # it is gone already
            self.context.close()

    def go(self, path: str) -> None:
        """Open a screen."""
        self.page.goto(self.server.url + path)

    def tap(self, what: str) -> None:
        """Touch what is seen, the first of several."""
        self.page.locator(what).locator("visible=true").first.tap()

    def arrive(self, screen: str) -> None:
        """Wait for a screen, by the end of its address."""
        self.page.wait_for_url(f"**/{screen}")

    @property
    def here(self) -> str:
        """The screen that is shown, by its address behind the server's."""
        return str(self.page.url).removeprefix(self.server.url).partition("?")[0]

    def set_and_cut(self) -> None:
        """From the settings to the first question: all ticked, every step read, the cut stored."""
        self.arrive("set")
        for box in self.page.locator("label.big").all():
            box.tap()
        self.tap("footer button[form=set]")
        self.page.wait_for_url("**/cut*")
        while self.page.locator("[data-next-step]").is_visible():
            self.tap("[data-next-step]")
        self.tap("label.tick")
        self.tap("footer button[form=cut]")
        self.arrive("judge")

    def through(self, last: str) -> None:
        """Go through the steps that need no word more, and touch what stands at their end."""
        self.page.locator("[data-next-step]").wait_for()
        while self.page.locator("[data-next-step]").is_visible():
            self.tap("[data-next-step]")
        self.tap(f"footer button:text-is('{last}')")

    def say(self, word: str, number: str = "", *, wait: bool = True) -> None:
        """Touch a word and the place that stores it, then type its number or leave it out."""
        before = self.page.url, self.page.locator("h1 >> visible=true").first.inner_text()
        self.mark(word)
        self.tap(".question button.go[form]")
        if not wait:
            return
        self.page.wait_for_function(
            "b => location.href !== b[0] || document.querySelector('h1').innerText !== b[1]",
            arg=list(before),
        )
        self.page.wait_for_load_state()
        if self.here.endswith("/number"):
            for key in number:
                self.tap(
                    f".keypad button:text-is('{key}')"
                    if key != " "
                    else ".keypad button:text-is('space')"
                )
            self.tap("footer button.go" if number else "footer a")
            self.page.wait_for_url(lambda url: not url.endswith("/number"))
            self.page.wait_for_load_state()

    def hold(self, what: str) -> None:
        """Keep a finger on what is seen, the first of several, for longer than half a second."""
        one = self.page.locator(what).locator("visible=true").first
        one.scroll_into_view_if_needed()
        box = one.bounding_box()
        finger = self.context.new_cdp_session(self.page)
        at = {"x": box["x"] + box["width"] / 2, "y": box["y"] + box["height"] / 2}
        finger.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [at]})
        self.page.wait_for_timeout(600)
        finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
        finger.detach()

    def mark(self, word: str) -> None:
        """Touch a word."""
        self.page.locator(f"label.word:has(b:text-is('{word}'))").locator("visible=true").tap()

    def close(self) -> None:
        """Close it, and hold that its console said nothing and that it asked nobody else."""
        self.context.close()
        assert not [line for line in self.said if "net::ERR" not in line], self.said
        assert not [one for one in self.asked if not one.startswith((self.server.url, "data:"))]


def judging(phone: Phone, setup: int = 1) -> Phone:
    """Cut piece 1 of a set-up on a phone; its first question is open then."""
    phone.go(f"/s/{setup}/set")
    phone.set_and_cut()
    return phone


def said(shop: Shop, setup: int = 1) -> list[str]:
    """Every entry about a piece, in the order of the log: its piece, its words, its note."""
    shown = shop.run("show", str(setup), "--json").document["cuts"]
    return [f"{c['piece']} {_words(c)}".strip() for c in shown if not c["retracted"]]


def _words(cut: dict[str, Any]) -> str:
    words = [word for aspect, word in cut["said"].items() if aspect != "faults" and word]
    return ", ".join([*words, *(["fault"] if cut["said"]["faults"] else []), cut["note"]]).strip(
        ", "
    )


def until(phone: Phone, what: Callable[[], object], wanted: object) -> None:
    """Wait until something is so: an answer that is under way arrives. The browser goes on."""
    end = time.monotonic() + 30
    while (found := what()) != wanted:
        assert time.monotonic() < end, found
        phone.page.wait_for_timeout(100)
