"""The real boards of a sliding dovetail: lengths by arithmetic that a maker would do, on the
screen, as CSV and as JSON.

Shelf = clear width and a tongue at each end; a stopped socket's tongue is cut back to the bit's
axis: common practice, no source.
"""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest
from shop import Shop, by_code

START = ("start", "--joint", "sliding", "--height", "8")
GIVEN = ("--given", "clear-width=600", "--given", "stopped=12")


@pytest.fixture
def case(shop: Shop) -> Shop:
    return shop.built(_case)


def _case(shop: Shop) -> None:
    shop.words("bit add wren --diameter 12.7 --angle 14 --cutting-length 14")
    shop.words("stock add ash --species ash --thickness 18 --width 140")


def test_lengths_of_shelves_and_tongues(case: Shop) -> None:
    case.run(*START, *GIVEN)
    case.run("cut", "good, closed")
    told = case.json("stops")
    at = told["settings"]
    assert told["status"] == "ready" and at["socket_height"] == 8.0
    axis = 12 + 12.7 / 2
    assert told["lengths"] == pytest.approx(
        {"shelf": 600 + 2 * at["tongue_height"], "tongue": 140 - axis, "axis_stop": axis}
    )
    assert list(told["steps"]) == ["Panels", "Shelves", "Tongues"]
    assert "Cut the shelves 615.80 mm long" in told["steps"]["Shelves"][0]
    assert "0.10 mm packed under the end" in told["steps"]["Tongues"][0]
    assert {"trapped-bit", "unplug"} <= set(by_code(told["cautions"]))
    rows = {
        row["what"]: row for row in csv.DictReader(io.StringIO(case.words("stops --csv -").out))
    }
    assert float(rows["shelf"]["length_mm"]) == 615.8
    assert float(rows["axis_stop"]["length_in"]) == pytest.approx(axis / 25.4, abs=1e-5)
    text = " ".join(case.words("stops").out.split())
    assert "shelf, end to end 615.80 mm" in text and "paired sides from the same end" in text
    assert text.index("Sand the panels") < text.index("All sockets first") < text.index("On end")


def test_what_is_not_known_is_asked_for_and_what_is_not_settled_is_said(case: Shop) -> None:
    case.run(*START)
    told = case.json("stops")
    assert set(told["lengths"]) == {"tongue"} and told["lengths"]["tongue"] == 140
    assert "clear-width=L works it out" in told["steps"]["Shelves"][0]
    assert "another test piece comes first" in by_code(told["notices"])["boards-unsure"]
    error = case.run("stops", "--tails", "3", code=1).err
    assert "a sliding dovetail has no tails to count: leave --tails out" in error
    case.words("finish --abandon")
    assert "abandoned" in by_code(case.json("stops --setup 1")["notices"])["boards-unsure"]


def test_a_stop_beyond_the_shelf_leaves_no_tongue(case: Shop) -> None:
    case.run(*START, "--given", "stopped=139")
    assert "leaves a 140 mm shelf no tongue" in case.run("stops", code=1).err


def test_shelves_of_another_thickness_have_their_own_exposure(case: Shop) -> None:
    case.run(*START, "--scrap", "pine", "--scrap-thickness", "17.4")
    case.run("cut", "good, closed")
    advised = case.json("next")["settings"]["exposure"]
    assert case.json("stops")["settings"]["exposure"] == pytest.approx(advised + 0.3)


def test_a_person_of_inches_reads_inches(case: Shop, tmp_path: Path) -> None:
    case.words("prefer --units fraction")
    case.run(*START[:-1], "5/16", "--given", "clear-width=23 5/8", "--given", "stopped=1/2")
    case.run("cut", "good, closed")
    text = case.words("stops").out
    assert not re.search(r"\bmm\b", text) and "24 1/4" in text
    case.run("sheet", "--out", str(tmp_path / "sheet.pdf"))
    assert (tmp_path / "sheet.pdf").stat().st_size > 1000
