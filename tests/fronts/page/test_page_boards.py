"""The page's real boards: the stops to tick, a joint looked at, and where it stops, for every
family and in every unit.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import import_module

import pytest
from paging import Page, Seen, paged
from shop import BIT, STOCK, Shop
from toy_family.known import make_known

from fitlog.families import folder_of
from fitlog.families.names import FAMILIES

MM = re.compile(r"\d ?mm\b")


def begun(shop: Shop, joint: str, units: str = "mm") -> None:
    example = import_module(f"{folder_of(joint)}.example")
    for command in (*example.BEFORE, example.EXAMPLE):
        shop.run(*command)
    shop.run("prefer", "--units", units)


def ready(shop: Shop) -> None:
    """A set-up of invented figures that is ready, and tests in pine of another size."""
    shop.run("bit", "add", "half", *BIT)
    shop.words(f"stock add elm {' '.join(STOCK[2:])} --species elm")
    shop.words("start --scrap pine --scrap-width 80 --scrap-thickness 20 --title <b>upper</b>")
    shop.words("cut slightly tight, gap far 0.3, proud 0.2")
    shop.words("cut good 0.2, centred, flush")


def looked(page: Page, after: str, key: str | None = None, **words: str) -> Seen:
    fields = {f"word.{aspect}": word for aspect, word in words.items()}
    return page.say("/s/1/check", key, what="check", after=after, gap="", **fields)


@pytest.fixture
def page(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> Iterator[Page]:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(ready)
    with paged(shop.db) as made:
        yield made


def test_every_stop_is_there_to_tick_in_the_order_of_the_work(shop: Shop, page: Page) -> None:
    found, job = page.get("/s/1/boards"), shop.json("stops")
    wanted = [*job["settings"].values(), *(one["fence"] for one in job["rabbet"])]
    wanted += [stop["fence"] for stop in job["stops"]]
    shown = [float(mm) for mm in re.findall(r'aria-label="(-?[\d.]+) mm"', found.html)]
    assert shown == pytest.approx(wanted, abs=0.005)
    assert len({name for name, _ in found.boxes}) == len(wanted)
    assert "slot 2" in found.text and "rabbet" in found.text.lower()


def test_named_boards_are_cut_in_their_order_with_the_edge_at_the_fence(
    shop: Shop, page: Page
) -> None:
    found = page.get("/s/1/boards?boards=front+2,+back+2,+side+4")
    job = shop.run("stops", "--boards", "front 2, back 2, side 4", "--json").document
    steps = job["schedule"]["steps"]
    assert len(found.boxes) == len(job["settings"]) + sum(
        len(job["rabbet"]) if step["work"] == "rabbet" else len(step["stops"]) for step in steps
    )
    marks = {end["mark"] for step in steps for end in step["ends"]}
    assert marks and all(mark in found.text for mark in marks)
    assert "marked, then turned: " in found.text and "; other: " in found.text
    assert page.get("/s/1/boards?boards=nonsense").status == 409


def test_a_tick_is_only_of_the_stops_that_it_was_given_for(shop: Shop, page: Page) -> None:
    def sign() -> str:
        return page.get("/s/1/boards").html.partition('data-sign="')[2][:12]

    first = sign()
    assert sign() == first
    shop.words("cut slightly tight --setup 1")
    assert sign() != first


@pytest.mark.parametrize(("joint", "units"), [*((j, "fraction") for j in FAMILIES), ("box", "mm")])
def test_every_family_shows_its_boards_and_asks_for_its_own_words(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, joint: str, units: str
) -> None:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(begun, joint, units)
    with paged(shop.db) as page:
        boards, check = page.get("/s/1/boards"), page.get("/s/1/check")
        faults, found = page.get("/s/1/fault"), page.get("/s/1/found")
        cut = page.cut()
    family = FAMILIES[joint]
    assert "NOT SETTLED" in boards.text
    assert all(kind.noun in boards.text for kind in family.settings)
    asked = {name: word for name, word in check.boxes if name.startswith("word.")}
    assert set(asked) == {f"word.{aspect}" for aspect in family.asked}
    assert "<figure>" in cut.html
    for screen in (boards, check, faults, found, cut):
        assert screen.status == 200
        shown = re.sub(r"<svg [^>]*>", "", screen.html)  # a drawing is so many mm wide
        assert units == "mm" or not MM.search(shown), MM.search(shown)


def test_a_joint_looked_at_is_logged_once_and_told_as_the_command_line_tells_it(
    shop: Shop, page: Page
) -> None:
    before = shop.entries()
    told = looked(page, "4", "a-key-of-mine", fit="good", centre="", seat="flush")
    assert told.url == "/s/1/looked" and "Go on" in told.text
    assert shop.entries() == before + 1
    again = looked(page, "4", "a-key-of-mine", fit="good", centre="", seat="flush")
    assert again.url == "/s/1/looked" and shop.entries() == before + 1
    shop.words("undo")
    run = shop.json("check --after 4 good, flush --setup 1")["check"]
    assert f"Look again when {4 + run['look_after']} joints" in page.get("/s/1/boards").text


def test_a_run_that_is_stopped_says_so_in_large(shop: Shop, page: Page) -> None:
    told = looked(page, "15", fit="tight")
    assert '<h1 class="off">Stop</h1>' in told.html
    assert "Stop the run at joint 15: the fit is tight." in told.text
    assert "Unplugged, set this; the stops stay:" in told.text and "bit height" in told.text
    assert "Then try it on scrap" in told.text
    boards = page.get("/s/1/boards")
    assert 'class="stop" role="alert"' in boards.html and "/s/1/looked" in boards.links


def test_a_gap_stops_a_run_and_leads_to_what_is_wrong(page: Page) -> None:
    told = page.say("/s/1/check", what="check", after="3", gap="inside", **{"word.fit": "good"})
    assert "Stop" in told.text and "/s/1/fault" in told.links


def test_fewer_joints_than_before_are_asked_about_and_not_logged(shop: Shop, page: Page) -> None:
    looked(page, "9", fit="good")
    before = shop.entries()
    doubt = looked(page, "4", fit="good")
    assert doubt.status == 409 and "4 joints are fewer than the 9" in doubt.text
    assert shop.entries() == before
    fields = {k: v for k, v in doubt.fields.items() if k != "meant"}
    fields.update(key="another-key", meant="1")
    assert page.post("/s/1/answer", **fields).url == "/s/1/looked"
    assert shop.entries() == before + 1


@pytest.mark.parametrize(
    ("after", "word", "code"),
    [
        *((typed, "good", "no-count") for typed in ("", "x", "0", "1234567")),
        ("3", "", "nothing-said"),
        ("3", "wonderful", "bad-word"),
    ],
)
def test_what_says_nothing_is_one_sentence(
    shop: Shop, page: Page, after: str, word: str, code: str
) -> None:
    before = shop.entries()
    refused = looked(page, after, fit=word)
    assert (refused.status, refused.code) == (409, code)
    assert shop.entries() == before


def test_a_number_said_with_a_word_is_kept_with_it(shop: Shop, page: Page) -> None:
    words = {"word.fit": "good", "size.fit": "0.2"}
    page.say("/s/1/check", what="check", after="2", gap="", **words)
    assert shop.json("show")["cuts"][-1]["said"]["fit"] == "good 0.20"


def test_a_title_with_markup_is_text(page: Page) -> None:
    found = page.get("/s/1/boards")
    assert "<b>upper</b>" in found.text and "<b>upper" not in found.html


def test_a_phone_that_only_reads_is_asked_nothing(shop: Shop, page: Page) -> None:
    with paged(shop.db, only_reads=True) as other:
        for path in ("boards", "check", "keep", "found"):
            assert 'method="post"' not in other.get(f"/s/1/{path}").html, path


def test_a_family_that_tells_no_more_of_its_boards_has_its_settings(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LOGNAME", "jo")
    make_known(monkeypatch)
    shop.words("bit add auger --diameter 10 --angle 8 --cutting-length 20")
    shop.words("stock add board --species ash --thickness 17 --width 150")
    line = ("start", "--joint", "invented pegs", "--given", "spacing=30mm", "--bit", "auger")
    shop.run(*line)
    with paged(shop.db) as page:
        boards, fault = page.get("/s/1/boards"), page.get("/s/1/fault")
        started = page.get("/start?joint=invented%20pegs")
    assert len(boards.boxes) == len(shop.json("next")["settings"])
    assert (fault.status, fault.code) == (409, "other-joint")
    assert "figure.spacing" in started.fields
