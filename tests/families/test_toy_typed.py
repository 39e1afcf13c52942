"""What is typed of a family that fitlog has never heard of: a start, a cut, a table out and in."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from building import BIT, STARTED, STOCK
from logs import stock_up
from tables import table
from toy_family.joint import PEGS, PegsPlan, set_to
from toy_family.known import make_known

from fitlog.domain import Fault, Reading, SetUp, TrialCut, Verdict
from fitlog.errors import FitlogError
from fitlog.exchange.columns import Columns
from fitlog.exchange.cuts_out import csv_line, csv_row, headers
from fitlog.exchange.sheet import read_sheet
from fitlog.families.typed import speech_of, usual
from fitlog.language.phrases import parse_phrases
from fitlog.language.units import Ruler
from fitlog.log import open_log
from fitlog.service.again import Named
from fitlog.service.asked import Reported
from fitlog.service.doubts import mended, put_right
from fitlog.service.odd_sizes import start_doubts
from fitlog.service.reader import Reader
from fitlog.service.reader.cuts import CutTyped, found_at, reported
from fitlog.service.reader.lengths import BoardsTyped
from fitlog.service.reader.own_options import with_options
from fitlog.service.reader.rows import Table, read_cuts
from fitlog.service.reader.start import StartTyped, WayTyped, wanted_of
from fitlog.service.session import Session
from fitlog.service.slips import Place, cut_doubts

JOINT = PEGS.name
PLAN = PegsPlan(BIT, STOCK, STOCK, None, 150.0, 17.0, 17.0, spacing=30.0)
BOARDS = Named(stock="ash")
FIRST = set_to(10.0, 17.0)
NOW = datetime(2031, 6, 1, tzinfo=UTC)


@pytest.fixture(autouse=True)
def known(monkeypatch: pytest.MonkeyPatch) -> None:
    """The family, known for one test."""
    make_known(monkeypatch)


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    with open_log(str(tmp_path / "log.db"), create=True) as log:
        yield Session(stock_up(log), "ann")


def opened(*cuts: TrialCut) -> SetUp:
    return SetUp(1, PLAN, FIRST, FIRST, STARTED, cuts=cuts)


def said(text: str) -> Verdict:
    return parse_phrases(text, speech_of(JOINT))


def refusal(read: object) -> FitlogError:
    with pytest.raises(FitlogError) as found:
        read()  # type: ignore[operator]
    assert found.value.message and found.value.hint
    return found.value


def test_a_start_has_the_figures_and_the_first_settings_of_its_family(session: Session) -> None:
    typed = StartTyped(
        BOARDS,
        joint="Invented-Pegs",
        given=("spacing = 1 1/4in", "reach=18,5"),
        boards=BoardsTyped(width="140"),
        way=WayTyped(only="place"),
    )
    wanted, several = wanted_of(session, typed, None)
    assert wanted.joint == JOINT and not several
    assert wanted.figures["spacing"] == pytest.approx(31.75)
    assert wanted.figures["board_width"] == 140.0 and wanted.figures["in_play"] == ("place",)
    assert wanted.first == {"reach": 18.5}
    sizes = usual(JOINT, wanted.bit, wanted.stock, wanted.pin_stock)
    assert sizes["spacing"] == 2 * wanted.bit.diameter
    plan = PegsPlan(wanted.bit, wanted.stock, wanted.pin_stock, None, **{**sizes, **wanted.said()})
    assert (plan.spacing, plan.board_width) == (pytest.approx(31.75), 140.0)


@pytest.mark.parametrize(
    ("typed", "message", "hint"),
    [
        (StartTyped(joint="mortise"), 'no joint is called "mortise"', "invented pegs"),
        (
            StartTyped(joint=JOINT, given=("pitch=20",)),
            '"pitch" is no figure of the invented pegs',
            "known: spacing, reach",
        ),
        (StartTyped(joint=JOINT, given=("spacing",)), '--given "spacing"', "NAME=VALUE"),
        (StartTyped(joint=JOINT, given=("spacing=wide",)), "cannot be read", "15.02, 5/8 in"),
        (
            StartTyped(joint=JOINT, given=("spacing=900",)),
            "the spacing of 900 mm",
            "did you mean 90 mm?",
        ),
        (
            StartTyped(joint=JOINT, given=("spacing=30", "SPACING=31")),
            "the spacing was given twice",
            "give it once",
        ),
        (StartTyped(joint=JOINT, way=WayTyped(only="fit")), "--only cannot be 'fit'", "play"),
    ],
)
def test_a_start_that_cannot_be_is_refused(
    session: Session, typed: StartTyped, message: str, hint: str
) -> None:
    typed = replace(typed, named=BOARDS)
    found = refusal(lambda: wanted_of(session, typed, None))
    assert message in found.message and hint in found.message + found.hint


def test_a_cut_has_the_words_the_settings_and_the_readings_of_its_family() -> None:
    setup = opened(TrialCut(1, 1, FIRST, said("stuck")))
    typed = CutTyped(
        ("falling", "out", "0.3,", "short", "0.2,", "gap", "split", "0.1"),
        set=("key gap=10.4",),
        move=("longer=0.25",),
        read=("shim=0.3",),
    )
    told, moved = reported(Reader("mm"), setup, typed)
    assert told.verdict == Verdict(
        (PEGS.said("play", "falling out", 0.3), PEGS.said("place", "short", 0.2)),
        (Fault("split", 0.1),),
    )
    assert told.readings == (Reading("shim", 0.3),)
    assert told.changed == pytest.approx({"key_gap": 10.4, "reach": 17.25})
    assert moved == pytest.approx({"reach": 0.25})


@pytest.mark.parametrize("move", ["reach=-0.2", "reach=shorter 0.2", "shorter=0.2"])
def test_a_move_is_signed_or_has_a_direction_word(move: str) -> None:
    setup = opened(TrialCut(1, 1, FIRST, said("stuck")))
    told, moved = reported(Reader("mm"), setup, CutTyped(("slack",), move=(move,)))
    assert told.changed == pytest.approx({"reach": 16.8})
    assert moved == pytest.approx({"reach": -0.2})


def test_settings_and_directions_are_options_of_their_own() -> None:
    typed = CutTyped(("slack", "--shorter", "0.2", "--key-gap=10.4", "long", "--sideways", "1"))
    found = with_options(typed, JOINT)
    assert found.words == ("slack", "long", "--sideways", "1")
    assert (found.set, found.move) == (("key gap=10.4",), ("shorter=0.2",))


def test_a_setting_is_read_on_the_scale_of_its_part() -> None:
    """No machine knows a key: its scale is the truth."""
    at = table("corner", height_turn=1.6, height_zero=0.4, fence_zero=-2.0)
    setup = replace(opened(), plan=replace(PLAN, machine=at))
    told, _ = reported(Reader("mm"), setup, CutTyped(("slack",), set=("key-gap=10.4",)))
    assert told.changed == pytest.approx({"key_gap": 10.4})


@pytest.mark.parametrize(
    ("typed", "message", "hint"),
    [
        (CutTyped(("tight",)), 'the word "tight" is not known', "say it like: sliding, even"),
        (CutTyped(("play",)), 'the word "play" is not known', "of the play say sliding, stuck"),
        (CutTyped(("gap", "baseline")), '"baseline" is no place of a gap', "say gap split"),
        (CutTyped(("slightly", "stiff")), '"stiff" takes no "slightly"', "sliding, stuck"),
        (CutTyped(("stuck", "0.2")), '"stuck" takes no size', "say stuck without a number"),
        (CutTyped(("even", "0.2")), '"even" takes no size', "say short 0.2 or long 0.2"),
        (CutTyped(("long", "-0.2")), "is negative", "say short 0.2"),
        (CutTyped(("stuck", "slack")), 'both "stuck" and "slack"', "log what holds"),
        (CutTyped((), set=("bit_height=9",)), "is no setting of the invented", "key_gap, reach"),
        (CutTyped((), set=("reach=900",)), "the reach", "200"),
        (CutTyped((), set=("reach=9", "reach=8")), "the reach was given twice", "one move"),
        (CutTyped((), move=("up=1",)), "is no setting or direction", "wider, narrower"),
        (CutTyped((), move=("reach=1",)), "there is no last piece", "give the setting"),
        (CutTyped((), read=("mouth=9",)), '"mouth" is no reading of the invented', "shim"),
        (CutTyped((), read=("shim=3",)), "the shim", "anything on a test piece"),
    ],
)
def test_a_cut_that_cannot_be_is_refused(typed: CutTyped, message: str, hint: str) -> None:
    found = refusal(lambda: reported(Reader("mm"), opened(), typed))
    assert message in found.message and hint in found.message + found.hint


def test_the_same_piece_keeps_its_settings() -> None:
    setup = opened(TrialCut(1, 1, FIRST, said("stuck")))
    typed = CutTyped(("slack",), set=("reach=9",), later=True)
    assert refusal(lambda: reported(Reader("mm"), setup, typed)).code == "settings-on-same-piece"


def test_trial_cuts_go_out_to_a_table_and_come_in_again() -> None:
    table = Columns(speech_of(JOINT))
    cuts = (
        TrialCut(1, 1, FIRST, said("falling out 0.4, even, gap split"), (Reading("shim", 0.35),)),
        TrialCut(2, 2, set_to(9.6, 17.125), said("stuck, long 0.25"), note="=1+1", heard="stuck"),
    )
    rows = [csv_row(cut, opened(*cuts), False, table) for cut in cuts]
    heads = headers(table)
    assert heads[8:15] == [
        *("true key gap (mm)", "true reach (mm)", "play", "play size (mm)", "place"),
        *("place size (mm)", "faults"),
    ]
    assert all(len(row) == len(heads) for row in rows)
    assert {head for head in heads if table.meaning(head) is None} == {"entry"}
    text = "".join(csv_line(row) for row in (heads, *rows))
    assert len(list(csv.reader(text.splitlines()))) == 3
    lines, problems, _ = read_cuts(
        read_sheet(text.encode(), table), Table("mm", columns=table, now=NOW)
    )
    assert not problems
    for cut, line in zip(cuts, lines, strict=True):
        assert {name: length.mm for name, length in line.true.items()} == dict(cut.settings)
        assert (line.verdict, line.readings, line.note) == (cut.verdict, cut.readings, cut.note)


def test_a_table_of_ones_own_is_read_by_the_names_of_the_family() -> None:
    table = Columns(speech_of(JOINT))
    text = b"key gap;reach (in);said;shim\n9,5;0.7;slack 0.2;0,3\n9;0.7;tight;\n"
    lines, problems, _ = read_cuts(read_sheet(text, table), Table("mm", columns=table, now=NOW))
    assert [(p.line, p.message) for p in problems] == [(3, 'the word "tight" is not known')]
    assert lines[0].settings["key_gap"].mm == 9.5
    assert lines[0].settings["reach"].mm == pytest.approx(17.78)
    assert lines[0].verdict == said("slack 0.2") and lines[0].readings == (Reading("shim", 0.3),)
    found = refusal(lambda: read_sheet(b"height;fence\n1;2\n", table))
    assert found.code == "no-columns" and "date;key gap;reach;said;note" in found.hint


def test_what_is_found_at_the_machine_is_read_by_its_names() -> None:
    assert found_at(Reader("mm"), opened(), {}, ("reach=17.2",)) == pytest.approx({"reach": 17.2})
    nothing = refusal(lambda: found_at(Reader("mm"), opened(), {"--height": None}, ()))
    assert nothing.code == "nothing-said"
    other = refusal(lambda: found_at(Reader("mm"), opened(), {"--height": "9"}, ()))
    assert '"--height" is no setting of the invented pegs' in other.message


def test_a_slip_of_any_setting_is_doubted_and_put_right() -> None:
    told = Reported(said("slack"), changed={"reach": 171.5, "key_gap": 10.2})
    (doubt,) = cut_doubts(Place(PLAN, FIRST, None, Ruler("mm")), told)
    assert doubt.refusal.code == "far-setting" and "a reach of 171.5 mm" in doubt.refusal.message
    assert doubt.meant == "17.15 mm"
    assert mended(told, doubt).changed == pytest.approx({"reach": 17.15, "key_gap": 10.2})


def test_boards_are_doubted_for_any_family(session: Session) -> None:
    typed = StartTyped(BOARDS, joint=JOINT, boards=BoardsTyped(width="18", thickness="140"))
    wanted, _ = wanted_of(session, typed, None)
    (doubt,) = start_doubts(wanted, Ruler("mm"))
    assert doubt.refusal.code == "swapped-sizes"
    assert put_right(wanted, doubt).boards()[:2] == (140.0, 18.0)
    good = replace(wanted, figures={"spacing": 30.0})
    assert list(start_doubts(good, Ruler("mm"))) == []
