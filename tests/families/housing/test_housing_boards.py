"""The real boards of housings and rabbets: places, shelf and spacer, cut with a polygon library by
the stops themselves.

No outside source: the sides are cut as the stops say and put together.
"""

from __future__ import annotations

import csv
import io
import re
from typing import Any

import pytest
from sheets import affinity, box, clear, largest, passed, walls
from shop import Shop, sentence

BIT, SHEET = 12.64, 17.6  # mm: what the bit really cuts, and the sheet
GIVEN = ("sheet=17.6mm", "clear-width=600mm", "place=120mm", "spacing=250mm")


def stocked(shop: Shop) -> Shop:
    shop.words("bit add half --diameter 12.7 --angle 0 --cutting-length 25")
    shop.words("stock add side --species beech --thickness 20 --width 280")
    shop.words("stock add ply --species plywood --thickness 18 --width 280")
    return shop


def begun(shop: Shop, *more: str, machine: tuple[str, ...] = ()) -> Shop:
    stocked(shop).run("machine", "add", "table", *machine)
    given = (part for each in (*GIVEN, *more) for part in ("--given", each))
    base = ("start", "--joint", "housing", "--stock", "side", "--pin-stock", "ply")
    shop.run(*base, "--machine", "table", *given)
    return shop


def good(shop: Shop, second: float = 5.03) -> None:
    shop.run(
        "cut", "--slot", "--read", f"slot={BIT + second:.2f}", "--set", f"second_pass={second}"
    )
    advice = shop.run("cut", "good 0.07, right", "--set", f"second_pass={second}", "--json")
    assert advice.document["status"] == "ready"


@pytest.mark.parametrize("machine", [(), ("--fence-step", "0.5", "--fence-zero", "0.3")])
def test_sides_cut_by_the_stops_hold_their_shelves(shop: Shop, machine: tuple[str, ...]) -> None:
    good(begun(shop, machine=machine))
    job = shop.run("stops", "--tails", "3", "--json").document
    at, lengths = job["settings"], job["lengths"]
    assert [p["number"] for p in job["places"]] == [1, 2, 3]
    zero, rounding = (0.3, 0.25) if machine else (0.0, 0.005)
    for number, place in enumerate(job["places"]):
        x = place["fence"] - zero
        side = passed(box(0, 0, 900, 20), [x, x + lengths["spacer"]], BIT, at["height"])
        near, far = walls(side, at["height"])
        assert near == pytest.approx(120 + 250 * number, abs=rounding + 0.02)
        assert near == pytest.approx(place["near"] + place["rounding"], abs=0.02)
        assert far - near - SHEET == pytest.approx(0.07, abs=0.02)
    other = affinity.translate(affinity.scale(side, yfact=-1, origin=(0, 0)), 0, -600)
    middle, deep = (near + far) / 2, at["height"]

    def fits(length: float) -> bool:
        shelf = box(middle - SHEET / 2, deep - length, middle + SHEET / 2, deep)
        return clear(side, shelf) and clear(other, shelf)

    # It goes in as far as both housings are really deep; it is cut for the depth that is wanted.
    assert lengths["shelf"] == pytest.approx(600 + 2 * 20 / 3, abs=1e-3)
    assert largest(fits, 700) == pytest.approx(lengths["shelf"], abs=2 * 0.15)


def test_the_stops_as_a_screen_and_as_a_table(shop: Shop) -> None:
    good(begun(shop))
    text = " ".join(shop.words("stops").out.split())
    assert "spacer block" in text and "Shelves 613.33 mm long" in text
    assert "from the same end and the same edge to the fence" in text
    assert "for this bit and this batch of sheets only" in text
    assert "never pass it again with the fence further in" in text
    rows = list(csv.reader(io.StringIO(shop.words("stops --csv -").out)))
    named = {name: float(mm) for name, mm, _ in rows[1:]}
    assert named["spacer"] == pytest.approx(5.03) and named["fence_1"] > 120
    shop.words("prefer --units fraction")
    assert not re.search(r"\bmm\b", shop.words("stops").out)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("stops --tails 60", "nothing says where 60 housings lie"),
        ("stops --width 90", "for its own boards"),
        ("stops --boards 4", "for its own boards"),
        ("plan --like 1", "for its own boards"),
    ],
)
def test_what_is_no_stop_of_a_housing_is_refused(shop: Shop, typed: str, said: str) -> None:
    error = begun(shop).run(*typed.split(), code=1).err
    sentence(error)
    assert said in error


def test_the_sides_of_a_rabbet(shop: Shop) -> None:
    """What is left, and how large a back is."""
    shop.words("bit add wide --diameter 19.05 --angle 0 --cutting-length 25")
    stocked(shop)
    base = ("start", "--joint", "rabbet", "--bit", "wide", "--stock", "side", "--pin-stock", "ply")
    shop.run(*base, "--given", "back=yes", "--given", "sheet=5.6mm", "--given", "bearing=9mm")
    job: dict[str, Any] = shop.json("stops")
    assert job["lengths"] == {"left": pytest.approx(14.4)} and job["places"] == []
    text = " ".join(shop.words("stops").out.split())
    assert "by twice 9 mm" in text and "A light pass" in text.replace("a light", "A light")
    assert "is never between bit and fence" in text
