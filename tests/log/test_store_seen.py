"""The log, on a file and on a server alike: what is written carries what its writer saw, and is
refused when that moved on; different set-ups never refuse each other.
"""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from threading import Barrier
from typing import Any

import pytest
from logs import ASH, BIT, FIRST, OAK, PLAIN, PLAN, STAMP, TABLE, Place, refused

from fitlog.domain import SetUp
from fitlog.domain.machines import edited
from fitlog.errors import Refused
from fitlog.log import Log, Stamp, open_log
from fitlog.log import log as logging

JO = Stamp("jo", STAMP.at, "bench")
Deed = Callable[[Log, SetUp], object]


def cut(log: Log, of: SetUp) -> object:
    new = replace(PLAIN, piece=len(of.pieces()) + 1)
    return log.record(of.number, new, JO, seen=of.newest)


def undo(log: Log, of: SetUp) -> object:
    return log.retract(of.cuts[-1].entry, JO, seen=of.newest)


def redo(log: Log, of: SetUp) -> object:
    return log.redo(of.number, JO, seen=of.newest)


def finish(log: Log, of: SetUp) -> object:
    return log.close(of.number, "finished", JO, seen=of.newest)


def found(log: Log, of: SetUp) -> object:
    return log.log_found(of.number, {"bit_height": 8.6}, JO, seen=of.newest)


def start(log: Log, of: SetUp) -> object:
    return log.start(of.plan, FIRST, "{}", JO, finishes=of)


DEEDS = (cut, undo, redo, finish, found, start)


@pytest.fixture
def other(place: Place, log: Log) -> Iterator[Log]:
    """Another window on the same log."""
    with open_log(place.location, create=False) as opened:
        yield opened


def begun(log: Log, bit: str = BIT.name) -> SetUp:
    """A set-up with two pieces standing and a third that was taken back."""
    number = log.start(replace(PLAN, bit=log.bit(bit)), FIRST, "{}", STAMP)
    for piece in (1, 2, 3):
        entry = log.record(number, replace(PLAIN, piece=piece), STAMP)
    log.retract(entry, STAMP)
    return log.setup(number)


def all_rows(place: Place) -> list[object]:
    return [
        place.rows(f"SELECT * FROM {table} ORDER BY 1")
        for table in ("entry", "trial_cut", "retraction", "redo", "found", "setup", "advice")
    ]


@pytest.mark.parametrize("deed", DEEDS)
def test_who_comes_second_is_refused_and_nothing_is_written(
    log: Log, other: Log, place: Place, deed: Deed
) -> None:
    begun(log)
    for first in (cut, undo, redo, found, finish):
        read = log.setup(1)
        first(other, other.setup(1))
        before = all_rows(place)
        error = refused("log-moved-on", deed, log, read)
        assert "set-up 1 " in error.message and "by jo" in error.message
        assert error.hint.startswith("look at it with fitlog show 1")
        assert all_rows(place) == before


@pytest.mark.parametrize("deed", DEEDS)
def test_what_was_read_last_is_written_whatever_was_chosen(
    log: Log, other: Log, place: Place, deed: Deed
) -> None:
    read = begun(log)
    other.choose(read.number, JO)
    deed(log, read)
    assert log.setup(read.number).newest != read.newest


@pytest.mark.parametrize("deed", DEEDS)
def test_another_set_up_is_never_in_the_way(log: Log, other: Log, deed: Deed) -> None:
    log.add_bit(replace(BIT, name="blue"))
    here, there = begun(log), begun(log, "blue")
    for elsewhere in (cut, undo, redo, found, start):
        elsewhere(other, other.setup(there.number))
    deed(log, here)


def test_a_set_up_that_was_not_read_from_a_log_carries_nothing(log: Log) -> None:
    begun(log)
    other = replace(log.setup(1), newest=None)
    assert log.setup(1) == other and log.record(1, replace(PLAIN, piece=3), STAMP, seen=None)
    undo(log, log.setup(1))
    assert finish(log, other)


def test_one_of_two_who_undo_at_once_is_told_so(log: Log, place: Place) -> None:
    """Both read the same newest piece; only what both were told is gone, round after round."""
    number = log.start(PLAN, FIRST, "{}", STAMP)
    pieces = 8
    for piece in range(1, pieces + 1):
        log.record(number, replace(PLAIN, piece=piece), STAMP)
    both = Barrier(2, timeout=60)

    def undoing() -> list[str]:
        told = []
        with open_log(place.location, create=False) as mine:
            for _ in range(pieces):
                both.wait()
                read = mine.setup(number)
                both.wait()
                try:
                    undo(mine, read)
                    told.append("done")
                except Refused as error:
                    told.append(error.code)
        return told

    with ThreadPoolExecutor(2) as pool:
        one, two = (future.result() for future in [pool.submit(undoing) for _ in range(2)])
    assert [sorted(round_) for round_ in zip(one, two, strict=True)] == [
        ["done", "log-moved-on"]
    ] * pieces
    assert log.setup(number).cuts == ()


# Several entries at once


def test_several_entries_are_taken_back_all_or_none(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    one, two, three = (log.record(number, PLAIN, STAMP) for _ in range(3))
    log.retract(two, STAMP)
    before = log.setup(number)
    refused("already-retracted", log.retract, three, STAMP, two, one)
    refused("unknown-entry", log.retract, three, STAMP, one, three + 99)
    assert log.setup(number) == before and len(before.cuts) == 2
    log.retract(three, STAMP, one, seen=before.newest)
    assert log.setup(number).cuts == ()
    assert log.redo(number, STAMP)[-1] == (three, "cut")


@pytest.mark.parametrize("end", ["INSERT INTO entry", "INSERT INTO retraction"])
@pytest.mark.parametrize("nth", [1, 2, 3])
def test_a_kill_while_several_are_taken_back(log: Log, place: Place, end: str, nth: int) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    taken = [log.record(number, PLAIN, STAMP) for _ in range(3)]
    before = log.setup(number)
    code = f"""
left = [{nth}]
def look(connection, cursor, statement, *rest):
    left[0] -= statement.startswith({end!r})
    if not left[0]:
        os.kill(os.getpid(), signal.SIGKILL)
log = open_log(path, create=False)
event.listen(Engine, "after_cursor_execute", look)
log.retract({taken[2]}, stamp, {taken[1]}, {taken[0]})
"""
    assert place.child(code).wait(60) == -signal.SIGKILL
    assert log.setup(number) == before and len(before.cuts) == 3


# A start, and the set-up that is finished before it


def test_a_start_that_fails_leaves_the_earlier_one_open(
    log: Log, place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    read = begun(log)
    before = all_rows(place)

    def fails(*_: object) -> None:
        raise Refused("disk-full", "the disk is full", "make room")

    with monkeypatch.context() as patched:
        patched.setattr(logging, "add_advice", fails)
        refused("disk-full", start, log, read)
    assert all_rows(place) == before
    start(log, read)
    assert [s.outcome for s in log.setups()] == [None, "finished"]


ZERO = {"parts": {"height": {"zero": 0.5}}}


@pytest.mark.parametrize(
    ("what", "edit", "back"),
    [
        ("bit", {"diameter": 12.5}, {"diameter": BIT.diameter}),
        ("stock", {"thickness": 17.0}, {"thickness": OAK.thickness}),
        ("machine", ZERO, {"parts": {"height": {"zero": TABLE.zero("height")}}}),
    ],
)
def test_a_start_is_made_with_the_things_that_were_read(
    log: Log, other: Log, place: Place, what: str, edit: dict[str, Any], back: dict[str, Any]
) -> None:
    name = {"bit": BIT, "stock": OAK, "machine": TABLE}[what].name
    change = getattr(other, f"edit_{what}")
    change(name, **edit)
    before = all_rows(place)
    error = refused("log-moved-on", log.start, PLAN, FIRST, "{}", STAMP)
    assert name in error.message and f"fitlog {what} show '{name}'" in error.hint
    assert all_rows(place) == before
    change(name, **back)
    assert log.start(PLAN, FIRST, "{}", STAMP) == 1


def test_an_edit_is_of_the_thing_that_was_read(log: Log, other: Log) -> None:
    for what, name, one, two in (
        ("bit", BIT.name, {"diameter": 12.5}, {"angle": 9.0}),
        ("stock", ASH.name, {"thickness": 17.0}, {"width": 120.0}),
        ("machine", TABLE.name, ZERO, {"parts": {"fence": {"zero": 0.5}}}),
    ):
        get, mine, theirs = (
            getattr(store, f"{kind}{what}")
            for store, kind in ((log, ""), (log, "edit_"), (other, "edit_"))
        )
        read = get(name)
        now = theirs(name, read, **one)
        assert now == get(name) != read
        assert name in refused("log-moved-on", mine, name, read, **two).message
        assert get(name) == now
        theirs(name, now, name="other")  # whoever has that name now is not what was read
        refused("unknown-name", mine, name, now, **two)
        getattr(log, f"add_{what}")(edited(now, {"name": name, "retired": False, **two}))
        refused("log-moved-on", mine, name, now, **one)
        assert mine("other", get("other"), **two) == get("other")


def test_what_is_taken_away_is_the_thing_that_was_read(log: Log, other: Log) -> None:
    for what, name, one in (
        ("bit", BIT.name, {"diameter": 12.5}),
        ("stock", ASH.name, {"thickness": 17.0}),
        ("machine", TABLE.name, ZERO),
    ):
        read = getattr(log, what)(name)
        now = getattr(other, f"edit_{what}")(name, read, **one)
        for deed in ("retire", "remove"):
            assert (
                name in refused("log-moved-on", getattr(log, f"{deed}_{what}"), name, read).message
            )
        assert getattr(log, what)(name) == now
        getattr(log, f"retire_{what}")(name, now)
        refused("log-moved-on", getattr(other, f"remove_{what}"), name, now)
        getattr(other, f"remove_{what}")(name, getattr(other, what)(name))
        refused("unknown-name", getattr(log, what), name)


def test_a_bit_is_sharpened_once_by_two_who_saw_it_dull(log: Log, other: Log) -> None:
    read = log.bit(BIT.name)
    sharp = other.sharpen(BIT.name, 12.4, JO, read)
    refused("log-moved-on", log.sharpen, BIT.name, 12.4, STAMP, read)
    assert log.bit(BIT.name) == sharp and sharp.sharpenings == read.sharpenings + 1


def test_one_of_two_who_edit_at_once_is_told_so(log: Log, place: Place) -> None:
    """Both read the same diameter; each writes another, round after round: none goes unseen."""
    both, rounds = Barrier(2, timeout=60), 8

    def editing(step: float) -> list[str]:
        told = []
        with open_log(place.location, create=False) as mine:
            for _ in range(rounds):
                both.wait()
                read = mine.bit(BIT.name)
                both.wait()
                try:
                    mine.edit_bit(BIT.name, read, diameter=read.diameter + step)
                    told.append("done")
                except Refused as error:
                    told.append(error.code)
        return told

    with ThreadPoolExecutor(2) as pool:
        ran = [pool.submit(editing, step) for step in (0.01, 0.03)]
        one, two = (future.result() for future in ran)
    pairs = list(zip(one, two, strict=True))
    assert [sorted(pair) for pair in pairs] == [["done", "log-moved-on"]] * rounds
    wanted = BIT.diameter + sum(0.01 if first == "done" else 0.03 for first, _ in pairs)
    assert log.bit(BIT.name).diameter == pytest.approx(wanted)


def test_two_who_undo_at_different_set_ups_never_refuse_each_other(log: Log, place: Place) -> None:
    log.add_bit(replace(BIT, name="blue"))
    pieces, both = 6, Barrier(2, timeout=60)
    for bit in (BIT.name, "blue"):
        number = log.start(replace(PLAN, bit=log.bit(bit)), FIRST, "{}", STAMP)
        for piece in range(1, pieces + 1):
            log.record(number, replace(PLAIN, piece=piece), STAMP)

    def undoing(number: int) -> None:
        with open_log(place.location, create=False) as mine:
            for _ in range(pieces):
                both.wait()
                read = mine.setup(number)
                both.wait()
                undo(mine, read)

    with ThreadPoolExecutor(2) as pool:
        for future in [pool.submit(undoing, number) for number in (1, 2)]:
            future.result()
    assert log.setup(1).cuts == log.setup(2).cuts == ()
