"""A start on the page: as an earlier set-up, or a new one of any family; once, with what was typed
kept where it cannot be.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from importlib import import_module

import pytest
from paging import Page, paged
from shop import Shop

from fitlog.families import folder_of
from fitlog.families.names import FAMILIES

NEW = {"what": "start", "joint": "half-blind dovetail", "bit": "marsh", "stock": "elm"}


def stocked(shop: Shop) -> None:
    shop.stocked()


def finished(shop: Shop) -> None:
    shop.started("--title first --width 120")
    shop.words("cut good, centred, flush")
    shop.words("finish --as-it-is")


@pytest.fixture
def page(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> Iterator[Page]:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(stocked)
    with paged(shop.db) as made:
        yield made


def test_a_new_one_is_started_once_with_all_that_was_said(shop: Shop, page: Page) -> None:
    said = {**NEW, "key": "started-once", "title": "<i>chest</i>", "width": "120"}
    for _ in range(2):
        begun = page.post("/start", **said)
        assert begun.url == "/s/1/begun" and "Set-up 1 is started" in begun.text
    assert [one["setup"] for one in shop.json("review")["setups"]] == [1]
    assert shop.json("show")["setup"]["width"] == 120
    assert "<i>chest</i>" in begun.text and "<i>chest" not in begun.html
    assert "Unplug the router" in begun.text  # the cautions in full
    assert "/s/1/set" in begun.links


@pytest.mark.parametrize("joint", FAMILIES)
def test_every_family_is_started_by_what_its_example_says(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, joint: str
) -> None:
    monkeypatch.setenv("LOGNAME", "jo")
    example = import_module(f"{folder_of(joint)}.example")
    for command in example.BEFORE:
        shop.run(*command)
    fields = {"what": "start", "joint": joint, "key": "an-example"}
    typed = iter(example.EXAMPLE[1:])
    for option, value in zip(typed, typed, strict=True):
        name = option.removeprefix("--").replace("-", "_")
        if name == "given":
            figure, _, value = value.partition("=")
            name = f"figure.{figure}"
        fields[name] = value
    with paged(shop.db) as page:
        asked = page.get(f"/start?joint={joint.replace(' ', '%20')}")
        known = {name for name, _ in asked.boxes} | set(asked.fields)
        assert {name for name in fields if name != "what"} - {"pin_stock"} <= known
        begun = page.post("/start", **fields)
    assert begun.url == "/s/1/begun", begun.text
    assert shop.json("next")["joint"] == joint


@pytest.mark.parametrize(
    ("field", "typed"), [("width", "abc"), ("bit", "none-such"), ("figure.pitch", "400")]
)
def test_what_cannot_be_is_one_sentence_with_all_that_was_typed_kept(
    shop: Shop, page: Page, field: str, typed: str
) -> None:
    before = shop.everything()
    said = {**NEW, "title": "mine & ours", "thickness": "16.5", field: typed}
    refused = page.post("/start", key="refused-key", **said)
    assert refused.status == 409 and refused.code
    assert {"title": "mine & ours", "thickness": "16.5"}.items() <= refused.fields.items()
    if field != "bit":
        assert refused.fields["bit"] == "marsh" and refused.fields[field] == typed
    assert 'data-instead="refused-key"' in refused.html
    assert shop.everything() == before


def test_a_doubt_is_asked_about_before_anything_is_started(shop: Shop, page: Page) -> None:
    before = shop.entries()
    doubt = page.post("/start", key="doubted-key", **NEW, thickness="1.7")
    assert doubt.status == 409 and "Not started yet" in doubt.text and "17" in doubt.text
    assert shop.entries() == before
    fields = {k: v for k, v in doubt.fields.items() if k not in ("meant", "mend", "key")}
    begun = page.post("/start", key="mended-key", **fields, mend="1")
    assert begun.url == "/s/1/begun"
    with closing(sqlite3.connect(shop.db)) as plain:
        assert plain.execute("SELECT tail_thickness FROM setup").fetchall() == [(17.0,)]


def test_an_earlier_one_is_a_tile_and_is_repeated_whole(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(finished)
    with paged(shop.db) as page:
        asked = page.get("/start")
        tiles = [value for name, value in asked.boxes if name == "again"]
        begun = page.post("/start", key="as-before", what="start", again="1", title="second")
    assert tiles == ["1"] and "first" in asked.text
    assert begun.url == "/s/2/begun?as=1" and "As set-up 1" in begun.text
    assert shop.json("show")["setup"]["width"] == 120


def test_numbers_that_are_no_set_ups_change_nothing_of_what_is_said(page: Page) -> None:
    page.post("/start", key="started-once", **NEW)
    assert page.get("/s/1/begun?closed=x&several=7-8").status == 200
    assert page.get("/s/1/begun?as=77").code == "unknown-setup"


def test_another_one_is_not_started_while_one_with_the_bit_is_tuned(shop: Shop, page: Page) -> None:
    page.post("/start", key="the-first-one", **NEW)
    again = page.post("/start", key="the-other-one", **NEW)
    assert (again.status, again.code) == (409, "still-tuning")
    assert len(shop.json("review")["setups"]) == 1


def test_an_open_set_up_is_a_tile_however_many_ended_since(
    shop: Shop, page: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop.words("start --bit marsh --stock elm --title waits")
    shop.run("bit", "add", "other", "--diameter", "12", "--angle", "14", "--cutting-length", "14")
    for title in ("elder", "newer"):
        shop.words(f"start --bit other --stock elm --title {title}")
        shop.words("finish --abandon")
    monkeypatch.setattr("fitlog.fronts.page.screens.tiles._PAST", 1)
    shown = page.get("/")
    assert "waits" in shown.text and "newer" in shown.text and "elder" not in shown.text
    (older,) = (link for link in shown.links if link.startswith("/?"))
    last = page.get(older)
    assert "elder" in last.text and "newer" not in last.text and "waits" not in last.text
    assert not [link for link in last.links if link.startswith("/?")]


def test_more_figures_are_called_as_their_family_calls_them(page: Page) -> None:
    """A length has its unit and a keypad with the other one; a name of an option says neither."""
    seen = page.get("/start?joint=half-blind%20dovetail")
    for noun in ("bit height, mm", "wanted step, mm", "spacing of the slots, mm"):
        assert noun in seen.text
    field = seen.html.partition('name="figure.pitch"')[2].partition(">")[0]
    assert 'data-pad="in"' in field
    assert "data-pad" not in seen.html.partition('name="figure.tails"')[2].partition(">")[0]
