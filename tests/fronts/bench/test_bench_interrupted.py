"""`fitlog bench` interrupted in every way, and keys that are no answers: the log and the terminal
after each.

Escapes are checked against ECMA-48.
"""

from __future__ import annotations

import re
import signal
import sys
import termios
import time
from typing import Any

import pytest
from pane import CENTRE, FIT, LIFT, SEAT, Pane, locked, said
from shop import Shop

pytestmark = [
    pytest.mark.skipif(sys.platform == "win32", reason="a pseudo-terminal of POSIX"),
    pytest.mark.filterwarnings("ignore:.*multi-threaded.*:DeprecationWarning"),  # pexpect forks
]


@pytest.fixture
def open_shop(shop: Shop) -> Shop:
    """A shop with a set-up before its first piece."""
    return shop.started(machine=LIFT)


# --- interruptions --------------------------------------------------------------------------------


def test_after_kill_9_it_asks_the_same_question(open_shop: Shop) -> None:
    for keys, question in ((" ", FIT), ("3", SEAT), ("s", CENTRE), ("3", "to cut: piece 2")):
        with Pane(open_shop) as pane:
            pane.until("q quit").press(keys, question)
            asked = pane.lines[0]
            pane.child.kill(signal.SIGKILL)
            assert pane.ended() == -signal.SIGKILL
        with Pane(open_shop) as pane:
            assert pane.until("Newest entry").lines[0] == asked
    assert [row[1:3] for row in said(open_shop)] == [
        ("", ""),
        ("slightly tight", ""),
        ("", "seat not judged"),
        ("gap far", ""),
    ]


@pytest.mark.parametrize(
    ("way", "code"),
    [
        ("\x03", 130),
        pytest.param(signal.SIGINT, 130, marks=pytest.mark.long),
        (signal.SIGTERM, 143),
        pytest.param(signal.SIGHUP, 129, marks=pytest.mark.long),
        ("q", 0),
        pytest.param("\x04", 0, marks=pytest.mark.long),
    ],
)
def test_the_terminal_is_restored_on_every_way_out(open_shop: Shop, way: Any, code: int) -> None:
    with Pane(open_shop) as pane:
        before = termios.tcgetattr(pane.child.child_fd)
        pane.until("to cut: piece 1").press(" ", FIT)
        taken = termios.tcgetattr(pane.child.child_fd)
        assert not taken[3] & (termios.ECHO | termios.ICANON)
        if isinstance(way, str):
            pane.child.send(way)
        else:
            pane.child.kill(way)
        end = time.monotonic() + 30
        while termios.tcgetattr(pane.child.child_fd)[:4] != before[:4]:
            assert time.monotonic() < end
            pane.take(0.02)
        assert pane.ended() == code
        assert code != 130 or "fitlog: interrupted" in pane.text
        assert "Traceback" not in pane.sent.decode()
    assert len(said(open_shop)) == 1


def test_a_paused_dialogue_gives_the_terminal_back_and_takes_it_again(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        before = termios.tcgetattr(pane.child.child_fd)
        pane.until("to cut: piece 1").press(" ", FIT)
        pane.child.send("\x1a")
        end = time.monotonic() + 30
        while termios.tcgetattr(pane.child.child_fd)[:4] != before[:4]:
            assert time.monotonic() < end
            pane.take(0.02)
        pane.resize(80, 24)
        pane.child.kill(signal.SIGCONT)
        pane.until(FIT)
        assert not termios.tcgetattr(pane.child.child_fd)[3] & termios.ICANON
        pane.press("3", SEAT)


def test_another_window_is_noticed_before_an_answer_counts(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT)
        open_shop.words("cut --same-piece tight")
        pane.press("7", "Another window").until(SEAT)
        pane.press("4", CENTRE)
        open_shop.words("finish --as-it-is")
        pane.press("2", "Another window").until("Ended as it is")
    assert [row[1] for row in said(open_shop)] == ["", "tight", "flush"]


def test_resized_to_a_narrow_terminal_everything_is_still_there(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT)
        pane.resize(44, 20)
        pane.until("7 very loose")
        assert [line[2] for line in pane.lines if re.match(r"  \d  ", line)] == list("1234567")
        assert "q quit" in pane.text and max(map(len, pane.lines)) < 44
        pane.press("2", SEAT).press("6", CENTRE).press("3", "to cut: piece 2")
        assert sum("###" in line for line in pane.lines) >= 3  # the height is still large
        assert not pane.screen.history.top


# --- keys that are no answers ---------------------------------------------------------------------


def test_of_a_burst_only_the_first_key_counts(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" 4443", FIT)
        pane.take(0.5)
        assert FIT in pane.text and len(said(open_shop)) == 1
        pane.press("2666 ", SEAT)
        pane.take(0.5)
        assert SEAT in pane.text
    assert [row[1] for row in said(open_shop)] == ["", "tight"]


def test_keys_typed_while_an_answer_is_being_written_are_dropped(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT)
        with locked(open_shop):
            pane.press("2", "writing...")
            pane.child.send("4")
            pane.take(0.3)
            pane.child.send("3\r ")
            pane.take(0.3)
        pane.until(SEAT).take(0.5)
        assert SEAT in pane.text
    assert [row[1] for row in said(open_shop)] == ["", "tight"]


@pytest.mark.long  # it waits as long as a log may be busy
def test_a_log_that_stays_locked_is_told_and_the_same_question_stays(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT)
        with locked(open_shop):
            pane.press("2", "Not logged:")
            assert FIT in pane.text and "logged: the cut of piece 1" in pane.text
        assert len(said(open_shop)) == 1
        pane.press("2", SEAT)


def test_a_log_that_has_gone_is_told_and_nothing_is_counted(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT)
        away = open_shop.db.rename(open_shop.db.with_suffix(".away"))
        pane.press("2", "moved, replaced or deleted")
        assert FIT in pane.text
        away.rename(open_shop.db)
        pane.press("3", SEAT)
    assert [row[1] for row in said(open_shop)] == ["", "slightly tight"]


def test_keys_that_are_no_character_answer_nothing(open_shop: Shop) -> None:
    """ECMA-48, 5.4: a control sequence ends with its final byte, so nothing of it is left over to
    be read.
    """
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT)
        for keys in (
            "\x1b[A",
            "\x1b[3~",
            "\x1bOP",
            "\x1b[1;5C",
            "\x1b\x1b[D",
            "\x1b4",
            "\x1b[[A",
            "\xe9",
            "\x00",
        ):
            pane.press(keys, "That key means nothing here").take(0.2)
            assert "That key" in pane.text and FIT in pane.text
            pane.press("9", "9 means nothing here")
        assert len(said(open_shop)) == 1


def test_a_split_arrow_key_is_no_answer_either(open_shop: Shop) -> None:
    with Pane(open_shop) as pane:
        pane.until("to cut: piece 1").press(" ", FIT).press("\x1b", "That key")
        pane.child.send("[3~")
        pane.take(0.5)
        assert FIT in pane.text and len(said(open_shop)) == 1
