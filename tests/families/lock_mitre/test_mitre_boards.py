"""The real boards of a lock mitre, and its settings got back.

Lengths and moves: the reference for families, section 5 ("length = outside length while s <= T,
each end s - T shorter else"; "other T: both settings move by dT/2"). The rest are promises of the
tool.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from shop import Shop, by_code, sentence

START = ("start", "--joint", "lock-mitre", "--bit", "lock", "--stock", "oak")


@pytest.fixture
def shop_at_work(shop: Shop) -> Shop:
    return shop.built(_shop_at_work)


def _shop_at_work(shop: Shop) -> None:
    shop.words("bit add lock --diameter 50.8 --angle 45 --cutting-length 22")
    shop.words("stock add oak --species oak --thickness 19 --width 140")
    shop.run(*START)


def good(shop: Shop) -> Shop:
    """A set-up that ended good at 20.3 and 20.2."""
    shop.run("cut", "flush, level, even", "--set", "height=20.3", "--set", "fence_offset=20.2")
    shop.words("finish")
    return shop


def stops(shop: Shop, *more: str) -> Any:
    return shop.run("stops", *more, "--json").document


def test_parts_with_a_blunt_edge_are_cut_to_their_outside_length(shop_at_work: Shop) -> None:
    told = stops(good(shop_at_work))
    assert told["settings"]["height"] == pytest.approx(20.3, abs=0.03)
    assert abs(told["edge"]) < 0.05 and told["longer"] == 0.0
    assert "to its outside length" in " ".join(told["steps"]["Parts"])
    assert list(told["steps"]) == ["Parts", "Flats", "Uprights"]
    text = " ".join(shop_at_work.words("stops").out.split())
    assert text.index("All flats first") < text.index("Then all uprights")
    assert "nothing moved in between" in text and "set-up blocks" in text


def test_parts_with_a_sharp_edge_are_cut_longer_by_both_ends(shop_at_work: Shop) -> None:
    at = ("--set", "height=20.5", "--set", "fence_offset=20.4")
    shop_at_work.run("cut", "proud 0.40, out 0.20, slightly under 0.10", *at)
    shop_at_work.words("finish --as-it-is")
    told = stops(shop_at_work)
    # Each end is shorter by half of the sum of both pairs; what is known before counts a little.
    assert told["edge"] == pytest.approx(0.30, abs=0.04)
    assert told["longer"] == pytest.approx(2 * told["edge"], abs=1e-3)
    assert "longer than its outside length" in " ".join(told["steps"]["Parts"])


def test_thinner_boards_move_both_settings_by_half(shop_at_work: Shop, tmp_path: Path) -> None:
    here, thin = stops(good(shop_at_work)), stops(shop_at_work, "--thickness", "17.6")
    for name in ("height", "fence_offset"):
        assert here["settings"][name] - thin["settings"][name] == pytest.approx(0.7, abs=1e-6)
    assert thin["edge"] == pytest.approx(here["edge"], abs=1e-3)
    table = tmp_path / "boards.csv"
    shop_at_work.run("stops", "--csv", str(table))
    rows = table.read_text(encoding="utf-8").splitlines()
    assert rows[0] == "what,length_mm,length_in" and rows[1].startswith("height,20.3")


def test_two_thicknesses_leave_a_butt_line(shop_at_work: Shop) -> None:
    told = stops(good(shop_at_work), "--thickness", "19", "--pin-thickness", "18")
    assert told["settings"]["fence_offset"] == pytest.approx(19.7, abs=0.03)
    assert "two-thicknesses" in by_code(told["notices"])


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("stops --tails 4", "no tails to count"),
        ("stops --boards 4x140", "no layout to choose"),
        ("stops --thickness 9", "is for boards of 11 mm to 22 mm"),
    ],
)
def test_what_no_mitre_has_is_refused(shop_at_work: Shop, typed: str, said: str) -> None:
    error = good(shop_at_work).run(*typed.split(), code=1).err
    sentence(error)
    assert said in error


def test_a_sheet_is_made(shop_at_work: Shop, tmp_path: Path) -> None:
    out = tmp_path / "mitre.svg"
    good(shop_at_work).run("sheet", "--out", str(out))
    assert "bit height" in out.read_text(encoding="utf-8")


def test_settings_are_got_back_and_the_command_goes_on_there(shop_at_work: Shop) -> None:
    found = good(shop_at_work).run("recover", "--from", "1", "--json").document
    assert found["settings"] == {"height": 20.3, "fence_offset": 20.2}
    assert all(0.2 < chance < 0.9 for chance in found["chance_good"].values())
    thin = shop_at_work.run("recover", "--from", "1", "--thickness", "18", "--json").document
    assert thin["settings"] == {"height": 19.8, "fence_offset": 19.7}
    text = " ".join(shop_at_work.words("recover --from 1 --thickness 18").out.split())
    assert "each 0.50 mm less: half of what the boards are thinner" in text
    first = shop_at_work.run(*thin["start"].split()[1:], "--json").document
    assert first["settings"] == thin["settings"]


def test_a_recovery_in_inches_says_no_millimetre(shop_at_work: Shop) -> None:
    good(shop_at_work).words("prefer --units fraction")
    for command in ("recover --from 1", "stops"):
        assert " mm" not in shop_at_work.words(command).out


def test_what_did_not_end_good_is_not_got_back(shop_at_work: Shop) -> None:
    shop_at_work.words("cut shy 0.4")
    shop_at_work.words("finish --as-it-is")
    error = shop_at_work.run("recover", "--from", "1", code=1).err
    assert "set-up 1 did not end good" in error


def test_another_bit_is_told(shop_at_work: Shop) -> None:
    good(shop_at_work).words("bit add wide --diameter 69.9 --angle 45 --cutting-length 30")
    found = shop_at_work.run("recover", "--from", "1", "--bit", "wide", "--json").document
    assert "another-bit" in by_code(found["notices"])
