"""A straight bit is kept like any other; a half-blind dovetail refuses it in one sentence."""

from __future__ import annotations

import pytest
from shop import Shop

ADD = "bit add plain --diameter 12 --angle 0 --cutting-length 25"


def test_it_is_kept_and_no_half_blind_is_started_with_it(shop: Shop) -> None:
    shop.words(ADD)
    shop.words("stock add ash --species ash --thickness 18 --width 150")
    (bit,) = shop.json("bit list")["bits"]
    assert bit["angle"] == 0.0
    for command in ("start", "plan"):
        error = shop.words(f"{command} --json", code=1).document["error"]
        assert error["code"] == "bad-angle" and "plain is a straight bit" in error["message"]
    assert shop.json("log health")["sound"] is True


@pytest.mark.parametrize("angle", ["0.5", "-1", "46", "nan"])
def test_between_straight_and_a_dovetail_there_is_nothing(shop: Shop, angle: str) -> None:
    shop.words(ADD.replace("--angle 0", f"--angle {angle}") + " --yes --json", code=None)
    shop.words("bit add other --diameter 12 --angle 8 --cutting-length 15")
    assert [bit["name"] for bit in shop.json("bit list")["bits"]] == ["other"]


def test_a_bit_with_set_ups_does_not_become_another_kind(shop: Shop) -> None:
    shop.words(ADD.replace("--angle 0 ", "--angle 8 ").replace("25", "12"))
    shop.words("stock add ash --species ash --thickness 18 --width 150")
    shop.words("start")
    error = shop.words("bit edit plain --angle 0 --yes --json", code=1).document["error"]
    assert error["code"] == "in-use"
    assert shop.json("next")["setup"] == 1
