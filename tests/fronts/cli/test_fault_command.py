"""`fitlog fault` from a shell: in all units, in a pipe, on a narrow terminal, with wrong words, as
JSON.
"""

from __future__ import annotations

from typing import Any

import pytest
from shop import Shop

from fitlog import texts
from fitlog.families.half_blind.faults.table import SYMPTOMS

KEYS = {"setup", "log", "found", "symptoms", "cautions"}
CAUSE = {"code", "share", "text", "why", "test", "cure", "amounts"}


def test_without_words_it_lists_what_can_be_typed_and_what_the_log_shows(shop: Shop) -> None:
    shop.started()
    out = shop.words("fault").out
    assert "What the log of set-up 1 shows" in out and "Nothing speaks against its moves" in out
    for symptom in SYMPTOMS:
        (line,) = (row for row in out.splitlines() if row.startswith(symptom.group + ": "))
        assert symptom.words in line.removeprefix(symptom.group + ": ").rstrip(".").split("; ")


def test_every_listed_symptom_can_be_typed_back(shop: Shop) -> None:
    shop.started()
    listed = shop.json("fault")["symptoms"]
    assert len(listed) == len(SYMPTOMS) >= 20
    for row in listed:
        (found,) = shop.json(f"fault {row['words']}")["found"]
        assert found["symptom"] == row["code"] and len(found["causes"]) >= 2
        size = f"{row['words']} 0.15mm"
        assert shop.words(f"fault {size}", None).code == (0 if row["size"] else 2)


def test_a_typed_size_makes_the_amounts_exact(shop: Shop) -> None:
    shop.started()
    found = shop.json("fault middle tail loose 0.14")["found"][0]
    assert found["size"] == 0.14 and found["size_from"] == "said"
    first = found["causes"][0]
    assert first["code"] == "centre-off" and first["amounts"] == {"size_mm": 0.14, "half_mm": 0.07}
    assert "0.07 mm" in first["cure"]


def test_the_document_has_every_key_always(shop: Shop) -> None:
    shop.started()
    for line in ("fault", "fault burnt", "fault gap baseline 0.2, edges uneven"):
        document: dict[str, Any] = shop.json(line)
        assert set(document) == KEYS
        for found in document["found"]:
            assert set(found) == {
                *("symptom", "words", "title", "size", "size_from", "first", "causes")
            }
            assert all(set(cause) == CAUSE for cause in found["causes"])
    assert document["setup"] == 1 and document["symptoms"] == []
    assert {c["code"] for c in document["cautions"]} == {"unplug", "one-pass", "new-height"}


def test_a_logged_gap_is_pointed_out_and_gives_its_size(shop: Shop) -> None:
    shop.started()
    notices = {
        n["code"]: n["text"] for n in shop.json("cut slightly tight, gap baseline 0.3")["notices"]
    }
    assert "fitlog fault gap baseline" in notices["gap-baseline"]
    assert "Piece 1 was logged with a gap baseline 0.30 mm" in shop.words("fault").out
    out = shop.words("fault gap baseline").out
    assert "Amounts for 0.30 mm, the gap, as the log has it (piece 1)." in out
    assert "was logged with" not in out  # asked already


def test_a_dead_move_is_pointed_out_unasked_and_among_the_causes(shop: Shop) -> None:
    shop.started("--height 9.2", machine={"backlash": "0.15"})
    for height in ("9.2", "9.2", "8.8", "8.8"):
        told = shop.json(f"cut slightly loose 0.8 --height {height}")
    assert "move-did-nothing" in {n["code"] for n in told["notices"]}
    document = shop.json("fault")
    assert [r["code"] for r in document["log"]] == ["move-did-nothing"]
    found = shop.json("fault move nothing")["found"][0]
    assert found["size"] == pytest.approx(0.4) and found["size_from"] == "log"
    first = found["causes"][0]
    assert first["code"] == "backlash" and first["amounts"] == {"play_mm": 0.15, "over_mm": 0.25}
    assert any("the log shows it between pieces 2 and 3" in why for why in first["why"])


def test_it_only_reads(shop: Shop) -> None:
    shop.started()
    before = shop.everything()
    shop.words("fault")
    shop.words("fault gap flank 0.1")
    assert shop.everything() == before


def test_another_set_up_is_asked_by_its_number(shop: Shop) -> None:
    shop.started()
    shop.words("finish --abandon")
    shop.words("start --width 240")
    across = [shop.json(f"fault gap flank 0.1 --setup {n}")["found"][0]["causes"] for n in (1, 2)]
    ends = [
        next(c for c in causes if c["code"] == "end-not-square")["amounts"]["across_mm"]
        for causes in across
    ]
    assert ends[1] / ends[0] == pytest.approx(240 / 150, rel=0.02)  # each at its own height


def test_before_the_first_set_up_the_list_is_there(shop: Shop) -> None:
    shop.stocked()
    assert "gap baseline" in shop.words("fault").out
    assert shop.json("fault")["setup"] is None
    assert "fitlog start" in shop.refused("fault", "gap", "baseline")


@pytest.mark.parametrize(
    ("line", "code", "part"),
    [
        ("fault gap", 2, "did you mean gap baseline"),
        ("fault gap basline", 2, "baseline"),
        ("fault 0.2", 2, "symptom"),
        ("fault gap baseline 20", 1, "plausible"),
        ("fault gap baseline 0.2kg", 2, "unit"),
        ("fault --setup 9", 1, "9"),
        ("fault gap baseline -0.2", 2, "-0"),
        ("fault not tight", 2, "seen"),
    ],
)
def test_wrong_words_are_one_sentence(shop: Shop, line: str, code: int, part: str) -> None:
    shop.started()
    assert part in shop.refused(*line.split(), code=code)


@pytest.mark.parametrize(
    ("units", "size"), [("mm", "0.20 mm"), ("inch", "0.008 in"), ("fraction", "8 thou")]
)
def test_in_the_users_units(shop: Shop, units: str, size: str) -> None:
    shop.started()
    shop.words(f"prefer --units {units}")
    out = shop.words("fault gap baseline 0.2mm").out
    assert f"Amounts for {size}, the gap." in out and f"the gap is the lift, {size}." in out
    assert units == "mm" or "mm" not in out
    assert shop.json("fault gap baseline 0.2mm")["found"][0]["size"] == pytest.approx(0.2)


def test_no_fault_no_change_in_the_documents(shop: Shop) -> None:
    """A sound set-up says nothing of moves or drifts, at any of its pieces."""
    shop.started("--height 9.2")
    for line in (
        "cut slightly loose 0.45 --height 9.2",
        "cut good 0.2 --height 9.45",
        "cut good 0.21",
    ):
        codes = {n["code"] for n in shop.json(line)["notices"]}
        assert not codes & {"move-did-nothing", "move-overshot", "fit-drifts", "centre-drifts"}


def test_a_cause_is_told_in_the_language_at_hand(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop.started()
    (burnt,) = (s for s in SYMPTOMS if s.code == "burnt")
    (slow,) = (c for c in burnt.causes if c.code == "fed-too-slowly")
    monkeypatch.setitem(texts._texts(), slow.cure, "at most {rpm}, invented")
    (found,) = shop.json("fault burnt")["found"]
    (told,) = (c["cure"] for c in found["causes"] if c["code"] == slow.code)
    assert told == f"at most {told.split()[2]} invented" and told.split()[2][:-1].isdigit()
