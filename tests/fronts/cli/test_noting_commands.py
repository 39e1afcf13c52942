"""Titles, notes and what became of the work, from a shell: written with a start or an end, taken
back, found again, and told at the next start. All of it is invented.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from shop import Shop, by_code
from terminal import on_terminal

from fitlog.families.half_blind import figures
from fitlog.log import open_log

CHEST = ("--title", "chest, upper drawers (invented)")


def finished(shop: Shop, *start: str, became: str = "") -> None:
    """A set-up that ended good, and what became of it."""
    shop.run("start", *start)
    shop.words("cut good, centred, flush")
    number = shop.json("finish")["setup"]
    if became:
        shop.run("outcome", str(number), *became.split())


# Written and taken back


def test_a_start_keeps_its_title_and_its_note(shop: Shop) -> None:
    shop.stocked()
    shop.run("start", *CHEST, "--note", "a cupped board")
    shown = shop.json("show")["setup"]
    assert shown["title"] == CHEST[1] and shown["kept"] is None
    (note,) = shown["notes"]
    assert (note["about"], note["text"], note["understood"]) == ("note", "a cupped board", None)
    assert shop.json("next")["title"] == CHEST[1]
    assert f"Set-up 1 ({CHEST[1]}), piece 1" in shop.words("next").out
    assert "a cupped board" in shop.words("show").out
    assert shop.words("note").out.splitlines()[1] == f"Title: {CHEST[1]}"


def test_without_one_it_is_null(shop: Shop) -> None:
    shop.started()
    (row,) = shop.json("review")["setups"]
    assert (row["title"], row["kept"], row["notes"]) == (None, None, [])
    assert shop.json("next")["title"] is None
    assert shop.words("note").out == (
        "Nothing is written down about set-up 1. Write with: fitlog note TEXT\n"
    )


@pytest.mark.parametrize("note", ["", "a\x07b", "x" * 2001])
def test_a_start_or_an_end_whose_note_cannot_be_kept_is_not_half_there(
    shop: Shop, note: str
) -> None:
    shop.started()
    shop.words("cut good, centred, flush")
    before = shop.entries()
    shop.refused("finish", "--kept", "shelf", "--note", note)
    assert shop.entries() == before and shop.json("next")["status"] == "ready"
    shop.refused("start", "--title", "chest", "--note", note)
    assert shop.entries() == before and shop.json("show")["setup"]["title"] is None


def test_a_refused_start_or_end_keeps_no_note(shop: Shop) -> None:
    shop.started()
    before = shop.entries()
    assert "still tuning" in shop.refused("start", *CHEST)
    shop.refused("finish", "--kept", "shelf")
    assert shop.entries() == before


def test_undo_says_what_it_takes_back(shop: Shop) -> None:
    shop.started()
    shop.words("cut good, centred, flush")
    shop.words("note a knot --title chest --kept shelf")
    for told in ('the note "a knot"', 'where the sample is kept: "shelf"', 'the title "chest"'):
        assert f"Taken back: {told}." in shop.words("undo").err
        assert f"Brought back: {told}." in shop.words("redo").err
        shop.words("undo")
    assert shop.json("show")["setup"]["notes"] == []
    assert '"good, centred, flush" on piece 1' in shop.words("undo").err


def test_undo_of_an_end_leaves_what_was_written_with_it(shop: Shop) -> None:
    shop.started()
    shop.words("cut good, centred, flush")
    shop.run("finish", "--kept", "top shelf")
    assert "Taken back: the finish." in shop.words("undo").err
    assert shop.json("show")["setup"]["kept"] == "top shelf"
    shop.words("finish")
    shop.run("finish", "--kept", "lower shelf")  # said later: nothing but the note is new
    assert shop.json("show")["setup"]["kept"] == "lower shelf"
    shop.run("outcome", "good")
    assert 'Taken back: what became of it: "good".' in shop.words("undo").err


def test_a_start_goes_with_what_was_written_at_it(shop: Shop) -> None:
    shop.stocked()
    shop.run("start", *CHEST, "--note", "a knot")
    assert 'the note "a knot"' in shop.words("undo").err
    shop.words("redo")
    assert "Taken back: the start of set-up 1." in shop.words("undo --yes").err
    assert shop.json("review") == {"setups": []}
    assert "undone" in shop.refused("note", "x", "--setup", "1")
    assert "Brought back: the start of set-up 1." in shop.words("redo").err
    assert len(shop.json("show")["setup"]["notes"]) == 1
    shop.words("note said later")
    assert 'the note "said later"' in shop.words("undo --yes").err


def test_a_refusal_tells_set_ups_apart_by_their_title(shop: Shop) -> None:
    shop.started()
    shop.run("note", "--title", "chest")
    assert "set-up 1 (chest) with bit marsh is still tuning" in shop.refused("start")
    shop.words("finish --abandon")
    assert "set-up 1 (chest) is abandoned" in shop.refused("cut", "good")


def test_a_pitch_is_found_as_it_is_shown(shop: Shop) -> None:
    shop.started("--pitch 22.6")
    shop.words("prefer --units fraction")
    told = shop.words("review nowhere").out
    (line,) = (line for line in told.splitlines() if "pitches" in line)
    (pitch,) = line.split(": ")[1:]
    found = shop.run("review", "--pitch", pitch.split(" in")[0], "--json").document["setups"]
    assert [row["setup"] for row in found] == [1], pitch
    assert shop.run("review", "--pitch", pitch, "--json").document["setups"] == found


def test_an_empty_title_takes_it_away(shop: Shop) -> None:
    shop.started()
    shop.run("note", *CHEST)
    assert "no title any more" in shop.run("note", "--title", "").out
    assert shop.json("next")["title"] is None


def test_a_key_writes_it_once(shop: Shop) -> None:
    shop.started()
    shop.words("note a knot --key one")
    before = shop.entries()
    assert shop.json("note a knot --key one")["notes"][0]["text"] == "a knot"
    assert shop.entries() == before
    assert "key" in shop.refused("cut", "tight", "--key", "one")


def test_the_title_takes_no_row_of_what_is_shown_at_the_machine(shop: Shop) -> None:
    shop.started()
    for columns in (40, 80):
        _, bare = on_terminal(shop, "next", columns=columns, NO_COLOR="1")
        shop.run("note", "--title", "chest")
        _, told = on_terminal(shop, "next", columns=columns, NO_COLOR="1")
        assert told.count("\n") == bare.count("\n")
        assert ("(chest)" in told) == (columns == 80), told
        shop.run("note", "--title", "an uncommonly long title, of a chest with many drawers")
        _, told = on_terminal(shop, "next", columns=columns, NO_COLOR="1")
        assert told == bare
        shop.run("note", "--title", "")


# Found again


def _past(shop: Shop) -> None:
    shop.stocked()
    shop.run("stock", "add", "pear", "--species", "pear", "--thickness", "17", "--width", "90")
    finished(shop, "--stock", "elm", "--pitch", "22.6", *CHEST)
    finished(shop, "--stock", "pear", "--pitch", "23.1", "--note", "for the Bench")
    shop.words("start --stock elm --pitch 22.6")
    shop.words("cut tight --note odd_grain")


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ("", [3, 2, 1]),
        ("upper drawers", [1]),
        ("DRAWERS upper", [1]),
        ("bench", [2]),
        ("grain", [3]),
        ("pear", [2]),
        ("marsh", [3, 2, 1]),
        ("--bit marsh", [3, 2, 1]),
        ("--stock elm", [3, 1]),
        ("--width 90.4", [2]),
        ("--width 91", []),
        ("--pitch 22.6", [3, 1]),
        ("--pitch 23.1 --width 90", [2]),
        ("upper --pitch 23.1", []),
        ("--year 1999", []),
        ("nowhere", []),
    ],
)
def test_review_finds_by_what_is_known(shop: Shop, asked: str, found: list[int]) -> None:
    shop.built(_past)
    assert [row["setup"] for row in shop.json(f"review {asked}")["setups"]] == found


def test_review_tells_which_is_current_and_the_pitch(shop: Shop) -> None:
    shop.built(_past)
    rows = shop.json("review")["setups"]
    assert [(row["current"], row["pitch"], row["width"]) for row in rows] == [
        (True, 22.6, 150.0),
        (False, 23.1, 90.0),
        (False, 22.6, 150.0),
    ]
    told = shop.words("review").out
    assert "tuning, current" in told and "22.60" in told and CHEST[1] in told
    shop.words("use 1")
    assert [row["current"] for row in shop.json("review")["setups"]] == [False, False, True]


def test_nothing_found_says_what_there_is(shop: Shop) -> None:
    shop.built(_past)
    told = shop.words("review nowhere").out
    assert "No set-up is like that, of 3." in told
    for there in (f'titles: "{CHEST[1]}"', "90 mm, 150 mm", "22.60 mm, 23.10 mm", "years: "):
        assert there in told, told
    assert shop.refused("review", "--bit", "none") and shop.refused("review", "--width", "9999")


@pytest.mark.parametrize("columns", [40, 80])
def test_review_is_read_on_a_narrow_terminal(shop: Shop, columns: int) -> None:
    shop.built(_past)
    shop.words("outcome 1 tight with glue")
    _, told = on_terminal(shop, "review", columns=columns, NO_COLOR="1")
    assert max(map(len, told.splitlines())) < columns
    assert f"1  {CHEST[1]}" in told and "became of it: tight with glue" in " ".join(told.split())
    assert told.count("\n") <= (22 if columns == 40 else 14)


def test_moments_are_those_of_this_place_and_the_log_s_are_utc(shop: Shop) -> None:
    shop.started()
    shop.words("note a knot")
    with open_log(shop.db, create=False) as log:
        (note,) = log.setup(1).notes
    assert note.at is not None
    for zone, hours in (("UTC", 0), ("XXX-9", 9), ("XXX11", -11)):
        shown = shop.process("note", TZ=zone).out.splitlines()[1]
        there = note.at.timestamp() + hours * 3600
        assert shown.startswith(datetime.fromtimestamp(there, UTC).strftime("%Y-%m-%d %H:%M"))
    assert shop.json("note")["notes"][0]["at"] == note.at.strftime("%Y-%m-%dT%H:%M:%SZ")


# What became of it


def test_an_outcome_wants_a_finished_set_up(shop: Shop) -> None:
    shop.started()
    before = shop.entries()
    told = shop.refused("outcome", "tight", "with", "glue")
    assert "still tuning" in told and "fitlog finish" in told and "fitlog note" in told
    assert shop.json("outcome 1 loose", code=1)["error"]["code"] == "not-finished"
    assert shop.entries() == before
    shop.words("finish --abandon")
    assert "abandoned" in shop.refused("outcome", "1", "loose")
    shop.refused("outcome", "9", "loose")


def test_it_says_what_was_understood(shop: Shop) -> None:
    shop.stocked()
    finished(shop, *CHEST)
    told = shop.words("outcome 1 tight with glue").out
    assert "understood: tight with glue" in told and "nothing is moved unasked" in told
    told = shop.words("outcome 1 went home with clamps").out
    assert "kept as said" in told and "To have it counted" in told
    shop.words("outcome --setup 1 loose after a winter")
    (kept,) = shop.json("outcome")["setups"]
    assert [note["understood"] for note in kept["notes"]] == [
        {"direction": "tight", "when": "glue"},
        None,
        {"direction": "loose", "when": "season"},
    ]
    assert shop.json("outcome 1")["setups"] == [kept]
    assert "went home with clamps" in shop.words("show").out
    finished(shop)
    assert shop.json("outcome 2")["setups"] == []


LOOSER = figures.FIT_WINDOW_MANY_TAILS.middle - figures.FIT_WINDOW.middle


def told_at_start(shop: Shop, *args: str) -> dict[str, str]:
    """What the next start says of earlier joints; it is taken back again."""
    said = by_code(shop.run("start", *args, "--json").document["notices"])
    shop.words("undo --yes")
    return {code: text for code, text in said.items() if code.startswith("outcome")}


def test_the_next_start_in_that_wood_tells_it_and_moves_nothing(shop: Shop) -> None:
    shop.stocked()
    finished(shop, "--pitch", "22.6")
    before = shop.run("start", "--pitch", "22.6", "--json").document
    shop.words("undo --yes")
    shop.words("outcome 1 tight with glue")
    after = shop.run("start", "--pitch", "22.6", "--json").document
    assert after["settings"] == before["settings"] and after["window"] == before["window"]
    said = by_code(after["notices"])["outcome-tight"]
    assert "Last time in elm (invented) (set-up 1): tight with glue." in said
    assert f"{LOOSER:.2f} mm looser" in said and "--many-tails" in said
    assert "--many-tails" in shop.words("next").out
    shop.words("cut tight")  # from the first piece on the log speaks for itself
    assert "outcome-tight" not in by_code(shop.json("next")["notices"])


def test_what_it_says_can_be_done(shop: Shop) -> None:
    shop.stocked()
    finished(shop, "--pitch", "22.6", became="tight with glue")
    shop.words("start --pitch 22.6 --title chest")
    shop.words("undo --yes")
    (said,) = told_at_start(shop, "--pitch", "22.6", "--many-tails").values()
    assert f"This set-up aims {LOOSER:.2f} mm looser than that one." in said


def test_loose_asks_for_the_closer_window_where_there_is_one(shop: Shop) -> None:
    shop.stocked()
    finished(shop, "--pitch", "22.6", "--many-tails", became="loose after a winter")
    (said,) = told_at_start(shop, "--pitch", "22.6", "--many-tails").values()
    assert "closer: fitlog undo --yes, then the same start with --few-tails" in said
    finished(shop, "--pitch", "22.6", "--few-tails", became="loose after a winter")
    (said,) = told_at_start(shop, "--pitch", "22.6", "--few-tails").values()
    assert "(set-up 3)" in said and "Nothing is moved for it" in said


def test_another_wood_is_told_only_without_its_own(shop: Shop) -> None:
    shop.stocked()
    shop.run("stock", "add", "pear", "--species", "pear", "--thickness", "17", "--width", "150")
    finished(shop, "--stock", "elm", "--pitch", "22.6", became="tight with glue")
    assert "Last time in elm" in told_at_start(shop, "--stock", "pear")["outcome-tight"]
    finished(shop, "--stock", "pear", "--pitch", "22.6", became="good with glue")
    assert told_at_start(shop, "--stock", "pear") == {}
    assert "Last time in elm" in told_at_start(shop, "--stock", "elm")["outcome-tight"]


def test_tight_once_and_loose_once_asks_for_nothing(shop: Shop) -> None:
    shop.stocked()
    finished(shop, "--pitch", "22.6", became="tight with glue")
    shop.words("outcome 1 loose after a winter")
    assert told_at_start(shop, "--pitch", "22.6") == {}
    shop.words("outcome 1 good with glue")  # the newest word on the glue-up stands
    assert [*told_at_start(shop, "--pitch", "22.6")] == ["outcome-loose"]
