"""A box joint by steps on coarse marks: which mark is proposed, what is said where none is good,
and what stays where an end is cut again.

No outside source: these are promises of the tool itself; the shop is invented.
"""

from __future__ import annotations

import pytest
from at_work import document
from shop import Shop, by_code

MARK = 25.4 / 64
LEAP = "coarse-step-fit"


@pytest.fixture
def marks(shop: Shop) -> Shop:
    """A table read to 1/64 in, with a set-up before its first piece."""
    return begun(shop, "1/64 in")


@pytest.fixture
def screw(shop: Shop) -> Shop:
    """The same, but its second pass is set by a screw."""
    return begun(shop, "0.05")


def begun(shop: Shop, second: str) -> Shop:
    shop.words("bit add half --diameter 12.7 --angle 0 --cutting-length 32")
    shop.words("stock add maple --species maple --thickness 12.7 --width 114.3")
    steps = {"fence": "1/64 in", "pass": second, "height": "1/64 in"}
    parts = [f"{part}=step {step}" for part, step in steps.items()]
    shop.run("machine", "add", "table", *(word for part in parts for word in ("--part", part)))
    shop.run("start", "--joint", "box-steps", "--pitch", "25.4", "--machine", "table")
    return shop


def test_a_mark_that_is_likely_good_is_not_come_up_to(marks: Shop) -> None:
    """The board's thickness is a mark: one below is 0.4 mm shy for sure."""
    found = document(marks, "next")
    assert found["settings"]["height"] == pytest.approx(12.7, abs=1e-6)
    assert found["settings"]["second_pass"] == 0.0


def test_where_no_mark_is_good_the_setting_between_them_is_named(marks: Shop) -> None:
    notes = by_code(document(marks, "next")["notices"])
    assert "set it between the marks, at 0." in notes[LEAP]
    assert "it starts at a mark" in notes["coarse-step-ends"]  # at a mark
    text = by_code(document(marks, "cut", "very tight, flush")["notices"])[LEAP]
    assert "The second pass wants 0." in text and "between two steps" in text


def test_a_known_zero_stays_where_the_end_is_cut_again(screw: Shop) -> None:
    """So that another cut on it costs no fresh end; the boards are reckoned from the zero."""
    before = document(screw, "next")["settings"]["fence_offset"]
    found = document(screw, "cut", "tight, flush", "--walls", "51.08", "50.66")
    assert found["moves"]["fence_offset"] == 0.0 and found["moves"]["second_pass"] > 0
    assert "same-end" in by_code(found["reasons"])
    assert found["settled_by"]["centre"]["way"] == "figures"
    ready = document(screw, "cut", "good 0.07, flush", "--set", "second_pass=0.15", "--same-end")
    assert ready["status"] == "ready"
    assert ready["settings"]["fence_offset"] == pytest.approx(before - MARK, abs=1e-3)
    stop = document(screw, "stops")["stops"][0]
    error = (51.08 - 50.66) / 2 - (before - 114.3 / 2)  # of the walls, less that of the mark
    assert stop["middle"] - (stop["exact"] + 0.15 / 2) == pytest.approx(error, abs=0.03)


def test_one_pass_slots_and_both_walls_are_told_as_such(marks: Shop) -> None:
    out = " ".join(marks.run("next").out.split())
    assert "First: 57." in out and "0.00 mm further out" not in out
    out = " ".join(marks.run("cut", "tight", "--walls", "51.08", "50.66").out.split())
    assert "Piece 1: tight, walls 51.08 mm at the fence, 50.66 mm far." in out


def test_a_setting_between_marks_is_got_back_as_it_was_cut(marks: Shop) -> None:
    marks.run("cut", "good 0.07, flush", "--set", "second_pass=0.13", "--walls", "50.88", "50.86")
    marks.words("finish")
    found = document(marks, "recover", "--joint", "box-steps", "--from", "1")
    assert (found["value"], found["as_it_was"]) == (0.13, True)


def test_an_end_whose_fingers_creep_is_not_cut_again(marks: Shop) -> None:
    found = document(marks, "cut", "tight, flush, creeps 0.2", "--walls", "51.08", "50.66")
    codes = by_code(found["reasons"])
    assert "fresh-end" in codes and "same-end" not in codes
