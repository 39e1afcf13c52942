"""Lengths on the page: the large figure of a setting is what is dialled, as it is read across the
bench, and what is wanted and cannot be dialled stands above it.
"""

from __future__ import annotations

import re

import pytest
from paging import paged
from shop import Shop

from fitlog.families.names import FAMILIES
from fitlog.families.screens import screens_of
from fitlog.fronts.page import html
from fitlog.fronts.page.figure import figure
from fitlog.language.units import Ruler


def drawn(text: str) -> tuple[bool, str, str, str, str]:
    made = figure(text)
    return made.minus, made.whole, made.over, made.under, made.rest


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("1/2 in", (False, "", "1", "2", "in")),
        ("1 3/64 in", (False, "1", "3", "64", "in")),
        ("-13/64 in", (True, "", "13", "64", "in")),
        ("-13.61 mm", (True, "13.61", "", "", "mm")),
        ("-1 3/64 in", (True, "1", "3", "64", "in")),
        ("45/64 in (0.706)", (False, "0.706", "", "", "in, near 45/64")),
        ("-1 13/64 in (-1.200)", (True, "1.200", "", "", "in, near -1 13/64")),
        ("12 thou", (False, "12", "", "", "thou")),
    ],
)
def test_a_length_is_drawn_by_what_is_dialled(
    text: str, parts: tuple[bool, str, str, str, str]
) -> None:
    """Two lengths on no mark may have one nearest mark: their decimals are large."""
    assert drawn(text) == parts
    assert figure(text).text == text  # as it is read out


def test_a_minus_sign_is_a_stroke() -> None:
    """A hyphen drawn as wide as a digit's half is a square dot."""
    macro = '{% from "parts.html" import digits %}{{ digits(f) }}'
    for text in ("-13/64 in", "-13.61 mm", "13.61 mm"):
        svg = html._templates().from_string(macro).render(f=figure(text)).partition("</svg>")[0]
        assert ('class="minus"' in svg) == text.startswith("-")
        assert "-" not in "".join(re.findall(r"<text[^>]*>([^<]*)<", svg))


@pytest.mark.parametrize("text", ["7/16 in", "13/2 in", "-13/64 in", "1 1/8 in"])
def test_the_numbers_of_a_fraction_keep_a_digit_s_width(text: str) -> None:
    """And nothing of it lies on anything else, nor beyond the drawing."""
    made = figure(text)
    assert made.over_width / len(made.over) == made.under_width / len(made.under)
    half = max(made.over_width, made.under_width) / 2
    assert made.fraction_at <= made.middle - half
    assert made.middle + half <= made.fraction_at + made.fraction_width <= made.width
    assert made.fraction_at >= made.whole_at + made.whole_width
    assert (made.whole_at > 0) is made.minus


def test_a_setting_that_is_wanted_between_the_marks_is_named_above_the_figures(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A decimal alone: a mark beside it would read as the place to set it to."""
    monkeypatch.setenv("LOGNAME", "jo")
    shop.words("bit add half --diameter 12.7 --angle 0 --cutting-length 32")
    shop.words("stock add maple --species maple --thickness 12.7 --width 114.3")
    parts = ("fence=step 1/64 in", "pass=step 1/64 in", "height=step 1/64 in")
    shop.run("machine", "add", "table", *(word for part in parts for word in ("--part", part)))
    shop.run("start", "--joint", "box-steps", "--pitch", "25.4", "--machine", "table")
    shop.words("prefer --units fraction")
    with paged(shop.db) as page:
        first = page.get("/s/1/set").text
        shop.run("cut", "very tight, flush")
        then = page.get("/s/1/set").text
    assert "set it between the marks, at 4 thou, and log" in first.partition(" tip ")[0]
    wanted = re.search(r"wants \d+ thou, between two steps", then)
    assert wanted and wanted.end() < then.index("as set, in")


@pytest.mark.parametrize(
    ("units", "said"),
    [
        ("fraction", "beyond this bit's cutting length of 1/2 in: give the bit height between"),
        ("inch", "beyond this bit's cutting length of 0.5 in: give the bit height between"),
        ("mm", "beyond this bit's cutting length of 12.7 mm: give the bit height between"),
    ],
)
def test_what_is_refused_is_said_in_the_person_s_units(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, units: str, said: str
) -> None:
    """At the settings and at a start, with both ends of a range in one form."""
    monkeypatch.setenv("LOGNAME", "jo")
    shop.words("bit add half --diameter 12.7 --angle 14 --cutting-length 12.7")
    shop.words("stock add elm --species elm --thickness 18 --width 150")
    shop.words("start")
    shop.words(f"prefer --units {units}")
    new = {"what": "start", "joint": "half-blind dovetail", "bit": "half", "stock": "elm"}
    new["width"] = "9000in"
    with paged(shop.db) as page:
        beyond = page.cut(**{"set.height": "99in"}).text
        width = page.post("/start", key="one-more-start", **new).text
        unread = page.cut(**{"set.height": "wide"}).text
    assert said in beyond
    for text in (beyond, width):
        _, _, why = text.partition(" is beyond ")
        assert why, text
        assert (" mm" in re.split(" Back| Which bit", why)[0]) == (units == "mm"), why
    assert ("15.02" in unread) == (units == "mm")
    if units == "fraction":
        assert "between 19.7 thou and 1/2 in" in beyond


def test_the_rabbet_may_be_longer_by_one_number_everywhere(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On the piece's steps, under Now after a gap, at the boards, at the fault and behind why."""
    monkeypatch.setenv("LOGNAME", "jo")
    shop.started()
    with paged(shop.db) as page:
        others = (page.get(f"/s/1/{at}") for at in ("boards", "fault?what=gap-baseline"))
        screens = [page.cut().text, *(seen.text for seen in others)]
        shop.run("cut", "good, gap baseline 0.4")
        screens += [page.get("/s/1/now").text]
    screens += [shop.words("next").out, shop.words("why").out]
    longer = re.compile(r"up to (0\.\d+ mm) (?:longer|more)|\+0 to (0\.\d+ mm)")
    found = [{a or b for a, b in longer.findall(" ".join(text.split()))} for text in screens]
    assert set().union(*found) == {"0.20 mm"}
    assert all(found[:4]), found


@pytest.mark.parametrize("joint", FAMILIES)
def test_the_tests_of_words_are_whole_thou_that_meet(joint: str) -> None:
    """No millimetre shines through in an inch shop: 7.9 thou is nobody's feeler."""
    for units in ("inch", "fraction"):
        for aspect in FAMILIES[joint].asked:
            told = screens_of(FAMILIES[joint]).tests(aspect, Ruler(units), ())
            ends = [re.findall(r"([\d.]+)(?: to ([\d.]+))? thou", text) for text in told]
            numbers = [n for found in ends for pair in found for n in pair if n]
            assert all(re.fullmatch("[1-9][0-9]*|0", n) for n in numbers), told
            wide = [pair for found in ends for pair in found if pair[1]]
            assert all(int(low) < int(high) for low, high in wide), told
            inner = sorted({int(n) for pair in wide for n in pair})[1:]  # below: "no light"
            for edge in map(str, inner):
                assert numbers.count(edge) >= 2, (edge, told)
