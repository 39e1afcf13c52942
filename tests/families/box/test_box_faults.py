"""What goes wrong with box joints and no setting cures: heard in a maker's words, with amounts.

T tan(phi) is geometry: 12 mm at half a degree take 0.10 mm. The rest are promises of the tool.
"""

from __future__ import annotations

from typing import Any

import pytest
from shop import Shop, sentence

from fitlog.families.box.faults import SYMPTOMS as SLED
from fitlog.families.box_steps.faults import SYMPTOMS as STEPS


@pytest.fixture
def sled(shop: Shop) -> Shop:
    return shop.built(_sled)


def _sled(shop: Shop) -> None:
    shop.words("bit add plain --diameter 9.525 --angle 0 --cutting-length 25")
    shop.words("stock add ash --species ash --thickness 12 --width 120")
    shop.run("start", "--joint", "box", "--given", "key=9.4")


def asked(shop: Shop, *words: str) -> Any:
    return shop.run("fault", *words, "--json").document


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("last fingers bind", "last-bind"),
        ("creeps", "last-bind"),
        ("gap creep", "last-bind"),
        ("tight at the tips", "tight-across"),
        ("ends uneven", "ends-uneven"),
        ("ridges in the corners", "corner-open"),
        ("gap corner", "corner-open"),
        ("a sliver at the first edge", "first-edge"),
        ("slots too wide", "slots-wide"),
        ("torn at the exit", "torn-exit"),
    ],
)
def test_a_symptom_is_heard(sled: Shop, typed: str, code: str) -> None:
    found = asked(sled, typed)["found"]
    assert [one["symptom"] for one in found] == [code]
    causes = found[0]["causes"]
    assert sum(c["share"] for c in causes) == pytest.approx(1.0, abs=0.01)
    for cause in causes:
        for part in ("text", "test", "cure"):
            assert cause[part].endswith("."), cause
            assert "{" not in cause[part]


def test_the_list_is_what_can_be_typed(sled: Shop) -> None:
    for symptom in SLED:
        assert [one["symptom"] for one in asked(sled, symptom.words)["found"]] == [symptom.code]
    assert {s.code for s in STEPS} == {s.code for s in SLED} - {"first-edge"}
    assert "last fingers bind; tight across" in " ".join(sled.words("fault").out.split())


def test_amounts_are_those_of_the_set_up(sled: Shop) -> None:
    text = " ".join(sled.run("fault", "tight across").out.split())
    assert "through a board 12.00 mm thick, half a degree takes 0.10 mm of the play" in text
    sled.run("cut", "good, level, flush, creeps 0.3")
    found = asked(sled, "last fingers bind")["found"][0]
    assert (found["size"], found["size_from"]) == (0.3, "log")
    assert found["causes"][0]["amounts"] == {"key_play_mm": pytest.approx(0.125)}
    assert "Piece 1 was logged with a gap creep 0.30 mm" in " ".join(
        sled.words("fault").out.split()
    )
    sled.words("prefer --units fraction")
    told = sled.run("fault", "last fingers bind").out + sled.run("fault", "slots wide").out
    assert " mm" not in told


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        (("banana",), "nothing-said"),
        (("edge",), "unclear-symptom"),
        (("ends", "uneven", "0.3"), "no-size"),
        (("slots", "wide", "0"), "bad-size"),
        (("last", "bind", "0.3,", "creeps", "0.2"), "contradiction"),
    ],
)
def test_what_names_no_symptom_is_refused(sled: Shop, typed: tuple[str, ...], code: str) -> None:
    result = sled.run("fault", *typed, "--json", code=None)
    assert result.code in (1, 2) and result.document["error"]["code"] == code
    sentence(sled.run("fault", *typed, code=None).err)
