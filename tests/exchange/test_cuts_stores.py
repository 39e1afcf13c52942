"""Lines of a table put in at once, in both stores: known again, and the log goes on after them."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from logs import FIRST, PLAIN, PLAN, T0

from fitlog.errors import Refused
from fitlog.exchange.columns import Columns
from fitlog.exchange.sheet import read_sheet
from fitlog.families.half_blind.speech import SPEECH
from fitlog.language.units import Ruler
from fitlog.log import Log, Stamp
from fitlog.log.care import upkeep as care
from fitlog.log.transfer.lines import append
from fitlog.service.cut_rows import Asked
from fitlog.service.cuts import CutsIn, log_cuts
from fitlog.service.reader.rows import Table, read_cuts

COLUMNS = Columns(SPEECH)


def at(minute: int, key: str | None = None) -> Stamp:
    return Stamp("mira", T0 + timedelta(minutes=minute), "the table", key)


def imported(log: Log, text: str, where: int) -> CutsIn:
    reader = Table("mm", columns=COLUMNS, now=datetime(2040, 1, 1, tzinfo=UTC))
    lines, problems, _ = read_cuts(read_sheet(text.encode(), COLUMNS), reader)
    assert not problems
    return log_cuts(log, "mira", Ruler("mm"), where, Asked(lines, (), yes=True))


@pytest.mark.parametrize("day", ["", "2031-03-05"])
def test_a_table_that_comes_again_is_known(log: Log, day: str) -> None:
    plan = replace(PLAN, piece_width=None, piece_thickness=None)
    number = log.start(plan, FIRST, "{}", at(0))
    text = "date,said,note\n" + f"{day},tight,a\n{day},tight,a\n{day},proud 0.3,b\n"
    assert len(imported(log, text, number).cuts) == 3
    log.record(number, replace(PLAIN, piece=4), at(9))
    again = imported(log, text + f"{day},loose,c\n", number)
    assert (again.known, len(again.cuts)) == (3, 1)
    assert [cut.piece for cut in log.setup(number).cuts] == [1, 2, 3, 4, 5]
    assert [len(cut.verdict.said) for cut in log.setup(number).cuts] == [1] * 5
    assert not care.health(log).faults


def test_what_somebody_else_wrote_since_it_was_read_is_told(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", at(0))
    seen = log.setup(number).newest
    log.record(number, PLAIN, at(1))
    with pytest.raises(Refused) as refused:
        append(log, number, [(PLAIN, at(2))], seen)
    assert refused.value.code == "log-moved-on" and len(log.setup(number).cuts) == 1
    log.close(number, "finished", at(3))
    with pytest.raises(Refused) as refused:
        append(log, number, [(PLAIN, at(4))])
    assert refused.value.code == "already-ended"


def test_a_key_goes_to_one_entry_alone(log: Log) -> None:
    number = log.start(PLAN, FIRST, "{}", at(0))
    append(log, number, [(PLAIN, at(1, "line:x"))])
    append(log, number, [(PLAIN, at(2, "line:x")), (PLAIN, at(3, "line:y"))])
    with log.store.reading() as connection:
        rows = connection.exec_driver_sql("SELECT key FROM entry WHERE kind = 'cut' ORDER BY id")
        assert [row[0] for row in rows] == ["line:x", None, "line:y"]
