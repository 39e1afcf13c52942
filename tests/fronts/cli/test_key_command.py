"""`--key`: a deed that is sent again is done once."""

from __future__ import annotations

import json

import pytest
from shop import Shop

DEEDS = (
    ("cut", "tight, gap far 0.4"),
    ("undo", "--yes"),
    ("finish", "--as-it-is"),
    ("finish", "--abandon"),
)


@pytest.mark.parametrize("deed", DEEDS)
def test_the_same_key_twice_is_one_deed(shop: Shop, deed: tuple[str, ...]) -> None:
    shop.started()
    shop.words("cut tight")
    before = shop.entries()
    first = shop.run(*deed, "--key", "k-1")
    assert shop.entries() == before + 1 and "already" not in first.err
    again = shop.run(*deed, "--key", "k-1", "--json")
    assert shop.entries() == before + 1
    assert "Set-up 1 has that already" in again.err and json.loads(again.out)
    if deed[0] == "cut":
        shop.run(*deed, "--key", "k-2")
        assert shop.entries() == before + 2


def test_a_start_is_one_set_up(shop: Shop) -> None:
    shop.stocked()
    for _ in range(2):
        shop.run("start", "--pitch", "24", "--key", "the morning's")
    assert len(shop.json("review")["setups"]) == 1


@pytest.mark.parametrize("key", ["", " ", "a\nb", "x" * 101])
def test_what_is_no_key_is_refused(shop: Shop, key: str) -> None:
    shop.started()
    result = shop.run("cut", "tight", "--key", key, "--json", code=2)
    assert result.document["error"]["code"] == "bad-key"


def test_the_key_of_another_deed_is_refused(shop: Shop) -> None:
    shop.started()
    shop.run("cut", "tight", "--key", "x" * 100)
    assert "is that of entry 2 (cut, set-up 1)" in shop.refused("undo", "--key", "x" * 100)
