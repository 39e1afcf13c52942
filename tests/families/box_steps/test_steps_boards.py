"""The real boards of box joints: widths that end alike, and stops that put two boards together
edge to edge, cut with a polygon library by the stops themselves.

No outside source: the boards are cut as the stops say and put together.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path
from typing import Any

import pytest
from fingers import stepped, travel, wood
from shop import Shop

BIT = 12.64  # mm: what the bit really cuts


def steps_shop(shop: Shop, *machine: str) -> Shop:
    shop.words("bit add half --diameter 12.7 --angle 0 --cutting-length 32")
    shop.words("stock add beech --species beech --thickness 14 --width 150")
    shop.run("machine", "add", "table", *machine)
    shop.run("start", "--joint", "box-steps", "--pitch", "25.4", "--machine", "table")
    return shop


def good(shop: Shop) -> dict[str, Any]:
    """A set-up whose first piece is good all round, cut at a second pass of 0.11 mm."""
    typed = ("good 0.07, centred, flush", "--walls", "68.65", "68.65", "--set", "second_pass=0.11")
    advice: dict[str, Any] = shop.run("cut", *typed, "--set", "fence_offset=75", "--json").document
    assert advice["status"] == "ready"
    return advice


@pytest.mark.parametrize("step", [(), ("--fence-step", "0.1", "--fence-zero", "0.4")])
def test_boards_cut_by_the_stops_go_together_edge_to_edge(
    shop: Shop, step: tuple[str, ...]
) -> None:
    advice = good(steps_shop(shop, *step))
    job = shop.json("stops")
    # The piece cut at 75 on the user's scale came out centred: there the scale tells the truth,
    # whatever was thought of its zero.
    alike = next(w for w in job["widths"] if w["ends"] == "alike" and w["fingers"] == 6)
    boards, h = {}, 14.0
    for board in ("first", "second"):
        passes = [
            stop[name]
            for stop in job["stops"]
            if stop["board"] == board
            for name in ("fence", "second")
        ]
        boards[board] = wood(stepped(alike["width"], 50.0, passes, BIT, h), h)
    assert len(boards["first"]) == 6 and len(boards["second"]) == 5
    low, high = travel(boards["first"], boards["second"], 0.0)
    rounding = 0.05 if step else 1e-3
    true_play = 2 * (BIT + 0.11) - 25.4
    assert high - low == pytest.approx(true_play, abs=4 * rounding)
    assert (high + low) / 2 == pytest.approx(0.0, abs=0.06 + rounding)
    ends = boards["first"][-1][1] - boards["first"][-1][0], boards["first"][0][1]
    assert ends[0] == pytest.approx(ends[1], abs=0.12 + 2 * rounding)
    assert advice["settings"]["second_pass"] == job["settings"]["second_pass"]


def test_stops_go_out_as_a_table_and_are_told_in_fractions(shop: Shop, tmp_path: Path) -> None:
    good(steps_shop(shop))
    rows = list(csv.DictReader(io.StringIO(shop.words("stops --csv -").out)))
    assert [row["board"] for row in rows] == ["first"] * 5 + ["second"] * 6
    inches = [float(row["fence_set_in"]) for row in rows]
    assert inches == pytest.approx([float(r["fence_set_mm"]) / 25.4 for r in rows], abs=1e-4)
    shop.words("prefer --units fraction")
    text = shop.words("stops").out
    assert " mm" not in text and "6 fingers end alike" in text
    shop.run("sheet", "--out", str(tmp_path / "sheet.svg"))
    assert "box-steps" in (tmp_path / "sheet.svg").read_text(encoding="utf-8")


def test_fingers_beyond_the_board_are_refused(shop: Shop) -> None:
    good(steps_shop(shop))
    assert "8 fingers want boards" in shop.words("stops --tails 8", code=1).err


def test_a_sled_tells_the_widths_that_end_alike(shop: Shop) -> None:
    """9.525 less 0.075 of play: 7 fingers end alike at 123.300 mm."""
    shop.words("bit add plain --diameter 9.525 --angle 0 --cutting-length 25 --measured")
    shop.words("stock add ash --species ash --thickness 12 --width 124")
    shop.run("start", "--joint", "box")
    typed = ("good", "level,", "flush", "--read", "slot=9.525", "--read", "finger=9.45")
    shop.run(
        "cut", *typed, "--set", "key_gap=9.45", "--set", "starter=9.4875", "--set", "height=12"
    )
    job = shop.json("stops")
    width = next(w for w in job["widths"] if w["ends"] == "alike" and w["fingers"] == 7)["width"]
    play = job["play"]
    assert width == pytest.approx(6 * (2 * 9.45 + play) + 9.45, abs=1e-3)
    assert width == pytest.approx(123.300, abs=0.15)
    assert job["stops"] == [] and "123." in shop.words("stops").out
    rows = list(csv.DictReader(io.StringIO(shop.words("stops --csv -").out)))
    assert {row["ends"] for row in rows} == {"alike", "opposite"}
