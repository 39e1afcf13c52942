"""The real boards of tenons, tongues and laps: lengths, order, and how alike the parts have to be.

Lengths are sums; that a spread of thickness moves a fit by as much, and by twice where groove and
tongue have it both, is geometry (`test_flip_oracle`).
"""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest
from flips_at_work import cut, said, setup, tenon, tongue
from shop import Shop, by_code

from fitlog.advice.craft import craft_of
from fitlog.advice.decision import decide
from fitlog.advice.history import History
from fitlog.domain import Plan, Reading, remark
from fitlog.families.example import example_of
from fitlog.families.telling import say
from fitlog.language.units import Ruler

GOOD = {"half-lap": "meets, closed"}


def ready(shop: Shop, joint: str, *more: str) -> Shop:
    """A shop whose set-up is ready at its first settings."""
    for command in example_of(joint).BEFORE:
        if command[0] != "machine":
            shop.run(*command)
    shop.run(*example_of(joint).EXAMPLE, *more)
    shop.run("cut", *GOOD.get(joint, "good, flush, closed").split(" "))
    return shop


def stops(shop: Shop) -> Any:
    return shop.json("stops")


def test_a_rail_is_as_long_as_the_clear_width_and_two_tenons(shop: Shop) -> None:
    told = stops(ready(shop, "tenon", "--given", "clear=400"))
    assert told["lengths"]["rail"] == pytest.approx(400 + 2 * told["settings"]["stop"])
    assert list(told["steps"]) == ["Stiles", "Rails", "Tenons"]
    text = " ".join(shop.words("stops").out.split())
    assert "All mortises first, 8 mm wide and 30 mm deep" in text
    assert "400.00 mm between the stiles" in text
    # A window of .06: rails that differ by .06 take all of it.
    assert "a spread of 0.06 mm takes all of what is good" in text
    assert "higher by half of what it is thicker" in text


def test_a_board_is_as_wide_as_it_covers_and_its_tongue(shop: Shop) -> None:
    told = stops(ready(shop, "tongue-groove", "--given", "covers=100"))
    assert told["lengths"]["board"] == pytest.approx(100 + told["settings"]["stop"])
    text = " ".join(shop.words("stops").out.split())
    # Groove and tongue have the thickness both: half of a window of .06.
    assert "a spread of 0.03 mm takes all of what is good" in text
    assert text.index("All grooves first") < text.index("every part from both faces")


def test_laps_want_parts_of_one_thickness(shop: Shop) -> None:
    told = stops(ready(shop, "half-lap"))
    assert told["lengths"] == {}
    text = " ".join(shop.words("stops").out.split())
    assert "a spread of 0.20 mm takes all of what is good" in text
    assert "as long as the frame outside" in text


@pytest.mark.parametrize("joint", ["tenon", "tongue-groove", "half-lap"])
def test_the_real_boards_go_out_as_a_table_and_in_inches(shop: Shop, joint: str) -> None:
    ready(shop, joint)
    rows = list(csv.DictReader(io.StringIO(shop.run("stops", "--csv", "-").out)))
    settings = stops(shop)["settings"]
    assert {row["what"]: float(row["length_mm"]) for row in rows} == pytest.approx(settings)
    for row in rows:
        assert float(row["length_in"]) * 25.4 == pytest.approx(float(row["length_mm"]), abs=1e-3)
    shop.words("prefer --units fraction")
    assert " mm" not in shop.words("stops").out


def test_no_real_boards_by_a_set_up_that_was_given_up(shop: Shop) -> None:
    ready(shop, "tenon").words("finish --abandon")
    assert "boards-unsure" in by_code(
        shop.run("stops", "--setup", "1", "--json").document["notices"]
    )


@pytest.mark.parametrize("joint", ["tenon", "tongue-groove", "half-lap"])
def test_there_is_no_layout_to_choose(shop: Shop, joint: str) -> None:
    ready(shop, joint)
    assert "no tails to count" in shop.run("stops", "--tails", "4", code=1).err


@pytest.mark.parametrize(
    ("plan", "alone", "both"),
    [
        (tenon(), Reading("tenon", 8.1), Reading("jaws", 7.9, other=8.1)),
        (tongue(), Reading("tongue", 7.0), Reading("jaws", 6.9, other=7.0)),
        (tongue(passes="one"), Reading("tongue", 6.2), Reading("jaws", 6.0, other=6.2)),
    ],
)
def test_what_was_measured_alone_is_asked_for_with_its_hollow(
    plan: Plan, alone: Reading, both: Reading
) -> None:
    first = craft_of(plan).first_settings(plan, History())

    def codes(*read: Reading) -> set[str]:
        tried = setup(plan, first, cut(1, first, said(plan, fit="tight"), read))
        return {r.code for r in craft_of(plan).notices(decide(tried, History()))}

    assert "solid-alone" in codes(alone)
    assert "solid-alone" not in codes(both) | codes(alone, both) | codes()


def test_a_mortise_that_was_given_is_known() -> None:
    plan = tenon(mortise=7.9, mortise_by="jaws")
    first = craft_of(plan).first_settings(plan, History())
    tried = setup(plan, first, cut(1, first, said(plan, fit="tight"), [Reading("tenon", 8.1)]))
    assert "solid-alone" not in {r.code for r in craft_of(plan).notices(decide(tried, History()))}


@pytest.mark.parametrize(
    ("joint", "again"),
    [
        ("tenon", "tight is cut again at a higher bit, both faces"),
        ("tongue-groove", "tight is cut again at a higher bit, both faces"),
        ("half-lap", "stands proud is cut again at a higher bit"),
    ],
)
def test_what_has_wood_left_is_cut_again_in_a_run(joint: str, again: str) -> None:
    """Unlike a dovetail, of which no cut is passed again."""
    told = say(remark("run-mixed", settings=("bit height",)).of(joint), Ruler("mm"))
    assert told.startswith("Cut what is half cut to its end before you move the bit height.")
    assert again in told and "never pass" not in told
