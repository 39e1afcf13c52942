"""Whose end a piece was cut on again: said, kept in both stores, exported and read again.

No outside source. The family is invented: pegs whose key gap can only be made wider on an end that
was cut, and whose reach either way.
"""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from logs import ASH, BIT, FIRST, FULL, OAK, PLAN, STAMP, Place, make_place, refused, stock_up
from toy_family.joint import PEGS, PegsPlan

from fitlog import families
from fitlog.domain import Settings, SetUp, TrialCut, Verdict
from fitlog.errors import Refused
from fitlog.exchange.columns import Columns
from fitlog.exchange.cuts_out import csv_line, csv_row, headers
from fitlog.exchange.document import rows_of
from fitlog.exchange.sheet import read_sheet
from fitlog.families import names
from fitlog.families.half_blind.speech import SPEECH
from fitlog.families.typed import speech_of
from fitlog.language.units import Ruler
from fitlog.log import Log, open_log
from fitlog.render.documents.setups import cut_row
from fitlog.service.asked import Reported
from fitlog.service.bench import Workbench
from fitlog.service.cuts import Asked, log_cuts
from fitlog.service.exchange import read_log, write_log
from fitlog.service.reader.rows import Table, read_cuts

FREE = replace(
    PEGS,
    name="invented free pegs",
    settings=tuple(
        replace(s, free=free) for s, free in zip(PEGS.settings, ("+", "both"), strict=True)
    ),
)
PEGGED = PegsPlan(BIT, OAK, ASH, None, 140.0, 18.0, 12.0, spacing=30.0, family=FREE)
SLACK = Verdict((FREE.said("play", "stuck"),))


def at(gap: float, reach: float) -> Settings:
    return Settings(FREE, (gap, reach))


@pytest.fixture(autouse=True)
def known(monkeypatch: pytest.MonkeyPatch) -> None:
    """The family, known for one test."""
    monkeypatch.setitem(names.FAMILIES, FREE.name, FREE)
    monkeypatch.setitem(names.PLANS, FREE.name, PegsPlan)
    monkeypatch.setitem(families.FOLDERS, FREE.name, "toy_family")


def bench(log: Log) -> Workbench:
    return Workbench(log, "mira", Ruler("mm"), None)


def cut(log: Log, number: int, same_end: bool = False, **changed: float) -> TrialCut:
    told = Reported(SLACK, changed=changed, same_end=same_end)
    return bench(log).record(log.setup(number), told)


def started(log: Log) -> int:
    """The number of a set-up with a fresh end, the same end wider, and that end once more."""
    number = log.start(PEGGED, at(10.0, 18.0), "{}", STAMP)
    cut(log, number)
    cut(log, number, same_end=True, key_gap=10.2, reach=17.9)
    cut(log, number, same_end=True, key_gap=10.3, reach=18.0)
    cut(log, number, key_gap=10.1)
    return number


def ends(setup: SetUp) -> list[int | None]:
    return [one.end for one in setup.cuts]


def text_of(log: Log) -> str:
    out = io.StringIO()
    write_log(log, out.write)
    return out.getvalue()


def test_the_end_that_was_cut_again_is_kept_and_read_back(log: Log, place: Place) -> None:
    setup = log.setup(started(log))
    assert ends(setup) == [None, 1, 2, None]
    assert [piece.own_end for piece in setup.pieces()] == [1, 1, 1, 4]
    assert place.rows("SELECT piece, recut_of FROM trial_cut ORDER BY entry") == [
        *((1, None), (2, 1), (3, 2), (4, None))
    ]
    told = [cut_row(one, setup) for one in log.cut_entries(setup.number)]
    assert [one["recut_of"] for one in told] == [None, 1, 2, None]


@pytest.mark.parametrize("end", [0, 2, 3, -1])
def test_no_end_but_an_earlier_pieces_is_stored(log: Log, place: Place, end: int) -> None:
    number = log.start(PEGGED, at(10.0, 18.0), "{}", STAMP)
    cut(log, number)
    wrong = TrialCut(0, 2, at(10.0, 18.0), SLACK, end=end)
    with pytest.raises(Refused, match="refuse that value") as caught:
        log.record(number, wrong, STAMP)
    assert "recut_of" in str(caught.value.__cause__)
    assert place.rows("SELECT count(*) FROM trial_cut") == [(1,)]


@pytest.mark.parametrize(("first", "second"), [("file", "server"), ("server", "file")])
def test_it_goes_from_store_to_store(
    request: pytest.FixtureRequest, tmp_path: Path, first: str, second: str
) -> None:
    for folder in ("a", "b"):
        (tmp_path / folder).mkdir()
    with open_log(make_place(first, request, tmp_path / "a").location, create=True) as log:
        number = started(stock_up(log))
        text = text_of(log)
    with open_log(make_place(second, request, tmp_path / "b").location, create=True) as log:
        read_log(log, rows_of(io.StringIO(text)), "me")
        assert ends(log.setup(number)) == [None, 1, 2, None]
        assert text_of(log) == text
    wrong = text.replace('"recut_of": 1', '"recut_of": 2')
    with open_log(str(tmp_path / "c.db"), create=True) as log:
        error = refused("bad-row", read_log, log, rows_of(io.StringIO(wrong)), "me")
        assert "piece 2, is no earlier one's" in error.message


def test_an_export_from_before_has_fresh_ends(log: Log, tmp_path: Path) -> None:
    number = log.start(PLAN, FIRST, "{}", STAMP)
    log.record(number, FULL, STAMP)
    text = text_of(log)
    older = text.replace(', "recut_of": null', "")
    assert older != text
    with open_log(str(tmp_path / "other.db"), create=True) as other:
        read_log(other, rows_of(io.StringIO(older)), "me")
        assert text_of(other) == text


def test_it_goes_out_to_a_table_and_comes_in_again(log: Log) -> None:
    setup, table = log.setup(started(log)), Columns(speech_of(FREE.name))
    rows = [headers(table), *(csv_row(one, setup, False, table) for one in setup.cuts)]
    assert [row[-4] for row in rows] == ["recut of", "", "1", "2", ""]
    text = "".join(map(csv_line, rows)).encode()
    reader = Table("mm", columns=table, now=datetime.now(UTC))
    lines, problems, _ = read_cuts(read_sheet(text, table), reader)
    assert not problems
    log.close(setup.number, "abandoned", STAMP)
    other = log.start(PEGGED, at(10.0, 18.0), "{}", STAMP)
    cut(log, other)
    done = log_cuts(log, "mira", Ruler("mm"), other, Asked(lines, (), yes=True))
    assert not done.problems
    assert ends(log.setup(other)) == [None, None, 2, 3, None]  # by their numbers there
    torn = log_cuts(log, "mira", Ruler("mm"), other, Asked(lines[1:2], (), again=True, yes=True))
    assert "piece 1, whose end was cut again" in torn.problems[0].message


def test_a_family_whose_ends_cannot_be_cut_again_never_hears_of_it(log: Log) -> None:
    setup = log.setup(log.start(PLAN, FIRST, "{}", STAMP))
    log.record(setup.number, FULL, STAMP)
    assert "recut of" not in headers(Columns(SPEECH))
    assert "recut_of" not in cut_row(log.cut_entries(setup.number)[0], setup)
    told = Reported(FULL.verdict, same_end=True)
    error = refused("bad-choice", bench(log).record, log.setup(setup.number), told)
    assert "no setting of a half-blind dovetail can move" in error.message
    assert "--same-end" in error.hint


REFUSED: dict[str, tuple[dict[str, Any], str, str]] = {
    "later": ({"later": True}, "bad-choice", "--same-piece is none"),
    "narrower": ({"changed": {"key_gap": 9.9}}, "bad-setting", "the key gap cannot go narrower"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_cut_on_the_same_end_is_refused(log: Log, case: str) -> None:
    said, code, why = REFUSED[case]
    number = log.start(PEGGED, at(10.0, 18.0), "{}", STAMP)
    fresh = Reported(SLACK, same_end=True)
    assert "no end yet" in refused("no-piece", bench(log).record, log.setup(number), fresh).message
    cut(log, number)
    told = Reported(SLACK, same_end=True, **said)
    assert why in refused(code, bench(log).record, log.setup(number), told).message
    assert ends(log.setup(number)) == [None]
