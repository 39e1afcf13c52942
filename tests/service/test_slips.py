"""Lapses of the hand: what no shop would mean is asked or refused with its likely meaning, what is
only unlikely is logged.

Facts of the trade (how far off a fence or a step is, which bits are sold): common practice, no
source.
"""

from __future__ import annotations

import random
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pane import CENTRE, FIT, SEAT, Pane
from shop import BIT, Shop, by_code

from fitlog.domain import Bit, Stock, Verdict
from fitlog.families.half_blind.names import HALF_BLIND, set_to
from fitlog.families.half_blind.plan import DovetailPlan
from fitlog.fronts.bench import Deed, Stand, View, press
from fitlog.fronts.cli.joined import joined
from fitlog.language.doubts import likely, transposed
from fitlog.language.units import MM_PER_INCH, Ruler
from fitlog.service.asked import Reported
from fitlog.service.slips import Place, cut_doubts

LIFT = {"height-turn": "1.6", "fence-step": "0.05"}
posix = [
    pytest.mark.skipif(sys.platform == "win32", reason="a pseudo-terminal of POSIX"),
    pytest.mark.filterwarnings("ignore:.*multi-threaded.*:DeprecationWarning"),  # pexpect forks
]


@pytest.fixture
def tuning(shop: Shop) -> Shop:
    """A set-up before its first piece: height 11.5, fence 75.2, depth about 11.9 mm advised."""
    return shop.started(machine=LIFT)


@pytest.fixture
def second(tuning: Shop) -> Shop:
    """The same before its second piece."""
    tuning.words("cut tight, gap far 0.5, proud 0.5")
    return tuning


def advised(shop: Shop) -> Any:
    return shop.json("next")["settings"]


def refusal(shop: Shop, line: str, code: int = 1) -> dict[str, str]:
    """The error of a line that stores nothing, however often it is typed."""
    before = shop.entries()
    first, again = (shop.json(line, code=code)["error"] for _ in range(2))
    assert first == again and shop.entries() == before, "typing a line again is no consent"
    return dict(first)


# --- settings -------------------------------------------------------------------------------------


def test_a_height_with_a_slipped_point_is_refused_with_its_meaning_and_settles_nothing(
    tuning: Shop,
) -> None:
    height = advised(tuning)["bit_height"]
    error = refusal(tuning, f"cut good --height {height / 10:g}")
    assert (
        error["code"] == "far-setting"
        and f"did you mean {height:g} mm?" in error["hint"]
        and "--yes" in error["hint"]
    )
    assert tuning.json("next")["pieces"] == 0
    assert (
        tuning.json(f"cut good --height {height / 10:g} --yes")["last"]["settings"]["bit_height"]
        == height / 10
    )


def swapped(value: float) -> str:
    """A number with its first two digits swapped."""
    text = f"{value:g}"
    return text[1] + text[0] + text[2:]


@pytest.mark.parametrize(
    ("option", "setting", "slip"),
    [
        ("--height", "bit_height", lambda v: f"{v / MM_PER_INCH:.3f}"),
        ("--fence", "fence_offset", swapped),
        ("--depth", "socket_depth", lambda v: f"{v / 10:.3f}"),
        ("--depth", "socket_depth", lambda v: f"{v / MM_PER_INCH:.3f}"),
        ("--height", "bit_height", lambda v: f"{v * 10:g}"),
        ("--fence", "fence_offset", lambda v: f"{v / MM_PER_INCH:.3f}"),
        ("--fence", "fence_offset", lambda v: f"{v * 10:g}"),
    ],
)
def test_every_setting_names_what_was_likely_meant(
    second: Shop, option: str, setting: str, slip: Any
) -> None:
    right = advised(second)[setting]
    typed = slip(right)
    error = refusal(second, f"cut good {option} {typed}")
    meant = error["hint"].removeprefix("did you mean ").partition("?")[0]
    value = float(meant.split()[0]) * (MM_PER_INCH if meant.endswith("in") else 1.0)
    assert value == pytest.approx(right, abs=1.0), error


def test_a_setting_far_from_all_that_speaks_for_one_is_refused_without_a_slip_too(
    second: Shop,
) -> None:
    now = advised(second)
    assert (
        refusal(second, f"cut good --depth {now['socket_depth'] + 3.9:.2f}")["code"]
        == "far-setting"
    )
    assert (
        refusal(second, f"cut good --height {now['bit_height'] - 4.1:.2f}")["code"] == "far-setting"
    )
    second.words(
        f"cut good --fence {now['fence_offset'] - 3.9:.2f}"
    )  # a fence's zero may be off by so much


def test_a_move_a_hundred_times_hand_wide_is_asked_in_moves(second: Shop) -> None:
    """Ten times the move that was advised: the meaning is told as a move."""
    move = second.json("next")["moves"]["socket_depth"]
    way = "deeper" if move > 0 else "shallower"
    error = refusal(second, f"cut good --{way} {abs(move) * 10:.2f}")
    assert error["code"] == "far-setting" and f"{way} {abs(move):.2f} mm" in error["hint"]


def test_what_is_plausible_is_logged_without_hindrance(tuning: Shop) -> None:
    """A fence or a stop that is off by millimetres is common, and so is following it."""
    now = advised(tuning)
    tuning.words("cut loose 1, gap far 5, proud 4.5")
    cut = {"fence_offset": now["fence_offset"] - 2.5, "socket_depth": now["socket_depth"] + 4.5}
    tuning.words(
        f"cut good, proud 2.5, gap near 3 --fence {cut['fence_offset']:.2f} --depth "
        f"{cut['socket_depth']:.2f}"
    )
    tuning.words("cut good --deeper 2.4 --out 1.5 --up 0.4")
    assert tuning.json("next")["pieces"] == 3


def test_a_height_in_inches_for_one_in_mm_by_somebody_who_prefers_fractions(tuning: Shop) -> None:
    tuning.words("prefer --units fraction")
    height = advised(tuning)["bit_height"]
    assert (
        f"did you mean {height:g} mm?" in refusal(tuning, f"cut good --height {height:g}")["hint"]
    )
    error = refusal(tuning, "cut proud 0.3")
    assert error["code"] == "far-step" and "did you mean 12 thou?" in error["hint"]  # 0.3 mm


# --- words and readings ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "code", "meant"),
    [
        ("cut good 5", "word-and-gap", "0.5 mm"),
        ("cut slightly tight 4", "word-and-gap", "0.4 mm"),
        ("cut loose 1/10in", "word-and-gap", "0.1 mm"),
        ("cut proud 3/10", "far-step", "0.3 mm"),
        ("cut shy 8", "far-step", "0.8 mm"),
        ("cut good --pull-gap 5", "word-and-gap", "0.5 mm"),
        ("cut good --walls 69.2 6.89", "odd-reading", "68.9 mm far"),
        ("cut good --walls 692 68.9", "beyond", ""),
    ],
)
def test_a_size_that_its_word_cannot_have_is_refused(
    tuning: Shop, line: str, code: str, meant: str
) -> None:
    error = refusal(tuning, line)
    if code == "beyond":
        assert error["code"] == "absurd-size"
        return
    assert (
        error["code"] == code
        and ("did you mean" in error["hint"])
        and (meant in error["hint"] or line.endswith("1/10in"))
    )


def test_a_mouth_ten_times_too_wide_is_refused_and_one_that_is_only_strange_is_logged(
    tuning: Shop,
) -> None:
    assert refusal(tuning, "cut good --mouth 94.6")["code"] == "odd-reading"
    tuning.words("cut --mouth 5.1")
    assert tuning.json("next")["pieces"] == 1


def test_a_gap_a_little_past_its_word_is_only_noted(tuning: Shop) -> None:
    """Common: the number is trusted less, and the note says so; a gap at the edge of the word says
    nothing at all.
    """
    noted = by_code(tuning.json("cut good 0.9")["notices"])
    assert "word-and-number" in noted
    assert "word-and-number" not in by_code(tuning.json("cut good 0.3")["notices"])


# --- moves of the lift ----------------------------------------------------------------------------


def test_a_bare_fraction_at_a_lift_that_counts_turns_is_never_guessed(second: Shop) -> None:
    error = refusal(second, "cut tight --down 1/8", code=2)
    assert error["code"] == "turn-or-inch" and "1/8turn or 1/8in" in error["hint"]
    assert "0.2 mm" in error["message"] and "3.17 mm" in error["message"]
    refusal(second, "cut tight --down 1/8 --yes", code=2)  # yes does not say which
    before = second.json("next")["last"]["settings"]["bit_height"]
    assert second.json("cut tight --down 0.2")["last"]["settings"]["bit_height"] == pytest.approx(
        before - 0.2
    )


def test_without_turns_a_bare_fraction_is_inches(shop: Shop) -> None:
    shop.started("--height 9", machine={"fence-step": "0.05"})
    shop.words("cut tight")
    assert shop.json("cut tight --down 1/64")["last"]["settings"]["bit_height"] == pytest.approx(
        9 - 25.4 / 64, abs=1e-4
    )


@pytest.mark.parametrize(
    ("line", "mm"),
    [
        ("cut tight --down 1/8 turn", 0.2),
        ("cut tight, --down 1/8 turn, proud 0.2", 0.2),
        ("cut --down 1/8 turn tight", 0.2),
        ("cut tight --down 1/128 in", 25.4 / 128),
        ("cut tight --down 0.2 mm", 0.2),
        ("cut tight --down=1/8 turn", 0.2),
        ("cut tight --down 1 1/8 turns --yes", 1.8),
    ],
)
def test_a_length_may_be_several_words(second: Shop, line: str, mm: float) -> None:
    before = second.json("next")["last"]["settings"]["bit_height"]
    last = second.json(line)["last"]
    assert before - last["settings"]["bit_height"] == pytest.approx(mm, abs=1e-4)
    assert last["said"]["fit"] == "tight"


def test_the_unit_behind_a_move_is_not_taken_for_that_of_a_size_before_it(second: Shop) -> None:
    """Said so far: a gap of 0.2 in, silently."""
    assert second.json("cut good 0.2 --down 1/128 in")["last"]["said"]["fit"] == "good 0.20"
    assert joined(["cut", "in", "--in", "0.2", "mm,", "tight"]) == [
        "cut",
        "in",
        "--in",
        "0.2 mm",
        "tight",
    ]
    assert joined(["--down"]) == ["--down"] and joined(["--up", "-x", "turn"]) == [
        "--up",
        "-x",
        "turn",
    ]


# --- said twice, said otherwise -------------------------------------------------------------------


def test_another_word_on_the_same_piece_is_pointed_out(tuning: Shop) -> None:
    tuning.words("cut slightly loose, proud 0.2")
    document = tuning.json("cut --same-piece tight")
    told = by_code(document["notices"])["word-replaced"]
    assert (
        '"tight" now stands for piece 1 instead of "slightly loose"' in told
        and "fitlog undo" in told
    )
    assert [n["aspect"] for n in document["notices"] if n["code"] == "word-replaced"] == ["fit"]
    assert '"tight" now stands for piece 1' in tuning.words("next").out
    assert "word-replaced" not in by_code(tuning.json("cut --same-piece gap far 0.2")["notices"])


def test_a_number_added_to_its_word_replaces_nothing_but_another_number_does(tuning: Shop) -> None:
    tuning.words("cut good, proud")
    assert "word-replaced" not in by_code(tuning.json("cut --same-piece proud 0.3")["notices"])
    told = by_code(tuning.json("cut --same-piece proud 0.4")["notices"])["word-replaced"]
    assert '"proud 0.40 mm"' in told and '"proud 0.30 mm"' in told


def test_the_same_piece_logged_twice_is_logged_and_asked_about(tuning: Shop) -> None:
    tuning.words("cut tight, proud 0.5")
    document = tuning.json("cut tight, proud 0.5")
    assert document["pieces"] == 2
    told = by_code(document["notices"])["piece-twice"]
    assert (
        told.startswith("Piece 2 says the same as piece 1, ")
        and "`fitlog undo` takes it back" in told
    )
    assert "second" in told
    assert "piece-twice" not in by_code(tuning.json("undo")["notices"])
    assert "piece-twice" not in by_code(tuning.json("cut tight, proud 0.4")["notices"])


# --- start ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "code", "meant"),
    [
        ("--width 13.5", "odd-size", "135 mm"),
        ("--width 30", "odd-size", "300 mm"),
        ("--width 6", "absurd-size", "6 in"),
        ("--width 17 --thickness 150", "swapped-sizes", "150 mm wide and 17 mm thick"),
        ("--thickness 1.8", "odd-size", "18 mm"),
        ("--thickness 0.67", "absurd-size", "0.67 in"),
        ("--thickness 170", "odd-size", "17 mm"),
        ("--pin-thickness 1.7", "odd-size", "17 mm"),
        ("--pitch 227", "absurd-size", "22.7 mm"),
        ("--width 1500", "odd-size", "150 mm"),
        ("--proud 3", "odd-size", "0.3 mm"),
        ("--height 1.15", "odd-size", "11.5 mm"),
    ],
)
def test_no_set_up_opens_on_boards_that_no_shop_has(
    shop: Shop, line: str, code: str, meant: str
) -> None:
    error = refusal(shop.stocked(), f"start {line}")
    assert error["code"] == code and f"did you mean {meant}" in error["hint"], error
    shop.words("start")  # nothing was opened


def test_a_narrow_board_can_be_insisted_on_and_a_usual_one_is_not_asked_about(shop: Shop) -> None:
    shop.stocked().words("start --width 34 --only fit,seat --yes")
    shop.words("finish --abandon")
    shop.words("start --width 60 --thickness 12 --pin-thickness 19 --only fit,seat")


# --- bits and stocks ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "meant"),
    [
        ("bit add reed --diameter 0.75 --angle 14 --cutting-length 14", "0.75 in"),
        ("bit add reed --diameter 127 --angle 14 --cutting-length 14", "12.7 mm"),
        ("bit add reed --diameter 60 --angle 14 --cutting-length 14", "6 mm"),
        (
            "bit add reed --diameter 8 --angle 12.7 --cutting-length 14",
            "a diameter of 12.7 mm and an angle of 8 deg",
        ),
        (
            "bit add reed --diameter 6 --angle 7 --cutting-length 14",
            "a diameter of 14 mm and a cutting length of 6 mm",
        ),
        ("bit add reed --diameter 12.7 --angle 1.4 --cutting-length 14", "14 deg"),
        ("stock add yew --species yew --thickness 50 --width 15", "50 mm wide and 15 mm thick"),
        ("stock add yew --species yew --thickness 18 --width 1200", "120 mm"),
        ("bit edit marsh --diameter 60 --correction", "6 mm"),
    ],
)
def test_no_bit_or_stock_is_added_that_no_shop_has(shop: Shop, line: str, meant: str) -> None:
    shop.stocked()
    assert f"did you mean {meant}?" in refusal(shop, line)["hint"]


def test_an_odd_bit_can_be_insisted_on(shop: Shop) -> None:
    assert (
        shop.json("bit add reed --diameter 60 --angle 14 --cutting-length 14 --yes")["bit"][
            "diameter"
        ]
        == 60
    )


# --- edits ----------------------------------------------------------------------------------------


@pytest.fixture
def taught(shop: Shop) -> Shop:
    """A shop that finished three set-ups alike."""
    return shop.built(_teach)


def _teach(shop: Shop) -> None:
    shop.stocked(machine=LIFT)
    for _ in range(3):
        shop.words("start --pitch 22.6")
        shop.words("cut good 0.3, centred, flush")
        shop.words("finish")


@pytest.mark.parametrize(("option", "value"), [("diameter", "13.3"), ("angle", "14")])
def test_an_edit_of_a_bit_that_set_ups_used_says_what_it_does_before_it_does(
    taught: Shop, option: str, value: str
) -> None:
    """The two heights told are those that a set-up like the last one would start at, before and
    after.
    """
    before = taught.json("start --pitch 22.6")["settings"]["bit_height"]
    taught.words("undo --yes")
    error = refusal(taught, f"bit edit marsh --{option} {value}")
    assert error["code"] == "history-changes" and "3 set-ups" in error["message"]
    assert "--correction" in error["hint"] and "fitlog bit add" in error["hint"]
    after, told = (
        float(part.split(" mm")[0])
        for part in error["message"].split("bit height of ")[1].split(" instead of ")
    )
    assert told == pytest.approx(before, abs=0.06)
    assert taught.json(f"bit edit marsh --{option} {value} --correction")["bit"][option] == float(
        value
    )
    now = taught.json("start --pitch 22.6", code=None)
    assert "error" in now or now["settings"]["bit_height"] == pytest.approx(after, abs=0.06)


def test_an_edit_that_changes_no_figure_or_of_a_bit_that_nothing_was_cut_with_is_not_asked_about(
    taught: Shop,
) -> None:
    taught.words("bit edit marsh --diameter 13.1 --measured")
    taught.words("bit edit marsh --name fen")
    taught.run("bit", "add", "spare", *BIT)
    taught.words("bit edit spare --diameter 13.4 --angle 10")


def test_another_zero_of_a_scale_says_what_moves(taught: Shop) -> None:
    first = taught.json("start --pitch 22.6")["settings"]["bit_height"]
    taught.words("cut good")
    error = refusal(taught, "machine edit bench --height-zero 0.5")
    assert error["code"] == "history-changes" and "set-up 4, which is open, too" in error["message"]
    assert (
        f"the bit height of set-up 4 is {first + 0.5:.2f} mm instead of {first:.2f} mm"
        in error["message"]
    )
    taught.words("machine edit bench --height-zero 0.5 --yes")
    assert (
        taught.json("next")["last"]["settings"]["bit_height"] == first
    )  # the open one keeps its own
    taught.words("finish --abandon")
    assert taught.json("start --pitch 22.6")["settings"]["bit_height"] == pytest.approx(
        first + 0.5, abs=0.011
    )
    taught.words("machine edit bench --fence-step 0.1")


# --- a table --------------------------------------------------------------------------------------


def test_a_doubtful_line_of_a_table_is_listed_skipped_or_taken(
    tuning: Shop, tmp_path: Path
) -> None:
    now = advised(tuning)
    table = tmp_path / "cuts.csv"
    table.write_text(
        f"height;said\n{now['bit_height']:.2f};tight\n{now['bit_height'] / 10:.3f};good\n;good 5\n"
    )
    before = tuning.everything()
    told = tuning.json(f"log import {table} --setup 1", code=1)
    assert [p["line"] for p in told["problems"]] == [3, 4] and tuning.everything() == before
    assert "did you mean" in told["problems"][0]["hint"] and "--yes" in told["problems"][0]["hint"]
    assert tuning.json(f"log import {table} --setup 1 --skip-bad --dry-run")["cuts"] == [
        {
            "line": 2,
            "piece": 1,
            "said": {"fit": "tight", "centre": None, "seat": None, "faults": []},
        }
    ]
    assert tuning.json(f"log import {table} --setup 1 --yes")["logged"] == 3


# --- asked on a terminal --------------------------------------------------------------------------


class TestOnATerminal:
    """Real pseudo-terminals: a question, and what its answers do."""

    pytestmark = posix

    @pytest.mark.parametrize(
        ("answers", "code", "height"),
        [
            (["y"], 0, 1.0),
            (["n", "y"], 0, 0.1),
            pytest.param(["n", "n"], 1, None, marks=pytest.mark.long),
            (["", ""], 1, None),
        ],
    )
    def test_the_meaning_is_offered_first(
        self, tuning: Shop, answers: list[str], code: int, height: float | None
    ) -> None:
        now = advised(tuning)["bit_height"]
        with Pane(tuning, "cut", "good", "--height", f"{now / 10:g}", columns=200) as pane:
            pane.until(f"Did you mean {now:g} mm? [y/N]:")
            for answer in answers:
                pane.press(answer + "\r", "Take it as typed?" if answer != "y" else "")
            assert pane.ended() == code, pane.text
        last = tuning.json("next")["last"]
        assert (last is None) == (height is None)
        assert height is None or last["settings"]["bit_height"] == pytest.approx(now * height)

    def test_a_bare_fraction_is_asked_about(self, second: Shop) -> None:
        before = second.json("next")["last"]["settings"]["bit_height"]
        with Pane(second, "cut", "tight", "--down", "1/8", columns=200) as pane:
            pane.until("Did you mean 1/8 turn (0.2 mm)? [y/N]:").press("y\r", "Piece 2: tight.")
            assert pane.ended() == 0
        assert before - second.json("next")["last"]["settings"]["bit_height"] == pytest.approx(0.2)

    def test_an_edit_is_asked_about(self, taught: Shop) -> None:
        with Pane(taught, "bit", "edit", "marsh", "--angle", "14", columns=200) as pane:
            pane.until("only the figure was wrong? [y/N]:").press(
                "n\r", "another cutter is a new bit"
            )
            assert pane.ended() == 1
        assert taught.json("bit show marsh")["bit"]["angle"] == 9

    def test_json_asks_nobody(self, tuning: Shop) -> None:
        with Pane(tuning, "cut", "good", "5", "--json", columns=200) as pane:
            assert pane.ended() == 1
            assert "word-and-gap" in pane.text

    def test_bench_asks_in_its_line_and_only_another_key_confirms(self, tuning: Shop) -> None:
        now = advised(tuning)["bit_height"]
        with Pane(tuning) as pane:
            pane.until("to cut: piece 1").press("h", "bit height as set")
            pane.press(f"{now / 10:g}\r", f"Did you mean {now:g} mm?").press(
                "\r", "y takes it as typed"
            ).take(1.0)
            assert "as really set" not in pane.text and f"Did you mean {now:g} mm?" in pane.flat
            pane.press("y", "as really set").press(" ", FIT)
        assert tuning.json("next")["last"]["settings"]["bit_height"] == pytest.approx(now / 10)

    def test_bench_doubts_a_number_and_a_setting_passes_the_checks_when_it_is_typed(
        self, tuning: Shop
    ) -> None:
        fence = advised(tuning)["fence_offset"]
        with Pane(tuning) as pane:
            pane.until("to cut: piece 1").press("x", "fence offset as set")
            pane.press(f"{fence + 6.55:.2f}\r", "edge of the tip").press("\x1b", "Dropped").press(
                " ", FIT
            )
            pane.press("4", SEAT).press("m", "pull-apart gap").press("5\r", "Did you mean 0.5 mm?")
            pane.press("\x7f0.5\r", 'logged: "good 0.5"').press("4", CENTRE)
        assert tuning.json("next")["last"]["said"]["fit"] == "good 0.50"
        assert tuning.json("next")["last"]["settings"]["fence_offset"] == fence


# --- the slips themselves -------------------------------------------------------------------------


@given(
    st.integers(300, 15000),
    st.sampled_from([0.1, 10.0, MM_PER_INCH, 1 / MM_PER_INCH]),
    st.sampled_from(["mm", "inch"]),
)
def test_a_slipped_point_or_unit_is_found_again(hundredths: int, factor: float, units: str) -> None:
    right = hundredths / 100
    found = likely(right * factor, [right], Ruler(units))
    if units == "inch" and factor == 1 / MM_PER_INCH:
        return  # nobody who thinks in inches types mm for them by dividing
    assert found is not None and found[0] == pytest.approx(right)


@given(
    st.integers(1000, 99999).filter(lambda n: n % 10 and (n < 10000 or n // 1000 % 10))
)  # no digit of it gets lost
def test_swapped_digits_come_back_by_swapping(thousandths: int) -> None:
    value = thousandths / 1000
    ways = list(transposed(value, Ruler("mm")))
    assert len(set(ways)) == len(ways) and value not in ways
    for way in ways:
        assert any(abs(back - value) < 1e-9 for back in transposed(way, Ruler("mm")))


def test_only_y_confirms_what_is_doubted() -> None:
    asked = Deed("setting", "bit_height", "1.35")
    view = View(
        HALF_BLIND,
        Stand("settings", 1),
        mode="typing",
        field="bit_height",
        typed="1.35",
        line="Did you mean ...?",
        asked=asked,
    )
    assert press(view, "y")[1] == replace(asked, meant=True)
    again, deed = press(view, "\r")
    assert deed == asked and again.asked is None  # the same question comes again
    mended, deed = press(view, "\x7f")
    assert deed is None and (mended.typed, mended.asked, mended.line) == ("1.3", None, "")
    assert press(replace(view, asked=None), "y")[0].typed == "1.35y"


def test_settings_near_those_advised_are_hardly_ever_doubted() -> None:
    """6000 settings to a hundredth, 0.5 mm (sd) about those advised: 0.3 % are asked about (19);
    bound 1 %, seed fixed.

    A caliper's hundredths, so that swapped digits could come by chance.
    """
    bit, stock = Bit("marsh", 13.1, 9, 14), Stock("elm", "elm (invented)", 17, 150)
    plan = DovetailPlan(
        bit,
        stock,
        stock,
        None,
        pitch=22.7,
        board_width=150,
        tail_thickness=17,
        pin_thickness=17,
        rabbet_depth=6.55,
    )
    draw, doubted = random.Random(7), 0
    for _ in range(2000):
        advised = set_to(
            round(draw.uniform(8, 12), 2),
            round(draw.uniform(74, 77), 2),
            round(draw.uniform(9, 12), 2),
        )
        at = Place(plan, advised, None, Ruler("mm"))
        for name in ("bit_height", "fence_offset", "socket_depth"):
            typed = round(advised[name] + draw.gauss(0, 0.5), 2)
            doubted += any(cut_doubts(at, Reported(Verdict(), changed={name: typed})))
    assert doubted <= 60, doubted
