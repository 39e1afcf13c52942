"""The log, on a file and on a server alike: a deed that may have been done is safe to say again
under its key, and is done once.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from threading import Barrier

import pytest
from logs import FIRST, PLAIN, PLAN, STAMP, Place, refused

from fitlog.domain import Note
from fitlog.log import Log, Stamp, open_log

NOTES = [Note("title", "chest"), Note("note", "a knot")]  # invented
KEYED = replace(STAMP, key="of this deed")
Deed = Callable[[Log, Stamp], object]
DEEDS: dict[str, Deed] = {
    "cut": lambda log, stamp: log.record(1, replace(PLAIN, piece=3), stamp, new_piece=True),
    "undo": lambda log, stamp: log.retract(3, stamp, 2),
    "redo": lambda log, stamp: log.redo(1, stamp),
    "finish": lambda log, stamp: log.close(1, "finished", stamp),
    "abandon": lambda log, stamp: log.close(1, "abandoned", stamp),
    "note": lambda log, stamp: log.note(1, NOTES, stamp),
    "finish with notes": lambda log, stamp: log.close(1, "finished", stamp, notes=NOTES),
    "found": lambda log, stamp: log.log_found(1, {"bit_height": 8.6}, stamp),
}


@pytest.fixture
def begun(log: Log) -> Log:
    """A set-up of two pieces, and a third that was taken back."""
    log.start(PLAN, FIRST, "{}", STAMP)
    for piece in (1, 2, 3):
        entry = log.record(1, replace(PLAIN, piece=piece), STAMP)
    log.retract(entry, STAMP)
    return log


def rows(place: Place) -> list[object]:
    tables = ("entry", "trial_cut", "retraction", "redo", "found", "setup", "note", "advice")
    return [place.rows(f"SELECT * FROM {table} ORDER BY 1") for table in tables]


@pytest.mark.parametrize("name", DEEDS)
def test_said_again_it_writes_nothing_and_returns_the_same(
    begun: Log, place: Place, name: str
) -> None:
    first = DEEDS[name](begun, KEYED)
    before = rows(place)
    assert DEEDS[name](begun, KEYED) == first
    assert rows(place) == before
    assert ("of this deed",) in place.rows("SELECT key FROM entry")


def test_a_start_said_again_is_the_same_set_up(log: Log, place: Place) -> None:
    number = log.start(PLAN, FIRST, "{}", KEYED, notes=NOTES)
    before = rows(place)
    again = log.start(PLAN, FIRST, "{}", KEYED, finishes=log.setup(number), notes=NOTES)
    assert again == number
    assert rows(place) == before


def test_it_is_found_whatever_came_since(begun: Log) -> None:
    seen = begun.setup(1).newest
    entry = begun.record(1, replace(PLAIN, piece=3), KEYED, seen=seen)
    begun.close(1, "finished", STAMP)
    assert begun.record(1, replace(PLAIN, piece=3), KEYED, seen=seen) == entry
    assert begun.done("of this deed", "cut") == 1 and begun.done("another", "cut") is None


def test_a_key_of_another_deed_is_refused(begun: Log, place: Place) -> None:
    DEEDS["cut"](begun, KEYED)
    before = rows(place)
    error = refused("known-key", DEEDS["finish"], begun, KEYED)
    assert "of this deed" in error.message and "(cut, set-up 1)" in error.message
    refused("known-key", begun.done, "of this deed", "retract")
    assert rows(place) == before


def test_two_who_send_one_deed_at_once_do_it_once(begun: Log, place: Place) -> None:
    both = Barrier(2, timeout=60)

    def sending() -> list[int]:
        entries = []
        with open_log(place.location, create=False) as mine:
            for piece in range(3, 9):
                both.wait()
                stamp = replace(STAMP, key=f"piece {piece}")
                entries.append(mine.record(1, replace(PLAIN, piece=piece), stamp, new_piece=True))
        return entries

    with ThreadPoolExecutor(2) as pool:
        one, two = (future.result() for future in [pool.submit(sending) for _ in range(2)])
    assert one == two and len(set(one)) == 6
    assert [cut.piece for cut in begun.setup(1).cuts] == list(range(1, 9))
