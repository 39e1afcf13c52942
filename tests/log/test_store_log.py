"""The log, on a file and on a server alike: what is appended to a set-up, taken back and found
again.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

from logs import BIT, FIRST, FULL, OAK, PLAIN, PLAN, STAMP, T0, TABLE, Place, refused
from sqlalchemy import event
from sqlalchemy.engine import Engine

from fitlog.log import Absence, Deed, Log, Stamp, entries


def test_pieces_are_numbered_over_live_cuts(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    refused("log-moved-on", log.record, number, replace(PLAIN, piece=2), STAMP)
    log.record(number, PLAIN, STAMP)
    log.record(number, PLAIN, STAMP, new_piece=False)
    refused("log-moved-on", log.record, number, PLAIN, STAMP, new_piece=True)
    second = log.record(number, replace(PLAIN, piece=2), STAMP)
    log.retract(second, STAMP)
    refused("log-moved-on", log.record, number, replace(PLAIN, piece=3), STAMP)
    refused("log-moved-on", log.record, number, replace(PLAIN, piece=2), STAMP, new_piece=False)
    log.record(number, replace(PLAIN, piece=2), STAMP)
    assert [c.piece for c in log.setup(number).cuts] == [1, 1, 2]
    assert [(c.cut.piece, c.retracted) for c in log.cut_entries(number)] == [
        (1, 0),
        (1, 0),
        (2, 1),
        (2, 0),
    ]


def test_retract_restores_the_set_up(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    states = [log.setup(number)]
    log.record(number, PLAIN, STAMP)
    states.append(log.setup(number))
    log.close(number, "finished", STAMP)
    refused("already-ended", log.close, number, "abandoned", STAMP)
    refused("already-ended", log.record, number, FULL, STAMP)
    for kind in ("finish", "cut"):
        found = log.newest_live(number)
        assert found is not None and found[1] == kind
        log.retract(found[0], STAMP)
        assert log.setup(number) == states.pop()
        refused("already-retracted", log.retract, found[0], STAMP)
    refused("not-retractable", log.retract, found[0] + 3, STAMP)
    refused("unknown-entry", log.retract, 10**30, STAMP)


def test_current_and_undone(log: Log) -> None:
    assert log.current() is None and log.setups() == []
    log.add_bit(replace(BIT, name="blue"))
    one = log.start(PLAN, FIRST, "{}", STAMP)
    two = log.start(replace(PLAN, bit=log.bit("blue")), FIRST, "{}", STAMP)
    log.choose(one, STAMP)
    assert log.current() == log.setup(one)
    log.choose(two, STAMP)
    start = log.newest_live(two)
    assert start is not None and start[1] == "start"
    log.retract(start[0], STAMP)
    assert log.current() == log.setup(one)
    assert log.setup(two).undone and log.newest_live(two) is None
    assert [s.number for s in log.setups()] == [one] and log.open_setups("blue") == []
    for call in (log.choose, log.record, log.close):
        refused(
            "unknown-setup",
            call,
            two,
            *{log.record: [FULL], log.close: ["finished"]}.get(call, []),
            STAMP,
        )
    assert log.start(replace(PLAN, bit=log.bit("blue")), FIRST, "{}", STAMP) == 3


def test_one_open_set_up_for_a_bit(log: Log) -> None:
    one = log.start(PLAN, FIRST, "{}", STAMP)
    refused("still-tuning", log.start, PLAN, FIRST, "{}", STAMP)
    end = log.close(one, "finished", STAMP)
    two = log.start(PLAN, FIRST, "{}", STAMP)
    refused("still-tuning", log.retract, end, STAMP)
    log.retract(log.close(two, "abandoned", STAMP), STAMP)
    assert [s.number for s in log.open_setups(BIT.name)] == [two]
    assert [s.number for s in log.setups(ended=False)] == [two]
    assert [s.number for s in log.setups(ended=True, limit=2)] == [one]
    refused("still-tuning", log.start, PLAN, FIRST, "{}", STAMP)


def test_shown_advice_and_documents(log: Log, place: Place) -> None:
    number = log.start(PLAN, FIRST, '{"n": 0}', STAMP)
    log.record(number, PLAIN, STAMP)
    moved = FIRST.changed(bit_height=8.4)
    for _ in range(3):
        log.show(number, moved, '{"n": 1}', STAMP)
    assert log.setup(number).shown == moved and log.setup(number).first == FIRST
    log.record(number, replace(PLAIN, piece=2), STAMP)
    assert place.rows(
        "SELECT document FROM advice JOIN trial_cut ON id = advice ORDER BY trial_cut.entry"
    ) == [('{"n": 0}',), ('{"n": 1}',)]
    assert place.rows("SELECT setup, entry FROM advice ORDER BY id") == [(1, 1), (1, 2)]


def test_filters_and_unknown_set_ups(log: Log) -> None:
    assert "fitlog start" in refused("unknown-setup", log.setup, 1).hint
    log.add_bit(replace(BIT, name="blue"))
    one = log.start(PLAN, FIRST, "{}", STAMP)
    two = log.start(
        replace(PLAN, bit=log.bit("blue"), pin_stock=OAK),
        FIRST,
        "{}",
        STAMP,
    )

    def numbers(**how: Any) -> list[int]:
        return [s.number for s in log.setups(**how)]

    assert numbers() == [two, one] and numbers(limit=1) == [two]
    assert (
        numbers(bit="GREEN 8") == [one]
        and numbers(stock="Ash") == [one]
        and numbers(stock="RED OAK") == [two, one]
    )
    assert numbers(bit="blue", stock="ash") == []
    assert [s.number for s in log.open_setups("Blue")] == [two]
    refused("unknown-name", log.setups, bit="none")
    assert "2, 1" in refused("unknown-setup", log.setup, 9).hint
    for call in (log.setup, log.cut_entries):
        refused("unknown-setup", call, -(10**30))


def queries_of(call: Any, *args: Any) -> int:
    statements: list[str] = []

    def note(_connection: Any, _cursor: Any, statement: str, *_: Any) -> None:
        statements.append(statement)

    event.listen(Engine, "before_cursor_execute", note)
    try:
        call(*args)
    finally:
        event.remove(Engine, "before_cursor_execute", note)
    return len(statements)


def test_number_of_queries_does_not_grow(log: Log) -> None:
    counts = []
    for pieces in (1, 4, 9):
        number = log.start(PLAN, FIRST, "{}", STAMP)
        for piece in range(pieces):
            log.record(number, replace(FULL, piece=piece + 1), STAMP)
        log.close(number, "finished", STAMP)
        counts.append(
            (
                queries_of(log.setups),
                queries_of(log.setup, number),
                queries_of(log.cut_entries, number),
            )
        )
    assert counts == [counts[0]] * 3
    assert 1 < max(counts[0]) <= 5


def test_references_are_kept(log: Log) -> None:
    log.start(PLAN, FIRST, "{}", STAMP)

    def dangle() -> None:
        with log.store.writing() as connection:
            entries.add(connection, "choose", 99, STAMP)

    refused("not-stored", dangle)
    assert log.setup(1).number == 1 and log.current() == log.setup(1)


def test_what_was_found_is_kept_and_taken_back(log: Log) -> None:
    refused("unknown-setup", log.log_found, 1, {"bit_height": 8.6}, STAMP)
    number = log.start(PLAN, FIRST, "{}", STAMP)
    before = log.setup(number)
    refused("bad-setting", log.log_found, number, {}, STAMP)
    refused("bad-setting", log.log_found, number, {"speed": 1.0}, STAMP)
    refused("bad-size", log.log_found, number, {"bit_height": -1.0}, STAMP)
    one = log.log_found(number, {"bit_height": 8.6, "socket_depth": -0.5}, STAMP)
    log.retract(log.log_found(number, {"fence_offset": 70.0}, Stamp("jo", T0)), STAMP)
    assert log.setup(number) == before
    found = log.found_entries(number)
    assert [(f.settings, f.remembered, f.by, f.at, f.machine, f.retracted) for f in found] == [
        ({"bit_height": 8.6, "socket_depth": -0.5}, FIRST, "mira", T0, "the table", False),
        ({"fence_offset": 70.0}, FIRST, "jo", T0, None, True),
    ]
    assert log.newest_live(number) == (one, "found")
    log.close(number, "finished", STAMP)
    refused("already-ended", log.log_found, number, {"bit_height": 8.6}, STAMP)


def test_one_current_set_up_for_each_machine(log: Log) -> None:
    bench = replace(TABLE, name="bench")
    log.add_machine(bench)
    log.add_bit(replace(BIT, name="blue"))
    log.add_bit(replace(BIT, name="red"))
    assert log.current("bench") is None
    refused("unknown-name", log.current, "nowhere")
    here = log.start(PLAN, FIRST, "{}", STAMP)
    there = log.start(replace(PLAN, bit=log.bit("blue"), machine=bench), FIRST, "{}", STAMP)
    later = log.start(replace(PLAN, bit=log.bit("red"), machine=bench), FIRST, "{}", STAMP)

    def at() -> tuple[int, ...]:
        return tuple(
            s.number for s in (log.current("The Table"), log.current("bench"), log.current()) if s
        )

    assert at() == (here, later, later)
    log.choose(there, STAMP)
    assert at() == (here, there, there)
    log.choose(here, STAMP)
    assert at() == (here, there, here)
    log.retract(1, STAMP)
    assert log.current("the table") is None and at() == (there, there)


def test_absence(log: Log) -> None:
    log.add_bit(replace(BIT, name="blue"))
    one = log.start(PLAN, FIRST, "{}", STAMP)
    day, soon = timedelta(days=1), T0 + timedelta(hours=2)
    assert log.absence(one, soon, day) == Absence(Deed(one, "mira", T0), None)
    two = log.start(
        replace(PLAN, bit=log.bit("blue")), FIRST, "{}", Stamp("jo", T0 + timedelta(hours=1))
    )
    other = Deed(two, "jo", T0 + timedelta(hours=1))
    assert log.absence(one, soon, day).other == other
    assert log.absence(two, soon, day).other is None
    log.choose(one, STAMP)  # choosing is not going there
    assert log.absence(one, soon, day).other == other
    assert log.absence(one, T0 + timedelta(days=2), day) == Absence(
        Deed(one, "mira", T0), None
    )  # old enough by itself
    found = log.log_found(one, {"bit_height": 8.6}, Stamp("jo", soon))
    assert log.absence(one, soon, day) == Absence(Deed(one, "jo", soon), None)
    log.retract(found, STAMP)
    assert log.absence(one, soon, day).other == other
