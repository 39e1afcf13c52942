"""Why the settings of the real boards are what they are, for every joint that has stops.

No outside source: these are promises of the tool itself.
"""

from __future__ import annotations

import pytest
from shop import Shop

from fitlog.families import part_of
from fitlog.families.example import example_of
from fitlog.families.names import family_of, joints

# The first one shows where each cut lies, too, in tests of its own.
OTHERS = [joint for joint in joints()[1:] if part_of(joint, "boards") is not None]


def flat(shop: Shop, line: str) -> str:
    return " ".join(shop.words(line).out.split())


def started(shop: Shop, joint: str) -> None:
    for command in (*example_of(joint).BEFORE, example_of(joint).EXAMPLE):
        shop.run(*command)


@pytest.mark.parametrize("joint", OTHERS)
def test_why_names_the_piece_that_every_setting_rests_on(shop: Shop, joint: str) -> None:
    started(shop, joint)
    play = shop.run("next", "--json").document["chance_good"]
    kinds = [k for k in family_of(joint).kinds if k.setting and play.get(k.name) is not None]
    assert len(kinds) >= 2
    shop.run("cut", ", ".join(kind.settling for kind in kinds))
    plain, why = (flat(shop, line) for line in ("stops", "stops --why"))
    assert "Why" not in plain and why.startswith(plain)
    for one in family_of(joint).settings:
        assert f"- {one.noun.capitalize()} " in why.removeprefix(plain)
    for kind in kinds:
        said = f"piece 1 was cut at it, {kind.settling}.", f"piece 1, which was {kind.settling}."
        assert any(text in why for text in said), kind.name


def test_why_tells_a_setting_that_no_piece_was_cut_at(shop: Shop) -> None:
    started(shop, "half-lap")
    assert flat(shop, "stops --why").count("by the figures alone, no piece was cut for it.") == 2
    shop.words("cut very proud 0.4, closed")
    assert "since piece 1, which was very proud 0.40 mm." in flat(shop, "stops --why")
