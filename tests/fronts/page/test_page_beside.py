"""The page beside the way from piece to piece: what is wrong, what is kept, how it converged and
what was found at the machine.
"""

from __future__ import annotations

import asyncio
import re
import sys
from collections.abc import Iterator
from io import BytesIO
from xml.etree import ElementTree
from zipfile import ZipFile

import pytest
from house import House
from paging import Page, paged
from shop import BIT, STOCK, Shop

from fitlog.families.faults import faults_of
from fitlog.families.half_blind.names import HALF_BLIND

JO = {"LOGNAME": "<u>jo</u>"}
HOSTILE = "<script>alert(1)</script> & 'so' \"on\""


def cut(shop: Shop) -> None:
    shop.started(machine={"height-turn": "1.6", "fence-step": "0.05"})
    shop.words("cut tight, proud 0.5")
    shop.words("cut good, flush")


@pytest.fixture
def page(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> Iterator[Page]:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(cut)
    with paged(shop.db) as made:
        yield made


def drawn(html: str, kind: str) -> list[ElementTree.Element]:
    """The drawings of a screen, each read as XML."""
    found = re.findall(rf'<svg class="{kind}".*?</svg>', html, re.S)
    return [ElementTree.fromstring(one) for one in found]


def test_each_symptom_is_a_bar_and_the_places_of_the_drawing_are_among_them(page: Page) -> None:
    found = page.get("/s/1/fault")
    every = faults_of(HALF_BLIND.name).looked_for(None, None, (), "mm").list
    for symptom in every:
        assert f"/s/1/fault?what={symptom.code}" in found.links and symptom.title in found.text
    (svg,) = drawn(found.html, "seen")
    touched = svg.findall("a")
    assert len(touched) >= 6
    codes = {symptom.code for symptom in every}
    assert {a.attrib["href"].partition("=")[2] for a in touched} <= codes
    assert all(a.attrib["aria-label"] for a in touched)


def test_the_causes_are_those_of_the_command_line(shop: Shop, page: Page) -> None:
    told = shop.json("fault gap inside 0.3mm")["found"][0]["causes"]
    found = page.get("/s/1/fault?what=gap-inside&size=0.3mm")
    assert found.html.count("Cure:") == len(told) > 1
    for cause in told:
        assert all(cause[part] in found.text for part in ("text", "test", "cure"))


def test_a_size_that_cannot_be_is_one_sentence(page: Page) -> None:
    for typed in ("wide", "-3", "0.2 wide", "4000"):
        refused = page.get(f"/s/1/fault?what=gap-inside&size={typed}")
        assert refused.status == 409 and refused.code in ("bad-length", "bad-size", "absurd-size")
    assert page.get("/s/1/fault?what=nothing-known").text.startswith("Set-up 1")


def test_what_is_written_down_is_text_and_is_logged_once(shop: Shop, page: Page) -> None:
    before = shop.entries()
    for _ in range(2):
        kept = page.say("/s/1/keep", "one-key-only", what="note", about="note", text=HOSTILE)
        assert kept.url == "/s/1/keep"
    assert shop.entries() == before + 1
    assert HOSTILE in kept.text and "<script>alert" not in kept.html
    for about in ("title", "kept"):
        page.say("/s/1/keep", what="note", about=about, text=HOSTILE)
    document = shop.json("note --setup 1")
    assert document["title"] == document["kept"] == HOSTILE


@pytest.mark.parametrize(
    ("about", "text", "code"),
    [
        ("elsewhere", "something", "bad-answer"),
        ("note", " ", "bad-note"),
        ("note", "x" * 5000, "text-too-long"),
        ("kept", "a\x07bell", "control-character"),
    ],
)
def test_what_cannot_be_written_down_is_one_sentence(
    shop: Shop, page: Page, about: str, text: str, code: str
) -> None:
    before = shop.everything()
    refused = page.say("/s/1/keep", what="note", about=about, text=text)
    assert (refused.status, refused.code) == (409, code)
    assert shop.everything() == before


def test_what_became_of_it_is_asked_once_it_is_finished(shop: Shop, page: Page) -> None:
    assert "What became of it" not in page.get("/s/1/keep").text
    early = page.say("/s/1/keep", what="note", about="outcome", text="tight with glue")
    assert (early.status, early.code) == (409, "not-finished")
    shop.words("finish --as-it-is")
    told = page.say("/s/1/keep", what="note", about="outcome", text="tight with glue")
    assert "What became of it" in told.text and "tight with glue (understood:" in told.text


def test_a_label_and_a_sheet_come_as_files(page: Page) -> None:
    label = page.reply("GET", "/s/1/label.svg")
    assert label.headers["content-disposition"] == 'attachment; filename="set-up-1-label.svg"'
    assert ElementTree.fromstring(label.body).attrib["width"].startswith("175.7")  # 62 mm in pt
    assert page.get("/s/1/label.svg?width=9mm").code == "absurd-size"
    for other in ("label.png", "label.zip", "sheet.svg"):
        assert page.reply("GET", f"/s/1/{other}").status == 404


@pytest.mark.long
def test_a_sheet_comes_on_the_paper_of_the_person_s_units(shop: Shop, page: Page) -> None:
    """Letter is 612 by 792 points, A4 595.3 by 841.9; either can be asked for."""
    shop.words("prefer --units fraction")
    kept = page.get("/s/1/keep")
    sheets = [to for to in kept.links if "sheet.pdf" in to]
    assert sheets == [f"/s/1/sheet.pdf?paper={name}" for name in ("letter", "a4")]
    assert "(PDF), Letter" in kept.text
    for path, high in zip(("/s/1/sheet.pdf", sheets[1]), (b" 792", b" 841.8"), strict=True):
        assert high in page.reply("GET", path).body


def test_a_sheet_holds_all_its_pages(page: Page) -> None:
    sheet = page.reply("GET", "/s/1/sheet.pdf")
    assert sheet.body.startswith(b"%PDF") and sheet.headers["content-type"] == "application/pdf"
    told = page.reply("GET", "/s/1/sheet.zip")
    assert told.headers["content-disposition"] == 'attachment; filename="set-up-1.zip"'
    with ZipFile(BytesIO(told.body)) as pages:
        names = pages.namelist()
        assert names == [f"set-up-1-page-{n}.svg" for n in range(1, len(names) + 1)]
        texts = [pages.read(name).decode() for name in names]
    assert len(texts) > 1
    for n, text in enumerate(texts, 1):
        assert f"page {n} of {len(texts)}" in text and ElementTree.fromstring(text) is not None


def test_without_matplotlib_a_sheet_is_one_sentence(
    page: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "matplotlib.figure", None)
    refused = page.get("/s/1/sheet.pdf")
    assert (refused.status, refused.code) == (409, "no-matplotlib")
    assert page.get("/s/1/keep").status == 200


def test_how_it_converged_is_drawn_without_a_colour_of_its_own(shop: Shop, page: Page) -> None:
    found = page.get("/s/1/progress")
    panels = drawn(found.html, "progress")
    assert len(panels) == 3  # fit, centre and seat
    for svg in panels:
        bars = [one for one in svg.iter("rect") if one.attrib["class"] == "lay"]
        assert len(bars) == 3  # two pieces, and what is set next
        assert all(0 <= float(one.attrib["x"]) <= 320 for one in bars)
        assert not [one for one in svg.iter() if {"fill", "stroke", "style"} & set(one.attrib)]


def test_what_was_found_says_what_to_dial_and_teaches_nothing(shop: Shop, page: Page) -> None:
    shown = shop.json("next")["settings"]
    before = shop.entries()
    for _ in range(2):
        found = page.say("/s/1/found", "found-at-last", what="found", **{"set.bit_height": "9.1"})
    assert found.url == "/s/1/found" and shop.entries() == before + 1
    assert "9.10 mm" in found.text and f"{shown['bit_height']:.2f} mm" in found.text
    assert shop.json("next")["settings"] == shown
    assert "set.bit_height" in page.get("/s/1/found?again=1").fields
    assert "set.bit_height" not in page.get("/s/1/found").fields


def test_nothing_measured_is_one_sentence(shop: Shop, page: Page) -> None:
    before = shop.entries()
    refused = page.say("/s/1/found", what="found", **{"set.bit_height": ""})
    assert (refused.status, refused.code) == (409, "nothing-said")
    assert shop.entries() == before


def test_a_finding_before_a_new_piece_is_not_shown_after_it(shop: Shop, page: Page) -> None:
    page.say("/s/1/found", what="found", **{"set.bit_height": "9.1"})
    shop.words("cut good --setup 1")
    assert "set.bit_height" in page.get("/s/1/found").fields


def test_a_log_that_is_gone_keeps_the_answer_and_tells_no_phone_where_it_was(
    shop: Shop, page: Page
) -> None:
    seen = page.get("/s/1/now").fields.get("seen", "")
    shop.db.rename(shop.db.with_name("elsewhere.db"))
    refused = page.post("/s/1/answer", key="0123456789", seen=seen, what="cut")
    assert (refused.status, refused.code) == (503, "log-gone")
    assert "log.db" not in refused.html and any("log.db" in line for line in page.told)


SCREENS = (
    *("", "/set", "/cut", "/judge", "/number", "/now", "/back", "/finish", "/boards", "/check"),
    *("/looked", "/fault", "/fault?what=gap-inside", "/keep", "/progress", "/found", "/begun?as=1"),
)


def named(shop: Shop) -> None:
    """A set-up in whose every name, word and note there is markup."""
    shop.run("bit", "add", "<u>bit</u>", *BIT)
    shop.run("stock", "add", "<u>elm</u>", *STOCK)
    shop.run("machine", "add", "<u>lift</u>", "--height-turn", "1.6")
    shop.run("start", "--machine", "<u>lift</u>", "--title", "<u>chest</u>", env=JO)
    shop.run("cut", "tight", "--note", "<u>note</u>", "--scrap", "<u>scrap</u>", env=JO)
    shop.run("note", "--kept", "<u>drawer</u>", "a <u>word</u>", env=JO)
    with paged(shop.db, "<u>jo</u>") as page:
        page.say("/s/1/set", what="cut")


def test_what_people_write_is_text_on_every_screen_and_on_paper(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LOGNAME", "owner")
    shop.built(named)
    house = House(shop, whole=True)
    phone = house.paired("<u>Kim</u>")
    shown = ""
    for path in ("/", "/who", "/start", "/start?new=1", *(f"/s/1{one}" for one in SCREENS)):
        found = phone.get(path)
        while found.status_code == 303:
            found = phone.get(found.headers["location"])
        assert found.status_code == 200 and not re.search(r"<u\b", found.text), path
        shown += found.text
    for name in ("bit", "elm", "lift", "chest", "drawer", "word", "jo", "Kim"):
        assert f"&lt;u&gt;{name}&lt;/u&gt;" in shown, name
    with ZipFile(BytesIO(phone.get("/s/1/sheet.zip").content)) as pages:
        papers = [pages.read(name).decode() for name in pages.namelist()]
    for paper in (*papers, phone.get("/s/1/label.svg").text):
        tags = [one.tag.rpartition("}")[2] for one in ElementTree.fromstring(paper).iter()]
        assert "path" in tags and not {"u", "script"} & {*tags}
    asyncio.run(house.desk.close())
