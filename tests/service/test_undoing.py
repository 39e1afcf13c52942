"""Two people at one set-up, on a file and on a server alike: whoever acts on what is no longer so
is told, and loses nothing of the other's.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from logs import BIT, OAK, TABLE, Place, refused

from fitlog.domain import Bit, SetUp
from fitlog.families.half_blind.names import judged, say
from fitlog.families.wanted import Wanted
from fitlog.language.units import Ruler
from fitlog.log import Log, entries, open_log
from fitlog.service import Reported, Workbench
from fitlog.service.catalogue import bits
from fitlog.service.found import found

TOLD = Reported(judged(fit=say("fit", "tight")), "tight")
LATER = replace(TOLD, later=True)
Deed = Callable[[Workbench, SetUp], object]
DEEDS: dict[str, Deed] = {
    "undo": lambda bench, setup: bench.undo(setup),
    "undo --piece": lambda bench, setup: bench.undo(setup, 2),
    "redo": lambda bench, setup: bench.redo(setup),
    "cut": lambda bench, setup: bench.record(setup, TOLD),
    "cut --same-piece": lambda bench, setup: bench.record(setup, LATER),
    "finish": lambda bench, setup: bench.finish(setup, as_it_is=True),
    "finish --abandon": lambda bench, setup: bench.finish(setup, abandon=True),
    "found": lambda bench, setup: found(bench, setup, {"fence_offset": 70.5}),
}


@pytest.fixture
def mira(log: Log) -> Workbench:
    """At a set-up of four pieces, the last taken back."""
    bench, board = Workbench(log, "mira", Ruler()), log.stock(OAK.name)
    bench.start(Wanted(log.bit(BIT.name), board, board, log.machine(TABLE.name)))
    for _ in range(4):
        bench.record(bench.current(), TOLD)
        bench.record(bench.current(), LATER)
    bench.take_back(bench.current(), 4)
    return bench


@pytest.fixture
def jo(mira: Workbench, place: Place) -> Iterator[Workbench]:
    """Somebody else at the same set-up, in a window of their own."""
    with open_log(place.location, create=False) as log:
        yield Workbench(log, "jo", Ruler())


def test_two_who_undo_at_once_take_back_what_they_were_told(mira: Workbench, jo: Workbench) -> None:
    hers, his = mira.current(), jo.current()
    assert mira.take_back(hers) == '"tight" on piece 3'
    error = refused("log-moved-on", jo.take_back, his)
    assert "by mira" in error.message and "fitlog show 1" in error.hint
    assert len(jo.current().cuts) == len(his.cuts) - 1
    assert jo.take_back(jo.current()) == '"tight" on piece 3'


def test_no_cut_vanishes_beneath_a_finish(mira: Workbench, jo: Workbench) -> None:
    hers = mira.current()
    jo.finish(jo.current(), as_it_is=True)
    refused("log-moved-on", mira.take_back, hers)
    assert mira.current().as_it_is and mira.current().cuts == hers.cuts


@pytest.mark.parametrize("name", DEEDS)
def test_each_acts_on_what_was_read(mira: Workbench, jo: Workbench, name: str) -> None:
    read = mira.current()
    jo.record(jo.current(), LATER)
    before = mira.log.setup(1)
    refused("log-moved-on", DEEDS[name], mira, read)
    assert mira.log.setup(1) == before and before.newest == mira.log.setup(1).newest
    jo.take_back(jo.current())
    DEEDS[name](mira, mira.current())
    assert mira.log.setup(1) != before


def test_all_about_a_piece_goes_or_none_of_it(
    mira: Workbench, monkeypatch: pytest.MonkeyPatch
) -> None:
    before, left, add = mira.current(), [1], entries.add

    def dies(connection: object, kind: str, *rest: object) -> int:
        left[0] -= kind == "retract"
        if left[0] < 0:
            raise KeyboardInterrupt
        return add(connection, kind, *rest)  # type: ignore[arg-type]

    with monkeypatch.context() as patched:
        patched.setattr(entries, "add", dies)
        with pytest.raises(KeyboardInterrupt):
            mira.take_back(before, 2)
    assert left == [-1] and mira.current() == before
    assert mira.take_back(before, 2) == "piece 2"
    assert [piece.number for piece in mira.current().pieces()] == [1, 3]


def test_a_ready_set_up_is_finished_as_it_was_read(
    mira: Workbench, jo: Workbench, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Jo logs a cut of it while Mira's start is worked out."""
    plan = mira.current().plan
    wanted = Wanted(plan.bit, plan.stock, plan.pin_stock, plan.machine)
    monkeypatch.setattr(mira, "status", lambda _: "ready")
    start = mira.log.start

    def late(*args: object, **options: object) -> int:
        jo.record(jo.current(), LATER)
        return start(*args, **options)  # type: ignore[arg-type]

    with monkeypatch.context() as patched:
        patched.setattr(mira.log, "start", late)
        refused("log-moved-on", mira.start, wanted)
    assert [(s.number, s.outcome) for s in mira.log.setups()] == [(1, None)]
    answer = mira.start(wanted)
    assert answer.closed == 1 and mira.log.setup(1).outcome == "finished"


def test_an_edit_is_of_what_was_asked_about(mira: Workbench, jo: Workbench) -> None:
    edit = bits(mira.log).edit(BIT.name, {"diameter": 12.5})
    bits(jo.log).edit(BIT.name, {"angle": 9.0}).done()
    assert BIT.name in refused("log-moved-on", edit.done).message
    assert bits(mira.log).edit(BIT.name, {"diameter": 12.5}).done().angle == 9.0


def test_a_thing_is_taken_away_as_it_was_read(mira: Workbench, jo: Workbench) -> None:
    shelf, sizes = bits(mira.log), iter((12.51, 12.52))
    mira.log.add_bit(replace(BIT, name="spare"))

    def edited_meanwhile(name: str) -> Bit:
        read = shelf.get(name)
        jo.log.edit_bit(name, diameter=next(sizes))
        return read

    slow = replace(shelf, get=edited_meanwhile)
    refused("log-moved-on", slow.retire, "spare")
    refused("log-moved-on", slow.remove, "spare")
    assert shelf.retire("spare").diameter == 12.52
    assert shelf.remove("spare").retired


def test_the_dialogue_cuts_at_what_its_own_screen_shows(mira: Workbench, jo: Workbench) -> None:
    jo.answer(1)
    hers = mira.look_at(mira.current()).setup
    assert hers.other is None and hers.advice is not None
    shown = mira.record(hers, TOLD)
    assert shown.settings == shown.advised == hers.shown
    assert jo.current().advice != hers.advice  # what he was shown is his
