"""The log, on a file and on a server alike: what is written down about a set-up, alone or with its
start or its end.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta
from threading import Barrier

import pytest
from logs import FIRST, PLAIN, PLAN, STAMP, Place, refused

from fitlog.domain import Note
from fitlog.log import Log, open_log
from fitlog.log.care import upkeep as care

TITLE, KEPT, NOTE = Note("title", "chest (invented)"), Note("kept", "shelf"), Note("note", "a knot")


def bad() -> Note:
    """A note that the log's own rules refuse."""
    note = Note("note", "never stored")
    object.__setattr__(note, "about", "nothing known")
    return note


def told(log: Log, number: int) -> list[tuple[str, str]]:
    return [(note.about, note.text) for note in log.setup(number).notes]


def test_they_come_with_the_start_or_not_at_all(log: Log, place: Place) -> None:
    refused("not-stored", log.start, PLAN, FIRST, "{}", STAMP, notes=[TITLE, bad()])
    for table in ("entry", "setup", "advice", "note"):
        assert place.rows(f"SELECT count(*) FROM {table}") == [(0,)]
    number = log.start(PLAN, FIRST, "{}", STAMP, notes=[TITLE, NOTE])
    setup = log.setup(number)
    assert setup.noted("title") == TITLE.text and setup.titled == " (chest (invented))"
    assert [note.at for note in setup.notes] == [setup.started] * 2
    assert care.health(log).faults == ()


def test_they_come_with_the_end_or_not_at_all(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    log.record(number, PLAIN, STAMP)
    before = log.setup(number)
    refused("not-stored", log.close, number, "finished", STAMP, notes=[KEPT, bad()])
    assert log.setup(number) == before
    log.close(number, "finished", STAMP, notes=[KEPT, NOTE])
    assert told(log, number) == [("kept", "shelf"), ("note", "a knot")]
    newest = log.newest_live(number)
    assert newest is not None and newest[1] == "finish"  # an undo takes back the end first
    log.retract(newest[0], STAMP)
    assert log.setup(number).outcome is None and log.setup(number).noted("kept") == "shelf"


def test_what_moved_on_takes_no_notes_of_the_end(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    seen = log.setup(number).newest
    log.record(number, PLAIN, STAMP)
    refused("log-moved-on", log.close, number, "finished", STAMP, seen=seen, notes=[KEPT])
    assert told(log, number) == []


def test_the_newest_stands_and_an_empty_one_clears_it(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP, notes=[TITLE])
    second = log.note(number, [Note("title", "box")], STAMP)
    assert log.setup(number).noted("title") == "box"
    gone = log.note(number, [Note("title", "")], STAMP)
    assert log.setup(number).noted("title") == log.setup(number).titled == ""
    log.retract(gone, STAMP)
    log.retract(second, STAMP)
    assert log.setup(number).noted("title") == TITLE.text
    assert log.redo(number, replace(STAMP, at=STAMP.at + timedelta(1))) == [
        (second, "note"),
        (gone, "note"),
    ]


def test_a_start_is_taken_back_with_them_and_comes_back_with_them(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP, notes=[TITLE, NOTE])
    before = log.setup(number)
    newest, *older = [entry for entry, _ in log.live(number, 4)]
    log.retract(newest, STAMP, *older)
    assert log.setup(number).undone and log.current() is None
    refused("unknown-setup", log.note, number, [NOTE], STAMP)
    later = replace(STAMP, at=STAMP.at + timedelta(1))
    assert [kind for _, kind in log.redo(number, later)] == ["start", "note", "note"]
    assert log.setup(number) == before


@pytest.mark.parametrize("about", ["note", "outcome"])
def test_one_without_a_word_is_none(about: str) -> None:
    make: Callable[..., Note] = Note
    refused("bad-note", make, about, "  ")
    refused("bad-note", make, "nonsense", "x")
    refused("control-character", make, about, "a\x07b")
    refused("text-too-long", make, about, "x" * 2001)


def test_many_write_at_once_and_nothing_is_lost_or_doubled(log: Log, place: Place) -> None:
    """Cuts and notes hold whatever else is logged meanwhile."""
    number, writers, each = log.start(PLAN, FIRST, "{}", STAMP), 4, 5
    at_once = Barrier(writers)

    def write(who: int) -> None:
        with open_log(place.location, create=False) as own:
            at_once.wait()
            for count in range(each):
                own.note(number, [Note("note", f"{who} {count}"), Note("kept", str(who))], STAMP)

    with ThreadPoolExecutor(writers) as pool:
        list(pool.map(write, range(writers)))
    found = told(log, number)
    assert sorted(text for about, text in found if about == "note") == sorted(
        f"{who} {count}" for who in range(writers) for count in range(each)
    )
    # What is written in one transaction stands together.
    assert all(
        kept == note.split()[0]
        for (_, note), (_, kept) in zip(found[::2], found[1::2], strict=True)
    )
    assert care.health(log).faults == ()
