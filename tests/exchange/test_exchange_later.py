"""What layout 3 added goes out and in: slots, redo, a set-up finished as it is; and exports from
before it still come in.
"""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from logs import BIT, FIRST, PLAIN, PLAN, T0, make_place, stock_up, undigested
from shop import ROOT
from tables import parts, table

from fitlog.domain import Machine, Note, Reading, Verdict
from fitlog.errors import FitlogError
from fitlog.exchange.document import rows_of
from fitlog.log import Log, Stamp, open_log
from fitlog.log.care import upkeep as care
from fitlog.service.exchange import Imported, read_log, write_log

OLD = ROOT / "data" / "log-v2.json"
SLOT = replace(PLAIN, verdict=Verdict(), readings=(Reading("mouth", 9.5),), slot=True, heard="")


def at(minutes: int) -> Stamp:
    return Stamp("mira", T0 + timedelta(minutes=minutes), "the table")


def exported(log: Log) -> str:
    out = io.StringIO()
    write_log(log, out.write)
    return out.getvalue()


def imported(log: Log, text: str) -> Imported:
    return read_log(log, rows_of(io.StringIO(text)), "me")


def live(log: Log) -> Log:
    """A slot, a cut undone and redone three times and then undone, a set-up finished as it is; a
    start undone and redone.
    """
    log.add_machine(table("lift", depth_step=0.5, between=("height", "depth")))
    one = log.start(PLAN, FIRST, "{}", at(0))
    log.record(one, SLOT, at(1))
    cut = log.record(one, PLAIN, at(2))
    for minute in (3, 5, 7):
        log.retract(cut, at(minute))
        log.redo(one, at(minute + 1))
    log.retract(cut, at(9))
    log.record(one, replace(SLOT, readings=(Reading("mouth", 9.4),)), at(10))
    log.record(one, PLAIN, at(11))
    log.close(one, "finished", at(12), as_it_is=True, notes=[Note("kept", "shelf")])
    two = log.start(PLAN, FIRST, "{}", at(13), notes=[Note("title", "chest"), Note("note", "oak")])
    start, *notes = [entry for entry, _ in reversed(log.live(two, 3))]
    log.retract(notes[1], at(14), notes[0], start)
    log.redo(two, at(15))
    became = log.note(one, [Note("outcome", "tight with glue"), Note("title", "box")], at(16))
    log.retract(became, at(17))
    log.redo(one, at(18))
    log.retract(became + 1, at(19))
    return log


@pytest.fixture
def other(request: pytest.FixtureRequest, place: Any, tmp_path: Path) -> Iterator[Log]:
    """A second log of the same kind, empty."""
    (tmp_path / "other").mkdir()
    kind = "file" if place.server is None else "server"
    with open_log(make_place(kind, request, tmp_path / "other").location, create=True) as opened:
        yield opened


def test_all_of_it_makes_an_identical_log(log: Log, other: Log) -> None:
    text = exported(live(log))
    assert json.loads(text)["version"] == 5
    assert imported(other, text).identical
    assert exported(other) == text
    assert [replace(s, number=0) for s in other.setups()] == [
        replace(s, number=0) for s in log.setups()
    ]
    assert (
        other.machine("lift") == log.machine("lift")
        and other.setup(1).as_it_is
        and len(other.setup(1).slots()) == 2
    )
    assert [note.text for note in other.setup(1).notes] == ["shelf", "tight with glue"]
    assert [note.text for note in other.setup(2).notes] == ["chest", "oak"]
    assert not imported(other, text).merged.added and exported(other) == text
    assert care.health(other).faults == ()


def test_a_log_that_went_on_takes_only_what_is_new(log: Log, other: Log) -> None:
    live(log)
    imported(other, exported(log))
    cut = log.record(2, PLAIN, at(20))
    log.retract(cut, at(21))
    log.redo(2, at(22))
    log.retract(cut, at(23))
    log.redo(2, at(24))
    log.record(2, replace(SLOT, piece=2), at(25))
    text = exported(log)
    done = imported(other, text)
    assert done.merged.added["entry"] == 6 and done.merged.left_out == []
    assert other.setup(2) == log.setup(2)
    assert exported(other) == text
    assert not imported(other, text).merged.added


def test_copies_that_took_back_and_brought_back_apart(log: Log, other: Log) -> None:
    """Here the cut is taken back once more; there it was brought back: the one here stands, and it
    is told.
    """
    number = log.start(PLAN, FIRST, "{}", at(0))
    cut = log.record(number, PLAIN, at(1))
    log.retract(cut, at(2))
    imported(other, exported(log))
    other.redo(number, at(3))
    other.retract(cut, at(4))
    log.redo(number, at(5))
    log.retract(cut, at(6))
    log.redo(number, at(7))
    done = imported(other, exported(log))
    assert len(done.merged.left_out) == 3 and "brought back here already" in done.merged.left_out[0]
    assert other.setup(number).cuts == ()
    assert other.redo(number, at(8)) == [(cut, "cut")]
    assert care.health(other).faults == ()


def test_an_end_that_comes_back_meets_one_that_stands(log: Log, other: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", at(0))
    log.retract(log.close(number, "finished", at(1)), at(2))
    imported(other, exported(log))
    other.close(number, "abandoned", at(3))
    log.redo(number, at(4))
    done = imported(other, exported(log))
    assert len(done.merged.left_out) == 1 and "has ended here by itself" in done.merged.left_out[0]
    assert other.setup(number).outcome == "abandoned"


def test_a_slot_that_comes_in_takes_no_number_from_a_piece(log: Log, other: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", at(0))
    imported(other, exported(log))
    other.record(number, PLAIN, at(1))
    log.record(number, SLOT, at(2))
    log.record(number, PLAIN, at(3))
    imported(other, exported(log))
    setup = other.setup(number)
    assert [p.number for p in setup.pieces()] == [1, 2] and [s.number for s in setup.slots()] == [2]
    other.record(number, replace(PLAIN, piece=3), at(4), new_piece=True)
    assert not imported(other, exported(log)).merged.added


def test_machines_with_other_depth_stops_are_kept_apart(log: Log, other: Log) -> None:
    stock_up(other)
    log.add_machine(table("lift", depth_step=0.5))
    other.add_machine(table("lift", depth_step=0.1))
    assert imported(other, exported(log)).merged.renamed == [("machine", "lift", "lift (2)")]
    assert other.machine("lift (2)").step("depth") == 0.5
    log.add_machine(Machine("jig"))
    other.add_machine(table("jig", depth_step=0.1))  # said since: no reason to have it twice
    assert imported(other, exported(log)).merged.renamed == []


def test_an_export_from_before_comes_in(other: Log) -> None:
    """`data/log-v2.json` is an export of version 1, of `data/log-v2.db`, by the fitlog that had
    layout 2.
    """
    text = OLD.read_text()
    assert json.loads(text)["version"] == 1 and '"slot"' not in text and "depth_step" not in text
    done = imported(other, text)
    assert done.identical and done.merged.left_out == []
    assert [
        (s.number, len(s.pieces()), s.outcome, s.as_it_is, s.slots()) for s in other.setups()
    ] == [(2, 1, None, False, ()), (1, 3, "finished", False, ())]
    assert (other.machine("corner").step("depth"), other.machine("corner").between) == (None, ())
    assert not imported(other, text).merged.added
    anew = exported(other)
    assert anew != text and not imported(other, anew).merged.added


@pytest.mark.parametrize(("layout", "version"), [(3, 2), (5, 4)])
def test_an_export_of_an_older_layout_comes_in_and_finds_its_log(
    other: Log, tmp_path: Path, layout: int, version: int
) -> None:
    """`data/log-v3.json` is an export of version 2, of `data/log-v3.db`, by the fitlog that had
    layout 3; likewise that of layout 5.
    """
    text = (ROOT / "data" / f"log-v{layout}.json").read_text()
    assert json.loads(text)["version"] == version and ('"figures"' in text) == (layout > 3)
    done = imported(other, text)
    assert done.identical and done.merged.left_out == []
    path = tmp_path / "log.db"
    path.write_bytes((ROOT / "data" / f"log-v{layout}.db").read_bytes())
    with open_log(path, create=False) as log:
        assert log.upgraded is not None
        assert log.setups() == other.setups()
        found = imported(log, text).merged
        assert not found.added and found.left_out == [] and found.renamed == []


def test_an_export_from_before_finds_an_upgraded_log(tmp_path: Path) -> None:
    """Nothing of it is doubled: what was upgraded says the same as what was exported before."""
    path = tmp_path / "log.db"
    path.write_bytes((ROOT / "data" / "log-v2.db").read_bytes())
    with open_log(path, create=False) as log:
        assert log.upgraded is not None
        log.edit_machine("corner", parts=parts(("depth",), depth_step=0.5))
        before = exported(log)
        done = imported(log, OLD.read_text()).merged
        assert (
            not done.added
            and done.left_out == []
            and done.renamed == []
            and exported(log) == before
        )


SPOILT = (
    ('"slot": 1', '"slot": 2'),
    ('"slot": 1', '"slot": "yes"'),
    ('"redone": 4', '"redone": 99'),
    ('"redone": 4', '"redone": 3'),
    ('"redone": 4', '"redone": null'),
    ('"kind": "redo"', '"kind": "renew"'),
    ('"kind": "finish-as-is"', '"kind": "finish-as-was"'),
    ('"between": true', '"between": "yes"'),
    ('"step": 0.5', '"step": -1'),
    ('"depth": {', '"": {'),
    ('"step": 0.5', '"steep": 0.5'),
    ('"kind": "mouth"', '"kind": "luck"'),
    ('"slot": 0', '"slot": 1'),
)


def test_a_spoilt_row_is_refused_whole(log: Log, other: Log) -> None:
    text, before = undigested(exported(live(log))), exported(other)
    for old, new in SPOILT:
        assert old in text, old
        with pytest.raises(FitlogError) as caught:
            imported(other, text.replace(old, new, 1))
        assert caught.value.code in ("bad-row", "not-stored"), (new, caught.value)
        assert exported(other) == before, new


_TOLD: dict[str, str] = {}  # by kind of place


@pytest.fixture
def told(request: pytest.FixtureRequest, place: Any, tmp_path: Path) -> str:
    """The export of such a log with a person and a sharpened bit, made once a kind of place."""
    kind = "file" if place.server is None else "server"
    if kind not in _TOLD:
        location = make_place(kind, request, tmp_path / "told").location
        with open_log(location, create=True) as log:
            stock_up(log).prefer("mira", units="inch", at=T0)
            log.add_bit(replace(BIT, name="worn"))
            log.sharpen("worn", 12.5, at(0))
            _TOLD[kind] = exported(live(log))
    return _TOLD[kind]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"machine": "the table"', '"machine": "the bench"'),
        ('"note": ""', '"note": "said later"'),
        ('"retracted": 3', '"retracted": 2'),
        ('"angle": 8.0', '"angle": 9.0'),
        ('"species": "ash (invented)"', '"species": "oak (invented)"'),
        ('"document": "{}"', '"document": "{\\"a\\": 1}"'),
        ('"piece": 1', '"piece": 2'),
        ('"value": 9.5', '"value": 9.4'),
        ('"value": "inch"', '"value": "mm"'),
        ('"diameter_after": 12.5', '"diameter_after": 12.4'),
    ],
)
def test_an_edited_export_is_refused_with_its_row(
    told: str, other: Log, old: str, new: str
) -> None:
    """What was exported is what comes in; without its digests, as an older fitlog wrote it, it is
    taken as it is.
    """
    rows = told.split("\n")
    row = next(number for number, line in enumerate(rows) if old in line)
    edited = "\n".join([*rows[:row], rows[row].replace(old, new, 1), *rows[row + 1 :]])
    if new.startswith('"machine'):  # said twice: the last one counts
        edited = edited.replace('"machine": "the table", "key"', '"key"', 1)
    before = exported(other)
    with pytest.raises(FitlogError, match=rf"row {row} \(.*it is not as it was written"):
        imported(other, edited)
    assert exported(other) == before
    imported(other, undigested(edited))
    assert care.health(other).faults == ()


def test_an_export_that_lacks_a_row_is_refused_at_the_next(log: Log, other: Log) -> None:
    rows = exported(live(log)).split("\n")
    for kind in ("entry", "advice"):
        numbers = [number for number, line in enumerate(rows) if line.startswith(f'{{"{kind}"')]
        gone, following = numbers[:2] if kind == "advice" else numbers[1:3]
        rest = rows[:gone] + rows[gone + 1 :]
        with pytest.raises(FitlogError, match=rf"row {following - 1} \({kind}\): "):
            imported(other, "\n".join(rest))


def test_older_rows_of_an_export_still_say_from_when_they_are_vouched_for(
    tmp_path: Path, other: Log
) -> None:
    path = tmp_path / "log.db"
    path.write_bytes((ROOT / "data" / "log-v4.db").read_bytes())
    with open_log(path, create=False) as log:
        log.choose(1, at(0))
        text = exported(log)
    assert text.count('"digest": "~') == text.count('"digest": "') - 1 > 30
    assert imported(other, text).identical and exported(other) == text
    assert care.health(other).faults == ()


def test_a_document_of_today_without_its_digests_is_refused(log: Log, other: Log) -> None:
    """It could lack rows, and nobody would notice; what an older fitlog wrote never had any."""
    text = exported(live(log))
    older = undigested(text)
    before = exported(other)
    with pytest.raises(FitlogError, match="row 1 has no digest") as caught:
        imported(other, older.replace('"version": 3', '"version": 5', 1))
    assert caught.value.code == "broken-export" and "fitlog log export" in caught.value.hint
    rows = text.split("\n")
    rows[5] = undigested(rows[5])
    with pytest.raises(FitlogError, match="row 5 has no digest"):
        imported(other, "\n".join(rows))
    assert exported(other) == before
    assert imported(other, older).merged.added


@pytest.mark.parametrize("version", [3, 4])
def test_nobody_brings_in_a_role(log: Log, other: Log, version: int) -> None:
    """A role is what the server says of who stored an entry: from a file it would be a claim."""
    text = exported(live(log))
    assert '"role"' not in text
    plain = text if version == 4 else undigested(text)
    forged = plain.replace('"by": "mira", "machine"', '"by": "mira", "role": "jo", "machine"')
    assert forged != plain
    before = exported(other)
    with pytest.raises(FitlogError, match="the column 'role' is not known") as caught:
        imported(other, forged)
    assert caught.value.code == "bad-row" and exported(other) == before
    imported(other, plain)
    with other.store.reading() as connection:
        roles = set(connection.exec_driver_sql("SELECT role FROM entry").scalars())
    here = {None} if other.path else {"owner"}  # who stored it, in a server's log
    assert roles == here
