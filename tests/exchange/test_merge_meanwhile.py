"""A merge is matched before it is its turn to write; what others write meanwhile is neither lost
nor doubled, and only what is about the same is matched anew.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from logs import BIT, FIRST, PLAIN, PLAN, T0, Place, refused

from fitlog.exchange.document import rows_of
from fitlog.log import Log, Stamp, open_log
from fitlog.log.care import upkeep as care
from fitlog.log.transfer import merging
from fitlog.log.transfer.planned import MovedOn, Planned
from fitlog.service import exchange
from fitlog.service.exchange import Imported, read_log, write_log


def at(minutes: int) -> Stamp:
    return Stamp("mira", T0 + timedelta(minutes=minutes), "the table")


def exported(log: Log) -> str:
    out = io.StringIO()
    write_log(log, out.write)
    return out.getvalue()


def imported(log: Log, text: str) -> Imported:
    return read_log(log, rows_of(io.StringIO(text)), "me")


@pytest.fixture
def text(log: Log) -> str:
    """The export of the log, which has two set-ups."""
    log.add_bit(replace(BIT, name="other"))
    log.start(PLAN, FIRST, "{}", at(0))
    log.record(1, PLAIN, at(1))
    log.start(replace(PLAN, bit=log.bit("other")), FIRST, "{}", at(2))
    return exported(log)


_GONE_ON: dict[str, str] = {}


def gone_on(text: str, folder: Any) -> str:
    """The export of a copy that went on with set-up 1; of one and the same log made once."""
    if text not in _GONE_ON:
        with open_log(str(folder / "copy.db"), create=True) as copy:
            imported(copy, text)
            copy.record(1, replace(PLAIN, piece=2), at(20))
            copy.retract(copy.record(1, replace(PLAIN, piece=3), at(21)), at(22))
            _GONE_ON[text] = exported(copy)
    return _GONE_ON[text]


def meanwhile(
    monkeypatch: pytest.MonkeyPatch, place: Place, deed: Callable[[Log], object]
) -> list[str]:
    """Have somebody else do something right before the first turn to write; count the turns."""
    plain, turns = Planned.store, list[str]()
    plain_end = merging.Merge.end

    def end(self: merging.Merge) -> Any:
        done = plain_end(self)
        if not turns:
            with open_log(place.location, create=False) as other:
                deed(other)
        return done

    def store(self: Planned, connection: Any) -> None:
        try:
            plain(self, connection)
        except MovedOn:
            turns.append("again")
            raise
        turns.append("stored")

    monkeypatch.setattr(merging.Merge, "end", end)
    monkeypatch.setattr(Planned, "store", store)
    return turns


DEEDS: dict[str, tuple[Callable[[Log], object], bool]] = {
    "a cut of another set-up": (lambda log: log.record(2, PLAIN, at(30)), False),
    "a choice": (lambda log: log.choose(1, at(30)), False),
    "an advice": (lambda log: log.show(2, FIRST, '{"a": 1}', at(30)), False),
    "a cut of the same set-up": (lambda log: log.record(1, replace(PLAIN, piece=2), at(30)), True),
    "its end": (lambda log: log.close(1, "finished", at(30)), True),
    "a cut that the file has": (lambda log: log.record(1, replace(PLAIN, piece=2), at(20)), True),
    "a key that the file has": (lambda log: log.choose(2, replace(at(30), key="mine")), False),
    "an edit of the catalogue": (lambda log: log.edit_bit("other", retired=True), True),
    "a preference": (lambda log: log.prefer("jo", units="inch", at=T0), True),
}


@pytest.mark.parametrize("name", DEEDS)
def test_what_came_meanwhile_is_kept(
    log: Log, place: Place, text: str, tmp_path: Any, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    deed, again = DEEDS[name]
    more = gone_on(text, tmp_path)
    turns = meanwhile(monkeypatch, place, deed)
    done = imported(log, more).merged
    assert turns == (["again"] if again else []) + ["stored"]
    assert done.added["entry"] + done.found["entry"] == 6 and done.left_out == []
    monkeypatch.undo()
    assert care.health(log).faults == ()
    if name != "its end":
        assert len({cut.at for cut in log.setup(1).cuts} & {at(1).at, at(20).at}) == 2
    assert imported(log, more).merged.added == {}, "it came in twice"


def test_who_never_gets_a_turn_is_told(
    log: Log, text: str, tmp_path: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    more, before, tried = gone_on(text, tmp_path), exported(log), []

    def store(self: Planned, connection: Any) -> None:
        tried.append(self)
        raise MovedOn

    monkeypatch.setattr(Planned, "store", store)
    monkeypatch.setattr(exchange, "_TRIES", 3)
    assert "3 times somebody wrote" in refused("log-moved-on", imported, log, more).message
    assert len(tried) == 3 and exported(log) == before
