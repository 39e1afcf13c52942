"""undo asks before a whole set-up goes, redo brings back, a slot is no piece: from a shell. The
numbers are invented.
"""

from __future__ import annotations

import json
import os
import pty
from types import SimpleNamespace
from typing import Any

import forked
import pytest
from shop import Shop, by_code


def on_a_terminal(shop: Shop, answer: str, *args: str) -> tuple[int, str]:
    """Run a command whose standard input is a terminal on which `answer` is typed; its exit code
    and standard error.
    """
    ours, theirs = pty.openpty()
    try:
        os.write(ours, answer.encode())
        done = forked.run(
            shop.command(*args),
            env=shop.environment(),
            stdin=theirs,
            capture_output=True,
            text=True,
            timeout=60,
        )
    finally:
        os.close(ours)
        os.close(theirs)
    return done.returncode, done.stderr


# Before a whole set-up goes


def test_undo_of_a_start_wants_yes(shop: Shop) -> None:
    shop.started()
    shop.words("cut tight")
    shop.words("undo")
    told = shop.refused("undo")
    assert "whole" in told and "--yes" in told and "fitlog redo" in told
    assert shop.json("undo", code=1)["error"]["code"] == "whole-setup"
    assert shop.json("review")["setups"][0]["status"] == "tuning"
    assert "the start of set-up 1" in shop.words("undo --yes").err
    assert shop.json("review") == {"setups": []}


def test_undo_of_a_cut_needs_no_yes_and_takes_it(shop: Shop) -> None:
    shop.started()
    shop.words("cut tight")
    shop.words("cut good")
    assert shop.json("undo")["pieces"] == 1 and shop.json("undo --yes")["pieces"] == 0


@pytest.mark.parametrize(("answer", "code", "left"), [("n\n", 1, 1), ("\n", 1, 1), ("y\n", 0, 0)])
def test_on_a_terminal_undo_asks(shop: Shop, answer: str, code: int, left: int) -> None:
    shop.started()
    found, told = on_a_terminal(shop, answer, "undo")
    assert found == code and "this takes the whole set-up back; fitlog redo brings it back" in told
    assert len(shop.json("review")["setups"]) == left


def test_on_a_terminal_a_cut_goes_unasked(shop: Shop) -> None:
    shop.started()
    shop.words("cut tight")
    code, told = on_a_terminal(shop, "", "undo")
    assert code == 0 and "Taken back" in told and "whole" not in told


# Brought back


def test_redo_answers_as_before_the_undo_any_number_of_times(shop: Shop) -> None:
    shop.started()
    shop.words("cut tight, gap far 0.4")
    before = shop.json("cut slightly loose, centred")
    for _ in range(3):
        after = shop.json("undo")
        told = shop.words("redo --json")
        assert told.err == 'Brought back: "slightly loose, centred" on piece 2.\n'
        assert told.document == before and list(after) == list(before)
    assert "fitlog show 1" in shop.refused("redo")
    assert shop.json("redo", code=1)["error"]["code"] == "nothing-to-redo"
    assert shop.json("log health")["sound"]


def test_a_whole_set_up_comes_back(shop: Shop) -> None:
    shop.started()
    before = shop.json("cut tight")
    shop.words("undo")
    shop.words("undo --yes")
    assert "fitlog start" in shop.refused("next")
    assert shop.json("redo")["pieces"] == 0
    assert shop.json("redo") == before == shop.json("next")


def test_another_set_up_of_the_bit_stands_in_the_way(shop: Shop) -> None:
    shop.started()
    shop.words("undo --yes")
    shop.words("start")
    assert "still open with that bit" in shop.refused("redo", "--setup", "1")
    shop.words("cut tight")
    shop.words("undo")
    assert (
        '"tight" on piece 1' in shop.words("redo").err
    )  # of the set-up that is current, not of the one undone before


def test_all_of_a_piece_comes_back_at_once(shop: Shop) -> None:
    shop.started()
    for line in (
        "cut tight",
        "cut --same-piece gap far 0.3",
        "cut --same-piece proud 0.2",
        "cut slightly tight",
    ):
        before = shop.json(line)
    shop.words("undo --piece 1")
    told = shop.words("redo --json")
    assert "piece 1" in told.err and told.document["pieces"] == 2 == before["pieces"]
    said = [cut["said"] for cut in shop.json("show")["cuts"] if not cut["retracted"]]
    assert [(one["fit"], one["centre"], one["seat"]) for one in said] == [
        ("tight", None, None),
        (None, "gap far 0.30", None),
        (None, None, "proud 0.20"),
        ("slightly tight", None, None),
    ]


def test_a_finish_comes_back_and_a_new_entry_ends_it(shop: Shop) -> None:
    shop.started()
    shop.words("cut good, centred, flush")
    ended = shop.json("finish")
    shop.words("undo")
    assert shop.json("redo")["status"] == ended["status"] == "finished"
    shop.words("undo")
    shop.words("cut tight")
    shop.refused("redo")


# Slots


def test_a_slot_is_logged_and_is_no_piece(shop: Shop) -> None:
    shop.started()
    before = shop.json("next")
    first = shop.words("cut --slot --mouth 9.5")
    assert first.out.startswith("Slot: mouth 9.50 mm.\n")
    assert "Set-up 1, piece 1. Unplugged, set:" in first.out
    dial = next(cut["settings"] for cut in shop.json("show")["cuts"])
    assert dial["bit_height"] == before["settings"]["bit_height"]
    second = shop.json("cut --slot --mouth 9.4 --between-rods 3 5.1 --height 9.1 --yes")
    assert (second["pieces"], second["last"], second["moves"]) == (0, None, None)
    piece = shop.json("cut tight")
    assert piece["pieces"] == 1 and piece["last"]["piece"] == 1
    after = shop.json("cut --slot --mouth 9.4")
    assert (after["pieces"], after["last"]) == (1, piece["last"])
    assert shop.json("cut good")["last"]["piece"] == 2
    cuts = shop.json("show")["cuts"]
    assert [(cut["piece"], cut["slot"]) for cut in cuts] == [
        (None, True),
        (None, True),
        (1, False),
        (None, True),
        (2, False),
    ]
    assert cuts[1]["settings"]["bit_height"] == 9.1 and cuts[1]["stated"] == ["bit_height"]
    shown = shop.words("show").out
    assert shown.count("slot") == 3 and "mouth 9.50 mm" in shown
    assert shop.json("review")["setups"][0]["pieces"] == 2
    csv = shop.words("log export --csv").out.splitlines()
    assert len(csv) == 3 and ",9.5" not in "".join(csv)


def test_a_slot_is_taken_back_and_brought_back(shop: Shop) -> None:
    shop.started()
    shop.words("cut --slot --mouth 9.5")
    assert shop.words("undo").err == "Taken back: the slot in waste.\n"
    assert shop.words("redo").err == "Brought back: the slot in waste.\n"
    assert [cut["retracted"] for cut in shop.json("show")["cuts"]] == [False]
    shop.words("cut tight")
    shop.words("undo --piece 1")  # the slot before it stays
    assert [cut["retracted"] for cut in shop.json("show")["cuts"]] == [False, True]


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("cut --slot tight --mouth 9.5", "no joint"),
        ("cut --slot --mouth 9.5 --same-piece", "no piece"),
        ("cut --slot", "measured"),
        ("cut --slot --pull-gap 0.4", "pull gap"),
        ("cut --slot --mouth 9 --walls 40 41", "walls"),
        ("cut --slot --mouth 9 --tail-width 9", "tail width"),
        ("cut --slot --mouth 9 --over-rods 3 9", "over rods"),
        ("cut --slot --mouth 9 --fence 75", "fence offset"),
        ("cut --slot --mouth 9 --deeper 0.1", "last piece"),
        ("cut --slot --mouth 9 gap baseline", "no joint"),
    ],
)
def test_what_a_slot_cannot_have(shop: Shop, line: str, why: str) -> None:
    shop.started()
    assert why in shop.refused(*line.split())


def test_a_slot_needs_an_open_set_up(shop: Shop) -> None:
    shop.started()
    shop.words("finish --abandon")
    assert "no set-up is open" in shop.refused("cut", "--slot", "--mouth", "9.5")


def test_the_dialogue_stands_where_it_stood_before_a_slot(shop: Shop) -> None:
    from fitlog.fronts.bench.stand import about_last, stand
    from fitlog.log import open_log

    shop.started()
    shop.words("cut tight")
    with open_log(shop.db, create=False) as log:
        before = stand(log.setup(1)), about_last(log.setup(1))
        shop.words("cut --slot --mouth 9.5")
        assert (stand(log.setup(1)), about_last(log.setup(1))) == before


# A machine's depth stop, and what is set between its marks


def test_a_machine_with_a_depth_stop(shop: Shop) -> None:
    shop.stocked(machine={"fence-step": "1/64in", "depth-step": "0.5", "between": "depth,fence"})
    found = shop.json("machine show bench")["machine"]
    assert (found["depth_step"], found["between"]) == (0.5, ["fence", "depth"])
    assert (
        "between marks" in shop.words("machine list").out
        and "fence, depth" in shop.words("machine list").out
    )
    assert shop.json("machine edit bench --depth-step 1/32in")["machine"]["depth_step"] == 0.79375
    assert shop.json("machine edit bench --between none")["machine"]["between"] == []
    assert "between marks" not in shop.words("machine show bench").out
    assert "depth step" in shop.words("machine show bench").out


def test_a_scale_without_marks_is_asked_for(shop: Shop) -> None:
    shop.stocked(machine={"fence-step": "0.1"})
    told = shop.run("machine", "edit", "bench", "--between", "fence,depth")
    assert "--depth-step" in told.err and "--fence-step" not in told.err


@pytest.mark.parametrize("options", [("--between", "fance"), ("--between", ","), ("--between", "")])
def test_scales_that_are_none(shop: Shop, options: tuple[str, str]) -> None:
    shop.stocked(machine={"fence-step": "0.1"})
    assert "--between" in shop.refused("machine", "edit", "bench", *options, code=2)
    assert "--between" in shop.refused("machine", "add", "other", *options, code=2)


def test_a_depth_step_that_no_stop_has(shop: Shop) -> None:
    shop.stocked(machine={"fence-step": "0.1"})
    for wrong in ("0", "9", "-0.1"):
        shop.refused("machine", "edit", "bench", f"--depth-step={wrong}")


def test_other_commands_say_a_machine_as_before(shop: Shop) -> None:
    """No column more where nobody has said anything of it."""
    shop.stocked(machine={"fence-step": "0.1"})
    assert "depth step" not in shop.words("machine list").out
    found = json.loads(shop.words("machine list --json").out)["machines"][0]
    assert found["depth_step"] is None and found["between"] == []


def test_what_was_known_before_a_piece_has_the_slots_before_it(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    from fitlog.advice import progress
    from fitlog.advice.history import History
    from fitlog.log import open_log

    shop.started()
    for line in (
        "cut --slot --mouth 9.5",
        "cut tight",
        "cut --slot --mouth 9.4",
        "cut good",
        "cut --slot --mouth 9.3",
    ):
        shop.words(line)
    seen, decide = [], progress.decide

    def watching(setup: Any, past: History) -> Any:
        seen.append((len(setup.pieces()), [slot.readings[0].value for slot in setup.slots()]))
        return decide(setup, past)

    monkeypatch.setattr(progress, "decide", watching)
    with open_log(shop.db, create=False) as log:
        progress.steps(log.setup(1), History([]))
    assert seen == [(0, [9.5]), (1, [9.5, 9.4]), (2, [9.5, 9.4, 9.3])]


def test_a_slot_leaves_the_notice_of_a_narrow_piece(shop: Shop) -> None:
    shop.started("--scrap-width 30")
    assert "narrow-piece" in by_code(shop.json("next")["notices"])
    assert "narrow-piece" in by_code(shop.json("cut --slot --mouth 9.5")["notices"])
    assert "narrow-piece" not in by_code(shop.json("cut tight --fence 15")["notices"])


def test_the_sheet_lists_pieces_alone(shop: Shop) -> None:
    from fitlog.language.units import Ruler
    from fitlog.log import open_log
    from fitlog.render.sheet.parts import trial_cuts

    shop.started()
    shop.words("cut --slot --mouth 9.5")

    def told() -> list[str]:
        with open_log(shop.db, create=False) as log:
            job: Any = SimpleNamespace(setup=log.setup(1))
        block = trial_cuts(
            job, 180.0, Ruler("mm", None), lambda text, size, bold: size * len(text) / 5
        )
        return [mark.text for mark in block.marks if hasattr(mark, "text")]

    assert any("None yet" in text for text in told())
    shop.words("cut tight")
    assert any("The last trial cut" in text for text in told()) and not any(
        "9.50" in text for text in told()
    )
