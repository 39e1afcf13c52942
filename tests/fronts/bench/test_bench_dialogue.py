"""`fitlog bench` at a real pseudo-terminal: a whole set-up, every key, and the log after each.

Escapes are checked against ECMA-48 (what a VT100 knows of it); what the log says against `fitlog
cut` with the same words.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from pane import CENTRE, FIT, LIFT, PLAIN_ESCAPES, SEAT, Pane, said
from shop import Shop, make_shop

pytestmark = [
    pytest.mark.skipif(sys.platform == "win32", reason="a pseudo-terminal of POSIX"),
    pytest.mark.filterwarnings("ignore:.*multi-threaded.*:DeprecationWarning"),  # pexpect forks
]


@pytest.fixture
def open_shop(shop: Shop) -> Shop:
    """A shop with a set-up before its first piece."""
    return shop.started(machine=LIFT)


# --- a whole set-up -------------------------------------------------------------------------------


def test_a_whole_set_up_is_what_cut_makes_of_the_same_words(
    open_shop: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two pieces, numbers with all three words, a finish: then the same by `fitlog cut` in a shop
    of its own.
    """
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT).press("2", SEAT).press("6", CENTRE)
        pane.press("m", "step of").press("0.5\r", 'logged: "proud 0.5"').press(
            "3", "to cut: piece 2"
        )
        pane.press("m", "extra width").press("0,4\r", 'logged: "gap far 0,4"')
        first = open_shop.json("next")
        pane.press(" ", FIT).press("4", SEAT).press("m", "pull-apart gap").press(
            "0.2 mm\r", '"good 0.2 mm"'
        )
        pane.press("4", CENTRE).press("2", "READY")
        second = open_shop.json("next")
        pane.press("F", "F once more").press("F", "remembered for the next one")
        third = open_shop.json("next")
        assert not pane.screen.history.top, "something scrolled off"
        pane.child.send("q")
        assert pane.ended() == 0
    other = make_shop(tmp_path / "other", monkeypatch)
    other.home.mkdir()
    other.started(machine=LIFT)
    assert first == other.json("cut tight, gap far 0.4, proud 0.5")
    assert second == other.json("cut good 0.2, centred, flush")
    assert third == other.json("finish")


def test_only_the_plainest_escapes_and_ascii_are_sent(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT).press("?", "Page 1").press("x", FIT).press(
            "q", "goes on there"
        )
        assert pane.ended() == 0
        rest = PLAIN_ESCAPES.sub(b"", pane.sent)
        assert b"\x1b" not in rest and rest.isascii()
        assert not pane.screen.history.top


def test_every_key_on_the_screen_is_explained_and_the_figures_are_large(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1")
        first = open_shop.json("next")
        assert f"{first['settings']['socket_depth']:.2f} mm" in pane.text
        assert sum(line.count("##") >= 4 for line in pane.lines) >= 10  # two figures of five rows
        assert all(
            key in pane.text for key in ("SPACE it is cut", "h x d", "u undo", "? help", "q quit")
        )
        pane.press("?", "KEYS")
        told = [pane.press(" ", f"Page {page}").text for page in (2, 3, 4)]
        assert "Unplug" in "".join(told)


def test_a_setting_as_really_set_goes_with_the_piece(open_shop: Shop) -> None:
    before = open_shop.json("next")["settings"]
    height, fence = before["bit_height"] + 0.04, before["fence_offset"] - 0.1
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press("h", "bit height as set, mm").press(
            f"{height:.2f}\r", "as really set"
        )
        pane.press("x", "fence offset as set").press(
            f"{fence:.2f}\r", f"not {before['fence_offset']:.2f}"
        ).press(" ", FIT)
        last = open_shop.json("next")["last"]
        assert last["stated"] == ["bit_height", "fence_offset"]
        assert last["settings"]["bit_height"] == pytest.approx(height, abs=0.0051)
        assert last["settings"]["fence_offset"] == pytest.approx(fence, abs=0.0051)


def test_walls_answer_the_centre_without_a_second_pass(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT).press("s", SEAT).press("s", CENTRE)
        pane.press("w", "wall at the fence").press("68.2\r", "wall away from it").press(
            "67.9\r", "to cut: piece 2"
        )
    cuts = open_shop.json("show")["cuts"]
    assert cuts[-1]["readings"] == [{"kind": "walls", "value": 68.2, "rod": None, "other": 67.9}]
    assert [c["note"] for c in cuts] == ["", "fit not judged", "seat not judged", ""]


def test_a_number_in_fractions_of_an_inch(open_shop: Shop) -> None:
    open_shop.words("prefer --units fraction")
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT).press("5", SEAT).press(
            "m", 'of "slightly loose", in:'
        )
        pane.press("1/64\r", 'logged: "slightly loose 1/64"')
        pane.press("m", "pull-apart gap").press("3 turns\r", "cannot be in turns")
        pane.press("\x1b", "Dropped").press("m", "pull-apart gap").press("2\r", "plausible")
        assert SEAT in pane.text and 'logged: "slightly loose 1/64"' in pane.text
    document = open_shop.json("next")
    assert (
        document["last"]["said"]["fit"] == f"slightly loose {25.4 / 64:.2f}"
    )  # NIST SP 811: an inch is 25.4 mm
    assert len(said(open_shop)) == 3


def test_what_takes_no_number_is_told_so(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT).press("m", "say the word first")
        pane.press("1", SEAT).press("m", '"very tight" takes no number').press(
            "8", "means nothing here"
        )
    assert [row[1] for row in said(open_shop)] == ["", "very tight"]


def test_a_gap_that_no_setting_cures(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT).press("f", "Where is it?").press(
            "1", 'logged: "gap baseline"'
        )
        assert FIT in pane.text  # the fit is still to be judged, or skipped
        pane.press("f", "Where is it?").press("\x1b", FIT)
    assert open_shop.json("next")["last"]["said"]["faults"] == ["gap baseline"]


# --- undo -----------------------------------------------------------------------------------------


def test_undo_goes_back_one_answer_at_a_time_but_not_past_the_first_piece(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT).press("2", SEAT).press("s", CENTRE)
        pane.press("u", 'Taken back: "seat not judged"').until(SEAT)
        pane.press("u", 'Taken back: "tight"').until(FIT)
        pane.press("u", "Taken back: the cut of piece 1").until("to cut: piece 1").press(
            "u", "is left to take back"
        )
    assert [row[3] for row in said(open_shop)] == [True, True, True]
    assert open_shop.json("next")["status"] == "tuning"


def test_undo_reopens_what_was_just_finished(open_shop: Shop) -> None:
    open_shop.words("cut good, centred, flush")
    with Pane(open_shop) as pane:
        pane.until("READY").press("F", "F once more").press("n", "Not finished")
        pane.press("F", "F once more").press("F", "Finished")
        pane.press("u", "READY").press("u", "to cut: piece 1")
    assert open_shop.json("next")["pieces"] == 0


# --- refusals -------------------------------------------------------------------------------------


def test_in_a_pipe_it_is_refused_in_one_sentence(open_shop: Shop) -> None:
    assert "fitlog cut" in open_shop.refused("bench")
    assert open_shop.process("bench", code=1).err.count("\n") == 1
    assert open_shop.run("bench", "--json", code=1).document["error"]["code"] == "no-json"


def test_a_terminal_that_cannot_place_text_and_a_set_up_that_has_ended_are_refused(
    open_shop: Shop,
) -> None:
    with Pane(open_shop, TERM="dumb") as pane:
        assert pane.ended() == 1
        assert "can place text" in pane.text
    open_shop.words("finish --abandon")
    with Pane(open_shop, "bench", "--setup", "1") as pane:
        assert pane.ended() == 1
        assert "no set-up is open: set-up 1 is abandoned" in " ".join(pane.text.split())
