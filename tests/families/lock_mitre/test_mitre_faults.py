"""What goes wrong with lock mitres and no setting cures: heard in a maker's words, with amounts.

No outside source: these are promises of the tool itself; the shop is invented.
"""

from __future__ import annotations

from typing import Any

import pytest
from shop import Shop, sentence

from fitlog.families.lock_mitre.symptoms import SYMPTOMS


@pytest.fixture
def table(shop: Shop) -> Shop:
    return shop.built(_table)


def _table(shop: Shop) -> None:
    shop.words("bit add lock --diameter 50.8 --angle 45 --cutting-length 22")
    shop.words("stock add oak --species oak --thickness 19 --width 140")
    shop.run("start", "--joint", "lock-mitre")


def asked(shop: Shop, *words: str) -> Any:
    return shop.run("fault", *words, "--json").document


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("step varies", "varies-along"),
        ("all joints step alike 0.2", "batch-steps"),
        ("the whole batch steps", "batch-steps"),
        ("corner not square", "not-square"),
        ("open inside 0.3", "open-inside"),
        ("gap inside", "open-inside"),
        ("a bite at the outfeed", "end-bite"),
        ("torn at the exit", "torn"),
    ],
)
def test_a_symptom_is_heard(table: Shop, typed: str, code: str) -> None:
    found = asked(table, typed)["found"]
    assert [one["symptom"] for one in found] == [code]
    causes = found[0]["causes"]
    assert sum(c["share"] for c in causes) == pytest.approx(1.0, abs=0.01)
    for cause in causes:
        for part in ("text", "test", "cure"):
            assert cause[part].endswith("."), cause
            assert "{" not in cause[part]


def test_the_list_is_what_can_be_typed(table: Shop) -> None:
    for symptom in SYMPTOMS:
        assert [one["symptom"] for one in asked(table, symptom.words)["found"]] == [symptom.code]
    assert "all joints step alike" in " ".join(table.words("fault").out.split())


def test_a_thicker_batch_takes_half_of_it_from_each_setting(table: Shop) -> None:
    """Thickness counts -1 in each pair, a setting +2 (the reference for families, section 5)."""
    (found,) = asked(table, "all joints step 0.3")["found"]
    cure = found["causes"][0]["cure"]
    assert "move bit up and fence back by half, 0.15 mm" in cure
    table.words("prefer --units inch")
    assert "mm" not in table.words("fault all joints step 0.012").out


def test_a_logged_gap_is_told_and_its_size_taken(table: Shop) -> None:
    table.run("cut", "gap inside 0.25, flush")
    assert "Piece 1 was logged with a gap inside 0.25 mm" in " ".join(
        table.words("fault").out.split()
    )
    (found,) = asked(table, "gap inside")["found"]
    assert found["size"] == 0.25 and found["size_from"] == "log"


@pytest.mark.parametrize("typed", ["wombat", "corner", "not square 0.3"])
def test_what_names_no_symptom_is_refused(table: Shop, typed: str) -> None:
    sentence(table.run("fault", typed, code=2).err)
