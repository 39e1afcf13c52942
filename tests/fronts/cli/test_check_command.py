"""`fitlog check` from a shell: joints looked at between real boards, of an open set-up or not."""

from __future__ import annotations

from typing import Any

import pytest
from shop import BIT, STOCK, Shop, command_line
from terminal import asked

READY = (
    f"bit add half {' '.join(BIT)}",
    f"stock add elm {' '.join(STOCK[2:])} --species elm",
    "start --scrap pine --scrap-width 80 --scrap-thickness 20",
    "cut slightly tight, gap far 0.3, proud 0.2",
    "cut good 0.2, centred, flush",
)


def ready(shop: Shop) -> None:
    for line in READY:
        shop.words(line)


def finished(shop: Shop) -> None:
    ready(shop)
    shop.words("finish --as-it-is")


def last_cut(shop: Shop) -> Any:
    return shop.json("show")["cuts"][-1]


@pytest.fixture
def run(shop: Shop) -> Shop:
    """A shop whose one set-up is ready; it tests in pine of another size."""
    return shop.built(ready)


def test_a_joint_is_logged_at_what_the_boards_are_set_to_in_their_own_stock(run: Shop) -> None:
    real = run.json("next")["real"]
    told = run.json("check good 0.2 --after 12")
    cut = last_cut(run)
    assert cut["after"] == 12 and cut["settings"] == real and cut["scrap"] == "elm"
    assert cut["stated"] == [] and cut["piece"] == 3
    assert told["check"] == {
        "after": 12,
        "go_on": True,
        "off": [],
        "drift_per_joint": None,
        "chance": told["check"]["chance"],
        "look_after": told["check"]["look_after"],
        "settings": real,
    }
    assert 0.3 < told["check"]["chance"] <= 1 and 1 <= told["check"]["look_after"] <= 24
    assert told["status"] == "ready" and told["pieces"] == 2 and told["last"]["piece"] == 3


def test_the_document_is_that_of_cut_with_one_key_more(run: Shop) -> None:
    before = run.json("next")
    told = run.json("check good --after 3")
    assert set(told) - set(before) == {"check"} and set(before) <= set(told)
    assert "check" not in run.json("next")


def test_a_screen_says_first_what_was_understood_then_what_to_do(run: Shop) -> None:
    first, *_, last = run.words("check good 0.2 --after 12").out.splitlines()
    assert first == "Joint 12: good 0.20 mm."
    assert last.startswith("Go on; look again after ") and "at joint " in last


def test_joints_that_stay_tight_stop_the_run_with_the_move_last(run: Shop) -> None:
    before = run.json("next")["real"]["bit_height"]
    told = run.json("check tight --after 15")
    found = told["check"]
    assert not found["go_on"] and found["look_after"] is None and found["off"] == ["fit"]
    assert found["settings"]["bit_height"] < before and told["status"] == "tuning"
    assert told["real"]["bit_height"] == found["settings"]["bit_height"]
    assert "since joint 15: try that on scrap" in run.refused("check", "tight", "--after", "16")
    run.words("undo")
    out = run.words("check tight --after 16").out
    assert "Stop the run at joint 16: the fit is tight." in out
    assert "Unplugged, set this; the stops stay:" in out
    assert "try each dry before the glue" in out and "the same bit height" in out
    *_, set_, how = out.splitlines()
    assert set_.strip().startswith("bit height") and "down" in set_
    assert how == "Try it on scrap and log that: fitlog cut WORDS."
    run.words("cut good 0.2")
    assert run.json("check good 0.2 --after 20")["check"]["go_on"]
    assert last_cut(run)["settings"]["bit_height"] < before


def test_a_set_up_that_is_tuned_is_asked_about_and_an_ended_one_keeps_its_end(shop: Shop) -> None:
    shop.built(finished)
    shop.words("use 1")
    before = shop.json("next")
    for n in range(12, 16):
        told = shop.json(f"check tight --after {n}")
        assert told["status"] == "finished" and told["ended"] == before["ended"]
        assert told["real"] == before["real"] and told["settled"] == before["settled"]
    assert not told["check"]["go_on"]
    assert told["check"]["settings"]["bit_height"] < before["real"]["bit_height"]
    after = shop.words("next").out
    assert "Stop the run at joint 15" in after and "unplugged" in after
    assert "fitlog check WORDS --after N" in shop.words("check tight --after 15").out
    row = shop.json("review")["setups"][0]
    assert (row["pieces"], row["checks"], row["status"]) == (2, 5, "finished")


def test_a_joint_that_the_others_speak_against_is_looked_at_again_before_anything_moves(
    shop: Shop,
) -> None:
    for line in (*READY[:2], "start", "cut good 0.5, centred, flush"):
        shop.words(line)
    before = shop.json("next")["real"]
    out = shop.words("check very tight --after 12").out
    assert "Stop the run at joint 12" in out and "nothing moves yet" in out
    shop.json("check good 0.5 --after 13")  # no doubt is raised: the next joint was asked for
    assert last_cut(shop)["settings"] == before


def test_what_cannot_be_meant_is_refused_and_nothing_is_written(run: Shop) -> None:
    assert "--after N" in run.refused("check", "good", code=2)
    assert "1 to 100000" in run.refused("check", "good", "--after", "0")
    run.words("check good --after 12")
    said = run.refused("check", "good", "--after", "5")
    assert "5 joints are fewer than the 12" in said and "--yes" in said
    assert run.json("check good --after 5 --yes")["check"]["after"] == 5
    run.words("check good --after 12")  # another joint of the same time
    run.words("finish --abandon")
    assert "abandoned" in run.refused("check", "good", "--after", "13", "--setup", "1")


def test_real_boards_before_it_is_ready_are_a_doubt(shop: Shop) -> None:
    shop.started()
    shop.words("cut tight")
    said = shop.refused("check", "good", "--after", "2")
    assert "still tuned" in said and "fitlog cut" in said
    shop.words("check good --after 2 --yes")
    assert last_cut(shop)["after"] == 2


def test_a_terminal_is_asked_for_the_words_and_the_count(run: Shop) -> None:
    code, told = asked(run, "check", typed="good 0.2\n12\n")
    assert code == 0 and "How many joints" in told and "Go on" in told
    assert last_cut(run)["after"] == 12


def test_a_setting_that_is_said_is_that_of_the_joint(run: Shop) -> None:
    real = run.json("next")["real"]
    run.words("check good --after 12 --down 0.1 --fence 75")
    cut = last_cut(run)
    assert cut["settings"]["bit_height"] == pytest.approx(real["bit_height"] - 0.1)
    assert cut["settings"]["fence_offset"] == 75 and cut["stated"] == ["bit_height", "fence_offset"]
    run.words("check good --after 13")
    assert last_cut(run)["settings"] == cut["settings"]


def test_more_of_the_same_joint_is_said_later(run: Shop) -> None:
    run.words("check good --after 12")
    run.words("check --same-piece flush")
    shown = run.json("show")["cuts"]
    assert [(c["piece"], c["after"]) for c in shown[-2:]] == [(3, 12), (3, 12)]
    assert run.json("review")["setups"][0]["checks"] == 1


def test_a_look_is_taken_back_and_brought_back_also_after_the_end(shop: Shop) -> None:
    shop.built(finished)
    shop.words("use 1")
    shop.words("check good --after 12")
    assert 'Taken back: "good" on joint 12.' in shop.words("undo").err
    assert shop.json("review")["setups"][0]["checks"] == 0
    assert 'Brought back: "good" on joint 12.' in shop.words("redo").err
    row = shop.json("review")["setups"][0]
    assert (row["checks"], row["status"]) == (1, "finished")


def test_a_key_is_one_look_however_often_it_is_sent(run: Shop) -> None:
    one = run.json("check good --after 12 --key a")
    assert run.json("check good --after 12 --key a")["check"] == one["check"]
    assert run.json("review")["setups"][0]["checks"] == 1


def test_looks_go_through_a_table_and_a_merge(shop: Shop, tmp_path: Any) -> None:
    shop.built(finished)
    shop.words("use 1")
    shop.words("check good 0.2 --after 12")
    shop.words("check slightly tight --after 36")
    table, whole = tmp_path / "cuts.csv", tmp_path / "log.json"
    shop.words(f"log export --csv {table}")
    shop.words(f"log export {whole}")
    told = shop.json("show")["cuts"]
    other = Shop(tmp_path / "other")
    other.home.mkdir()
    env = {"FITLOG_DB": str(other.db)}
    assert other.run("log", "import", str(whole), env=env).code == 0
    again = other.run("show", "1", "--json", env=env).document
    assert again["cuts"] == told and again["setup"]["checks"] == 2
    for _ in range(2):
        shop.words("undo")
    done = shop.json(f"log import {table} --setup 1")
    assert (done["logged"], done["known"]) == (2, 2)
    row, cuts = shop.json("review")["setups"][0], shop.json("show")["cuts"]
    assert (row["status"], row["checks"]) == ("finished", 2)
    assert [c["after"] for c in cuts if not c["retracted"]] == [None, None, 12, 36]
    table.write_text("said\ngood\n")
    assert "finished" in shop.refused("log", "import", str(table), "--setup", "1")


def test_the_joints_cut_stay_with_the_bit_until_it_is_sharpened(run: Shop) -> None:
    run.words("check good 0.2 --after 12")
    run.words("check good 0.2 --after 36")
    assert run.json("bit show half")["wear"] == {"joints": 36, "runs": 0, "drift_per_joint": None}
    run.words("finish --as-it-is")
    wear = run.json("bit show half")["wear"]
    assert wear == {"joints": 36, "runs": 1, "drift_per_joint": None}
    run.words("start --scrap pine")
    run.words("check good --after 10 --yes")
    assert run.json("bit show half")["wear"]["joints"] == 46
    assert "46 joints" in run.words("bit show half").out
    run.words("finish --abandon")
    run.words("bit sharpen half --diameter 13")
    assert run.json("bit show half")["wear"]["joints"] == 0
    assert "Real boards" not in run.words("bit show half").out


def test_tables_name_joints_and_count_them_apart(run: Shop) -> None:
    run.words("check good 0.2 --after 12")
    assert "joint 12" in run.words("show").out
    progress = run.words("progress").out
    assert "2 pieces, 1 check." in progress and "(joint 12)" in progress
    assert "2 + 1" in run.words("review").out


def test_the_help_says_what_is_counted() -> None:
    help_ = command_line().commands["check"].help or ""
    assert "A joint is one corner" in help_ and "from its first real board on" in help_
