"""Phrases that may mean several things, asked by number on a terminal and refused elsewhere; and a
person's own phrases, from `fitlog words add` to the next cut, a table and another log.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from shop import Shop, sentence
from terminal import asked, on_terminal

MIRA = {"LOGNAME": "mira", "USER": "mira"}


@pytest.fixture
def tuning(shop: Shop) -> Shop:
    return shop.started()


@pytest.mark.parametrize(
    ("typed", "code", "fit"), [("2\n", 0, "slightly tight"), ("1\n", 0, "good"), ("\n", 2, None)]
)
def test_on_a_terminal_it_is_a_choice_by_number(
    tuning: Shop, typed: str, code: int, fit: str | None
) -> None:
    for columns in (40, 100):
        before = tuning.entries()
        ended, text = asked(tuning, "cut", "snug,", "dead", "flush", typed=typed, columns=columns)
        assert ended == code, text
        told = " ".join(text.split())
        assert '"snug" could be good or slightly tight. Which is it?' in told
        assert "1 good: light hand, holds its own weight" in told
        assert "2 slightly tight: firm hand pressure" in told
        assert all(len(line) <= columns for line in text.splitlines()[:4])
        assert (tuning.entries() == before) == (fit is None)
        if fit is not None:
            last = tuning.json("next")["last"]
            assert str(last).count(f"'{fit}'") == 1 and str(last).count("'flush'") == 1


def test_elsewhere_it_is_a_refusal_that_names_the_choices(tuning: Shop) -> None:
    told = tuning.refused("cut", "needs", "a", "mallet", code=2)
    assert '"needs a mallet" could be tight or very tight' in told
    error = tuning.run("cut", "off", "centre", "0.2", "--json", code=2).document["error"]
    assert (error["code"], error["choices"]) == ("which-meaning", ["gap near", "gap far"])
    slip = tuning.run("cut", "slakc", "--json", code=2).document["error"]
    assert (slip["code"], slip["choices"]) == ("unknown-word", ["slack"])
    assert "choices" not in tuning.run("cut", "banana", "--json", code=2).document["error"]


def test_a_slip_of_the_hand_is_a_choice_too(tuning: Shop) -> None:
    code, text = asked(tuning, "cut", "prud", "0.2", typed="1\n")
    assert code == 0 and "Piece 1: proud 0.20 mm" in text


def test_a_phrase_of_ones_own(tuning: Shop) -> None:
    tuning.refused("cut", "like", "butter", code=2)
    added = tuning.run("words", "add", "Like  the Butter", "=", "good").out
    assert '"like butter" now means good.' in added
    tuning.run("cut", "like butter, a hair proud")
    assert "good" in str(tuning.json("next")["last"])
    assert tuning.json("words")["own"] == {"like butter": "good"}
    assert "your own phrase" in tuning.run("words").out
    assert "like butter" in str(tuning.refused("words", "add", "like butter = tight"))
    theirs = tuning.run("cut", "like", "butter", code=2, env=MIRA).err
    assert "not known" in theirs  # another person's words are their own
    gone = tuning.json("words remove like butter")
    assert gone == {"phrase": "like butter", "meaning": None}
    tuning.refused("cut", "like", "butter", code=2)
    assert tuning.json("words")["own"] == {}
    tuning.run("words", "add", "like butter=tight")
    assert tuning.json("words")["own"] == {"like butter": "tight"}


def test_a_question_can_be_settled_for_good(tuning: Shop) -> None:
    tuning.run("words", "add", "snug", "=", "slightly tight")
    tuning.run("cut", "snug")
    assert "'slightly tight'" in str(tuning.json("next")["last"])


@pytest.mark.parametrize(
    ("typed", "code", "error", "part"),
    [
        ("slack = tight", 1, "known-phrase", "loose"),
        ("tight = loose", 1, "known-phrase", "tight"),
        ("a bit tight = good", 1, "known-phrase", "slightly tight"),
        ("snug = loose", 1, "known-phrase", "good or slightly tight"),
        ("not = good", 1, "known-phrase", "not"),
        ("far out = good", 1, "known-phrase", "far"),
        ("gap = good", 1, "known-phrase", "gap"),
        ("last = good", 1, "known-phrase", "last"),
        ("tight loose = good", 1, "known-phrase", "both"),
        ("butter = banana", 2, "bad-meaning", "say one of very tight"),
        ("butter = good, flush", 2, "bad-meaning", "good, flush"),
        ("butter = proud 0.2", 2, "bad-meaning", "proud 0.2"),
        ("butter = snug", 2, "bad-meaning", "snug"),
        ("butter =", 2, "bad-meaning", '""'),
        ("butter", 2, "bad-phrase", "like butter"),
        ("= good", 2, "bad-phrase", "words alone"),
        ("it is = good", 2, "bad-phrase", "words alone"),
        ("very = good", 2, "bad-phrase", "words alone"),
        ("a 3 = good", 2, "bad-phrase", "a 3"),
        ("one, two = good", 2, "bad-phrase", "one, two"),
        ("--height = good", 2, "bad-phrase", "height"),
        ("b" * 61 + " = good", 2, "bad-phrase", "at most 60"),
    ],
)
def test_what_cannot_be_a_phrase_is_refused(
    tuning: Shop, typed: str, code: int, error: str, part: str
) -> None:
    before = tuning.everything()
    refused = tuning.run("words", "add", "--json", "--", typed, code=code).document["error"]
    assert refused["code"] == error and part in f"{refused['message']} | {refused['hint']}"
    sentence(tuning.run("words", "add", "--", typed, code=code).err)
    assert tuning.everything() == before and tuning.json("words")["own"] == {}


def test_what_is_none_of_ones_own_cannot_be_taken_back(tuning: Shop) -> None:
    for phrase in ("butter", "slack"):
        error = tuning.run("words", "remove", phrase, "--json", code=1).document["error"]
        assert error["code"] == "unknown-phrase"


def test_a_table_s_rows_are_read_with_the_same_words(tuning: Shop, tmp_path: Path) -> None:
    tuning.run("words", "add", "like butter", "=", "good")
    table = tmp_path / "cuts.csv"
    table.write_text("date;said\n4.3.2021;like butter, sunk 0.3\n5.3.2021;sloppy\n")
    tuning.run("log", "import", str(table), "--setup", "1", "--dates", "dmy")
    assert "'loose'" in str(tuning.json("next")["last"])
    table.write_text("date;said\n6.3.2021;snug\n")
    told = tuning.run("log", "import", str(table), "--setup", "1", "--dates", "dmy", code=1)
    assert "good or slightly tight" in told.out + told.err


def test_own_phrases_go_along_with_an_export(tuning: Shop, tmp_path: Path) -> None:
    tuning.run("words", "add", "like butter", "=", "good")
    tuning.run("words", "add", "butter", "=", "loose")
    tuning.run("words", "remove", "butter")
    stream, other = tmp_path / "log.json", tmp_path / "other.db"
    tuning.run("log", "export", str(stream))
    tuning.run("log", "import", str(stream), "--db", str(other))
    there = tuning.run("words", "--json", "--db", str(other)).document
    assert there["own"] == {"like butter": "good"}
    assert tuning.json("log health")["faults"] == []


def test_they_fit_a_narrow_screen(tuning: Shop) -> None:
    tuning.run("words", "add", "like warm butter on toast", "=", "slightly loose")
    for columns in (40, 80):
        code, shown = on_terminal(tuning, "words", columns=columns, NO_COLOR="1")
        assert code == 0 and "like warm butter on toast" in " ".join(shown.split())
        assert max(len(line) for line in shown.splitlines()) <= columns
