"""`fitlog joints`: what it lists can be begun as it says, for every family."""

from __future__ import annotations

from typing import Any

import pytest
from shop import Shop

from fitlog.families.names import FAMILIES


@pytest.mark.parametrize("name", FAMILIES)
def test_every_joint_begins_as_it_says(shop: Shop, name: str) -> None:
    listed: list[dict[str, Any]] = shop.json("joints")["joints"]
    assert [joint["name"] for joint in listed] == list(FAMILIES)
    (found,) = (joint for joint in listed if joint["name"] == name)
    assert list(found) == ["name", "what_for", "settings", "aspects", "before", "example"]
    assert len(found["what_for"]) > 40 and found["what_for"].endswith(".")
    for command in found["before"]:
        shop.run(*command)
    advice = shop.run(*found["example"], "--json").document
    assert advice["joint"] == name and advice["setup"] == 1
    assert list(advice["settings"]) == found["settings"]
    assert list(advice["chance_good"]) == [*found["aspects"], "all"]


def test_the_joints_are_told_in_words(shop: Shop) -> None:
    told = " ".join(shop.words("joints").out.split())
    assert "You set: bit height (up / down), fence offset (out / in), socket depth" in told
    assert "You are asked: fit (good, tight or loose)" in told


@pytest.mark.parametrize("said", ["half-blind", "Half-Blind-Dovetail"])
def test_a_joint_is_named_by_how_it_begins(shop: Shop, said: str) -> None:
    shop.words("bit add wren --diameter 12.7 --angle 14 --cutting-length 14")
    shop.words("stock add ash --species ash --thickness 18 --width 140")
    advice = shop.run("start", "--joint", said, "--json").document
    assert advice["joint"] == "half-blind dovetail"
