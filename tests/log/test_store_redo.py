"""The log, on a file and on a server alike: slots in waste, a set-up finished as it is, what was
taken back brought back.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from logs import BIT, FIRST, FULL, PLAIN, PLAN, STAMP, T0, TABLE, Place, refused, stock_up
from tables import parts, table

from fitlog.domain import Machine, Part, Reading, Verdict, pack_of
from fitlog.families.half_blind.names import judged, say
from fitlog.log import Log, Stamp, open_log

SLOT = replace(PLAIN, verdict=Verdict(), readings=(Reading("mouth", 9.5),), slot=True, heard="")


def later(minutes: int, by: str = "mira") -> Stamp:
    return Stamp(by, T0 + timedelta(minutes=minutes), "the table")


# A machine's scales


@pytest.mark.parametrize(
    "between", [(), ("fence",), ("height", "depth"), ("height", "fence", "depth")]
)
def test_a_machine_keeps_its_depth_stop_and_its_scales(log: Log, between: tuple[str, ...]) -> None:
    made = table("lift", depth_step=0.5, between=between)
    log.add_machine(made)
    assert log.machine("lift") == made
    changes = {part: {"between": False} for part in between}
    changed = log.edit_machine("lift", parts=changes)
    assert changed == log.machine("lift") == table("lift", depth_step=0.5)
    log.edit_machine("the table", parts=parts(("depth", "height"), depth_step=0.1))
    assert log.machine("the table") == TABLE.with_parts(parts(("height", "depth"), depth_step=0.1))


def test_a_machine_keeps_parts_that_no_joint_here_names(log: Log) -> None:
    """What is stacked comes back as it was said; a set-up keeps the zero that it started with."""
    pack = pack_of("at most 3 of paper 0.1 x4, tape 0.13, thick block 12.7", float)
    jig = Machine("jig", {"key": Part(zero=0.2, pack=pack), "stop": Part(turn=1.5, backlash=0.1)})
    log.add_machine(jig)
    assert log.machine("jig") == jig
    number = log.start(replace(PLAN, machine=jig), FIRST, "{}", STAMP)
    changed = log.edit_machine("jig", parts={"key": {"zero": 0.7}, "lid": {"zero": 1.0}})
    assert changed == jig.with_parts({"key": {"zero": 0.7}, "lid": Part(zero=1.0)})
    assert log.setup(number).plan.machine == jig
    log.edit_machine("jig", parts={"key": Part()})
    then = log.setup(number).plan.machine
    assert then is not None and then.zero("key") == 0.2 and then.part("key").pack is None


# Slots


def test_a_slot_is_no_piece(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    log.record(number, SLOT, STAMP)
    setup = log.setup(number)
    assert (
        [s.readings for s in setup.slots()] == [SLOT.readings]
        and setup.pieces() == ()
        and setup.cuts[0].slot
    )
    refused("log-moved-on", log.record, number, replace(PLAIN, piece=2), STAMP)
    refused("log-moved-on", log.record, number, PLAIN, STAMP, new_piece=False)
    log.record(number, PLAIN, STAMP, new_piece=True)
    refused("log-moved-on", log.record, number, SLOT, STAMP)
    log.record(number, replace(SLOT, piece=2), STAMP)
    log.record(number, replace(SLOT, piece=2), STAMP)  # a second one at the same place
    log.record(number, replace(PLAIN, piece=2), STAMP, new_piece=True)
    setup = log.setup(number)
    assert [p.number for p in setup.pieces()] == [1, 2] and len(setup.slots()) == 3
    logged = [(c.cut.piece, c.cut.slot) for c in log.cut_entries(number)]
    assert logged == [(1, True), (1, False), (2, True), (2, True), (2, False)]


def test_a_slot_is_measured_and_not_judged(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    for wrong in (
        replace(SLOT, readings=()),
        replace(SLOT, verdict=judged(fit=say("fit", "tight"))),
        replace(SLOT, verdict=FULL.verdict),
    ):
        assert "--slot" in refused("bad-slot", log.record, number, wrong, STAMP).hint
    assert log.setup(number).cuts == ()


def test_slots_take_no_place_among_the_newest_pieces(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    for piece in (1, 2, 3):
        log.record(number, replace(SLOT, piece=piece), STAMP)
        log.record(number, replace(PLAIN, piece=piece), STAMP)
    log.record(number, replace(SLOT, piece=4), STAMP)
    log.close(number, "finished", STAMP)
    (setup,) = log.finished_with(BIT.name, pieces=2)
    assert [p.number for p in setup.pieces()] == [2, 3]
    assert [s.number for s in setup.slots()] == [2, 3, 4]


# Finished as it is


def test_a_set_up_finished_as_it_is_says_so_and_is_remembered(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    log.record(number, PLAIN, STAMP)
    end = log.close(number, "finished", STAMP, as_it_is=True)
    setup = log.setup(number)
    assert (setup.outcome, setup.as_it_is, setup.ended) == ("finished", True, T0)
    assert log.newest_live(number) == (end, "finish-as-is")
    assert (
        log.finished_with(BIT.name) == log.finished_by("mira") == [setup]
        and log.count_finished() == 1
    )
    assert log.finished(bit=BIT.name, machine=None, stocks=["ash"], people=[]) == [setup]
    assert log.open_setups(BIT.name) == []
    refused("already-ended", log.close, number, "finished", STAMP)
    refused("already-ended", log.record, number, FULL, STAMP)
    log.retract(end, STAMP)
    assert (
        log.setup(number).outcome is None
        and not log.setup(number).as_it_is
        and log.finished_with(BIT.name) == []
    )
    log.close(number, "finished", STAMP)
    assert (log.setup(number).outcome, log.setup(number).as_it_is) == ("finished", False)


# Taken back and brought back


def test_undo_and_redo_any_number_of_times(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    refused("nothing-to-redo", log.redo, number, STAMP)
    one = log.record(number, PLAIN, later(1))
    two = log.record(number, replace(FULL, piece=2), later(2))
    before, without = log.setup(number), replace(log.setup(number), cuts=log.setup(number).cuts[:1])
    for minute in range(10, 50, 10):
        log.retract(two, later(minute))
        refused("already-retracted", log.retract, two, later(minute))
        assert log.setup(number) == without and log.newest_live(number) == (one, "cut")
        assert [c.retracted for c in log.cut_entries(number)] == [False, True]
        assert log.redo(number, later(minute + 1)) == [(two, "cut")]
        assert log.setup(number) == before and log.newest_live(number) == (two, "cut")
        assert [c.retracted for c in log.cut_entries(number)] == [False, False]
        refused("nothing-to-redo", log.redo, number, later(minute + 2))


def test_redo_goes_back_as_far_as_undo_went_and_a_new_entry_ends_it(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    one = log.record(number, PLAIN, later(1))
    two = log.record(number, replace(PLAIN, piece=2), later(2))
    end = log.close(number, "finished", later(3))
    states = []
    for minute, entry in ((4, end), (5, two), (6, one)):
        states.append(log.setup(number))
        log.retract(entry, later(minute))
    log.choose(number, later(7))  # choosing is nothing new about it
    for minute, back in ((8, (one, "cut")), (9, (two, "cut")), (10, (end, "finish"))):
        assert log.redo(number, later(minute)) == [back]
        assert log.setup(number) == states.pop()
    for minute, entry in ((11, end), (12, two)):
        log.retract(entry, later(minute))
    log.record(number, replace(PLAIN, piece=2), later(13))
    refused("nothing-to-redo", log.redo, number, later(14))
    assert [c.entry for c in log.setup(number).cuts][:1] == [one] and len(
        log.setup(number).cuts
    ) == 2


def test_what_one_undo_took_back_comes_back_as_one(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    entries = [log.record(number, PLAIN, later(minute)) for minute in (1, 2, 3)]
    last = log.record(number, replace(PLAIN, piece=2), later(4))
    before = log.setup(number)
    log.retract(last, later(5))
    for entry in reversed(entries):
        log.retract(entry, later(6))
    assert log.setup(number).cuts == ()
    assert log.redo(number, later(7)) == [(entry, "cut") for entry in entries]
    assert len(log.setup(number).cuts) == 3
    assert log.redo(number, later(8)) == [(last, "cut")]
    assert log.setup(number) == before


def test_a_start_comes_back_unless_its_bit_is_busy(log: Log) -> None:
    one = log.start(PLAN, FIRST, "{}", STAMP)
    start = log.newest_live(one)
    assert start is not None
    before = log.setup(one)
    log.retract(start[0], later(1))
    two = log.start(PLAN, FIRST, "{}", later(2))
    refused("still-tuning", log.redo, one, later(3))
    end = log.close(two, "abandoned", later(4))
    assert log.redo(one, later(5)) == [start]
    assert log.setup(one) == before and [s.number for s in log.open_setups(BIT.name)] == [one]
    refused("still-tuning", log.retract, end, later(6))
    refused("unknown-setup", log.redo, 9, later(7))


def test_an_end_comes_back_unless_another_one_stands(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    end = log.close(number, "finished", later(1), as_it_is=True)
    log.retract(end, later(2))
    assert log.redo(number, later(3)) == [(end, "finish-as-is")] and log.setup(number).as_it_is
    log.retract(end, later(4))
    log.close(number, "abandoned", later(5))
    refused("nothing-to-redo", log.redo, number, later(6))


def test_what_was_found_comes_back(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    found = log.log_found(number, {"bit_height": 8.6}, later(1))
    log.retract(found, later(2))
    assert [f.retracted for f in log.found_entries(number)] == [True]
    assert log.redo(number, later(3)) == [(found, "found")]
    log.retract(found, later(4))
    assert log.redo(number, later(5)) == [(found, "found")]
    assert [f.retracted for f in log.found_entries(number)] == [False]
    assert log.newest_live(number) == (found, "found")


def test_which_set_up_a_redo_is_about(log: Log) -> None:
    assert log.redoable() is None
    log.add_bit(replace(BIT, name="blue"))
    log.add_machine(replace(TABLE, name="bench"))
    one = log.start(PLAN, FIRST, "{}", later(1))
    two = log.start(replace(PLAN, bit=log.bit("blue")), FIRST, "{}", later(2))
    assert log.redoable() == log.redoable("the table") == two and log.redoable("bench") is None
    start = log.newest_live(two)
    assert start is not None
    log.retract(start[0], later(3))
    assert log.redoable() == two  # its start was taken back last
    log.retract(log.record(one, PLAIN, later(4)), later(5))
    assert log.redoable() == log.redoable("THE TABLE") == one  # that is later now
    refused("unknown-name", log.redoable, "nowhere")


def test_the_database_itself_takes_back_once_until_a_redo(log: Log, place: Place) -> None:
    """What a plain shell tries: an entry taken back twice, a taking back taken back twice, a redo
    of a cut.
    """
    number = log.start(PLAN, FIRST, "{}", STAMP)
    cut = log.record(number, PLAIN, later(1))
    log.retract(cut, later(2))

    def entry(plain: object, kind: str) -> int:
        new = plain.execute("SELECT max(id) + 1 FROM entry").fetchone()[0]  # type: ignore[attr-defined]
        plain.execute(
            'INSERT INTO entry (id, kind, setup, at, "by")'
            f" VALUES ({new}, '{kind}', 1, '2031-03-04T05:06:07.890123Z', 'x')"
        )  # type: ignore[attr-defined]
        return int(new)

    with place.plain() as plain:
        if place.server is not None:  # it would ask for each entry's row at once
            plain.execute("ALTER TABLE entry DISABLE TRIGGER entry_whole")
        again = entry(plain, "retract")
        with pytest.raises(Exception, match="append-only"):
            plain.execute(f"INSERT INTO retraction VALUES ({again}, {cut})")
        redo, more = entry(plain, "redo"), entry(plain, "redo")
        with pytest.raises(Exception, match=r"(?i)foreign key"):
            plain.execute("PRAGMA foreign_keys = ON" if place.server is None else "SELECT 1")
            plain.execute(f"INSERT INTO redo VALUES ({redo}, {cut})")
        plain.execute(f"INSERT INTO redo VALUES ({redo}, {cut + 1})")
        with pytest.raises(Exception, match="append-only"):
            plain.execute(f"INSERT INTO redo VALUES ({more}, {cut + 1})")
        with pytest.raises(Exception, match="its entry is no redo"):
            plain.execute(f"INSERT INTO redo VALUES ({again}, {cut + 1})")
        plain.execute(f"INSERT INTO retraction VALUES ({again}, {cut})")
    assert log.setup(number).cuts == ()


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    deeds=st.lists(
        st.sampled_from(["cut", "same", "slot", "undo", "undo", "redo", "redo", "finish"]),
        max_size=14,
    )
)
def test_redo_is_what_undo_undoes(
    tmp_path_factory: pytest.TempPathFactory, deeds: list[str]
) -> None:
    """Against a plain pair of stacks: what stands, and what can come back; whatever is logged anew
    empties the second.
    """
    with open_log(tmp_path_factory.mktemp("deeds") / "log.db", create=True) as log:
        stock_up(log)
        number, stands, back = log.start(PLAN, FIRST, "{}", STAMP), list[int](), list[int]()
        for minute, deed in enumerate(deeds, 1):
            setup = log.setup(number)
            pieces, stamp = len(setup.pieces()), later(minute)
            if deed == "undo" and stands:
                back.append(stands.pop())
                log.retract(back[-1], stamp)
            elif deed == "redo" and back:
                stands.append(back.pop())
                assert [entry for entry, _ in log.redo(number, stamp)] == stands[-1:]
            elif deed == "redo":
                refused("nothing-to-redo", log.redo, number, stamp)
            elif deed == "undo" or setup.outcome is not None or (deed == "same" and not pieces):
                continue
            else:
                new = (
                    log.close(number, "finished", stamp)
                    if deed == "finish"
                    else log.record(
                        number,
                        replace(SLOT if deed == "slot" else PLAIN, piece=pieces + (deed != "same")),
                        stamp,
                    )
                )
                stands, back = [*stands, new], []
            live = [
                entry for entry in stands if not log.setup(number).outcome or entry != stands[-1]
            ]
            assert sorted(c.entry for c in log.setup(number).cuts) == sorted(live)


def test_two_undos_of_one_moment_come_back_one_by_one(log: Log) -> None:
    """A clock that stands still, or is put back, gives two undos the same moment."""
    number = log.start(PLAN, FIRST, "{}", STAMP)
    first = log.record(number, PLAIN, STAMP)
    second = log.record(number, replace(PLAIN, piece=2), STAMP)
    log.retract(second, replace(STAMP, key="one"))
    log.retract(first, replace(STAMP, key="two"))
    assert log.redo(number, STAMP) == [(first, "cut")]


def test_a_redo_said_again_is_the_same_redo_whatever_the_clock_said(log: Log) -> None:
    """Its rows are known by their order: another redo of that moment by that person is none of
    it, even one that has no key.
    """
    number = log.start(PLAN, FIRST, "{}", STAMP)
    one, two, three = (
        log.record(number, replace(PLAIN, piece=piece), STAMP) for piece in (1, 2, 3)
    )
    log.retract(three, replace(STAMP, key="first undo"), two)
    log.retract(one, replace(STAMP, key="second undo"))
    back = replace(STAMP, key="first redo")
    assert log.redo(number, back) == [(one, "cut")]
    assert log.redo(number, STAMP) == [(two, "cut"), (three, "cut")]
    assert log.redo(number, back) == [(one, "cut")]
    log.retract(three, replace(STAMP, key="third undo"), two)
    both = replace(STAMP, key="third redo")
    assert log.redo(number, both) == log.redo(number, both) == [(two, "cut"), (three, "cut")]
