"""No single touch logs, finishes or takes back: what stores wants a mark first in another place, or
lies behind another touch, never where that one was.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from importlib import import_module

import pytest
from paging import Seen, paged
from shop import BIT, STOCK, Shop

from fitlog.families import folder_of
from fitlog.families.names import FAMILIES


@dataclass
class Form:
    """What a form that stores asks for before it does. marked: required boxes and fields by name,
    each whether it is filled already; steps: shown one after the other; buttons: that store, each
    whether it lies behind a closed part; row: the foot that its button stands in.
    """

    marked: dict[str, bool] = field(default_factory=dict)
    steps: int = 0
    buttons: list[bool] = field(default_factory=list)
    row: list[str] = field(default_factory=list)


class Forms(HTMLParser):
    """The forms of a screen that store something, by their id."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: dict[str, Form] = {}
        self._in, self._closed, self._steps = "", 0, False
        self._details: list[bool] = []
        self._row: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what is asked for and what stores."""
        a = dict(attrs)
        if tag == "details":
            self._details.append("open" not in a)
        elif tag == "p":
            self._row = []
        elif tag == "form" and a.get("method") == "post":
            self._in = a.get("id") or f"form {len(self.found)}"
            self.found[self._in] = Form()
        elif tag == "ol":
            self._steps = "data-steps" in a
        elif tag == "li" and self._steps and self._in:
            self.found[self._in].steps += 1
        elif tag in ("input", "textarea") and self._in and "required" in a:
            full = (
                "checked" in a if a.get("type") in ("checkbox", "radio") else bool(a.get("value"))
            )
            name = a.get("name") or f"box {len(self.found[self._in].marked)}"
            marked = self.found[self._in].marked
            marked[name] = marked.get(name, False) or full
        elif tag in ("button", "a"):
            self._touched(tag, a)

    def _touched(self, tag: str, a: dict[str, str | None]) -> None:
        whose = a.get("form") or self._in
        self._row.append("next" if "data-next-step" in a else tag)
        if tag == "button" and a.get("type") != "button" and whose in self.found:
            form = self.found[whose]
            self._row[-1] = "store"
            form.buttons.append(any(self._details))
            form.row = self._row

    def handle_endtag(self, tag: str) -> None:
        """Leave a form or a part."""
        if tag == "form":
            self._in = ""
        elif tag == "details":
            self._details.pop()
        elif tag == "ol":
            self._steps = False


def require_two_touches(seen: Seen) -> int:
    """Hold that nothing on a screen stores by one touch; return how many forms store."""
    forms = Forms(seen.html).found
    for name, form in forms.items():
        assert form.buttons, f"{seen.url}: {name} is stored by nothing"
        if not all(form.marked.values()) or all(form.buttons):
            continue
        assert form.steps > 1, f"{seen.url}: one touch stores {name}"
        assert form.row == ["store", "a", "next"], f"{seen.url}: {name} is stored where Next was"
    return len(forms)


def begun(shop: Shop, joint: str) -> None:
    example = import_module(f"{folder_of(joint)}.example")
    for command in (*example.BEFORE, example.EXAMPLE):
        shop.run(*command)


@pytest.mark.parametrize("joint", ["half-blind dovetail", "half-lap", "sliding"])
def test_no_form_of_a_set_up_is_stored_by_one_touch(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, joint: str
) -> None:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(begun, joint)
    with paged(shop.db) as page:
        path = f"/start?joint={joint.replace(' ', '%20')}"
        assert require_two_touches(page.get(path))
        assert require_two_touches(page.cut())
        for screen in ("found", "check", "back", "finish", "keep"):
            assert require_two_touches(page.get(f"/s/1/{screen}")), screen
        require_two_touches(page.get("/s/1/set"))
        page.say("/s/1/cut", what="cut")
        assert require_two_touches(page.get("/s/1/judge"))
        words = {kind.name: kind.settling for kind in FAMILIES[joint].kinds}
        for aspect, word in words.items():
            seen = page.say("/s/1/judge", what="word", aspect=aspect, text=word)
            require_two_touches(seen)
        counted = {f"word.{aspect}": word for aspect, word in words.items()}
        assert require_two_touches(page.get("/s/1/check?after=2"))
        page.say("/s/1/check", what="check", after="2", gap="", **counted)
        for screen in ("looked", "finish", "keep"):
            require_two_touches(page.get(f"/s/1/{screen}"))


def stale(shop: Shop) -> None:
    """A set-up with a piece, and one before it to repeat."""
    shop.run("bit", "add", "half", *BIT)
    shop.run("stock", "add", "elm", *STOCK)
    shop.words("start --title lid")
    shop.words("cut good 0.2, centred, flush")
    shop.words("finish --as-it-is")
    shop.words("start --title box")
    shop.words("cut tight")


def test_what_is_asked_about_and_what_is_repeated_wants_a_mark_first(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(stale)
    with paged(shop.db) as page:
        answer = {"what": "number", "aspect": "fit", "text": "9"}
        doubt = page.say("/s/2/now", **answer)
        meanwhile = page.post("/s/2/answer", key="stale-answer", seen="e1", **answer)
        again = page.get("/start")
        start = {"what": "start", "joint": "half-blind dovetail", "bit": "half", "stock": "elm"}
        odd = page.post("/start", key="odd-start", thickness="1.7", **start)
        number = page.get("/s/2/number")
    for seen in (doubt, meanwhile, again, odd, number):
        assert require_two_touches(seen), seen.text
    assert "data-drop" in meanwhile.html.partition("<details>")[2].partition("</details>")[0]


def test_no_link_logs_anything(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(stale)
    with paged(shop.db) as page:
        before, known, still = shop.entries(), {"/"}, ["/"]
        while still:
            for link in page.get(still.pop()).links:
                files = ".pdf" in link or ".svg" in link or ".zip" in link
                if link not in known and not files and "fault?what=" not in link:
                    known.add(link)
                    still.append(link)
    assert len(known) > 25
    assert shop.entries() == before
