"""What goes wrong with parts cut from both faces and no setting cures: heard in a maker's words,
with amounts.

2 l tan(phi) is geometry: 28.43 mm at half a degree take 0.50 mm. The rest are promises of the tool.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from shop import Shop, sentence

from fitlog.families.example import example_of
from fitlog.families.half_lap.faults import SYMPTOMS as LAP
from fitlog.families.tenon.faults import SYMPTOMS as TENON
from fitlog.families.tongue_groove.faults import SYMPTOMS as GROOVE

TABLES = {"tenon": TENON, "tongue-groove": GROOVE, "half-lap": LAP}


def begun(shop: Shop, joint: str) -> Shop:
    for command in (*example_of(joint).BEFORE, example_of(joint).EXAMPLE):
        shop.run(*command)
    return shop


def asked(shop: Shop, *words: str) -> Any:
    return shop.run("fault", *words, "--json").document


@pytest.mark.parametrize(
    ("joint", "typed", "code"),
    [
        ("tenon", "tapered", "tapered"),
        ("tenon", "gap tip", "tapered"),
        ("tenon", "loose at the tip", "tapered"),
        ("tenon", "shoulders not in line", "shoulders-crooked"),
        ("tenon", "one shoulder open", "shoulders-crooked"),
        ("tenon", "fits some boards only", "some-fit"),
        ("tenon", "torn at the exit", "torn-exit"),
        ("tongue-groove", "walls of the groove unequal", "walls-unequal"),
        ("tongue-groove", "fits some, not others", "some-fit"),
        ("half-lap", "flush at the shoulder, proud at the tip", "tip-proud"),
        ("half-lap", "gap line", "shoulders-crooked"),
    ],
)
def test_a_symptom_is_heard(shop: Shop, joint: str, typed: str, code: str) -> None:
    found = asked(begun(shop, joint), *typed.replace(",", "").split())["found"]
    assert [one["symptom"] for one in found] == [code]
    causes = found[0]["causes"]
    assert sum(c["share"] for c in causes) == pytest.approx(1.0, abs=0.01)
    for cause in causes:
        for part in ("text", "test", "cure"):
            assert cause[part].endswith(".") and "{" not in cause[part], cause


@pytest.mark.parametrize("joint", TABLES)
def test_the_list_is_what_can_be_typed(shop: Shop, joint: str) -> None:
    begun(shop, joint)
    for symptom in TABLES[joint]:
        typed = symptom.words.replace(",", "")
        assert [one["symptom"] for one in asked(shop, typed)["found"]] == [symptom.code]
    assert "gap tip; shoulders not in line" in " ".join(shop.words("fault").out.split())


def test_amounts_are_those_of_the_set_up(shop: Shop) -> None:
    begun(shop, "tenon")
    lean = 2 * 28.43 * math.tan(math.radians(0.5))
    assert lean == pytest.approx(0.50, abs=0.005)
    shop.run("cut", *["good,", "flush,", "tapered", "0.3"])
    found = asked(shop, "tapered")["found"][0]
    assert (found["size"], found["size_from"]) == (0.3, "log")
    leans = next(c for c in found["causes"] if c["code"] == "fence-leans")
    assert leans["amounts"]["half_degree_mm"] == pytest.approx(lean, abs=0.01)
    listed = " ".join(shop.words("fault").out.split())
    assert "Piece 1 was logged with a gap tip 0.30 mm" in listed
    shop.words("prefer --units fraction")
    assert " mm" not in shop.run("fault", "tapered").out + shop.run("fault", "some", "fit").out


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        (("banana",), "nothing-said"),
        (("tip",), "unclear-symptom"),
        (("torn", "0.3"), "no-size"),
        (("tapered", "0"), "bad-size"),
    ],
)
def test_what_names_no_symptom_is_refused(shop: Shop, typed: tuple[str, ...], code: str) -> None:
    begun(shop, "tenon")
    result = shop.run("fault", *typed, "--json", code=None)
    assert result.code in (1, 2) and result.document["error"]["code"] == code
    sentence(shop.run("fault", *typed, code=None).err)
