"""Boards that are not equally dry: what `start` says of them, and how moisture is told to the
catalogue.

The figures are independent arithmetic with Wood Handbook (FPL-GTR-190, 2010) equation 13-2 and
table 13-5 (status of the coefficients used: read); the accuracy of a meter is common practice, no
source.
"""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing
from typing import Any

import pytest
from building import in_words, make_plan
from hypothesis import assume, given
from hypothesis import strategies as st
from shop import Shop, by_code

from fitlog.domain import Stock
from fitlog.families.half_blind.moisture import plan_remarks
from fitlog.families.moisture import Board, moisture_remarks, scrap_remarks, swelling
from fitlog.families.telling import say
from fitlog.language.units import Ruler

MAPLE, OAK = "hard maple", "red oak"  # flat-sawn 0.00353 and 0.00369 per 1 % (table 13-5, read)
WIDTH, PITCH, PLAY = 150.0, 22.6, 0.07
SPAN = WIDTH - PITCH
CODES = {"moisture-boards", "moisture-scrap"}


def boards(
    tail: float | None,
    pin: float | None,
    *,
    play: float = PLAY,
    ruler: Ruler | None = None,
    pins: str = MAPLE,
) -> str:
    """What is said of a flat-sawn maple tail board and a flat-sawn pin board; "" when
    nothing is.
    """
    said = moisture_remarks(Board(MAPLE, "flat", tail), Board(pins, "flat", pin), WIDTH, SPAN, play)
    assert {remark.code for remark in said} <= {"moisture-boards"} and len(said) <= 1
    return say(said[0], ruler or Ruler()) if said else ""


def lengths(text: str) -> list[float]:
    """Every length in mm that a remark names."""
    return [float(number) for number in re.findall(r"([0-9.]+) mm", text)]


# --- two boards -----------------------------------------------------------------------------------


def test_one_per_cent_is_half_a_millimetre_of_creep() -> None:
    """150 x 0.00353 x 1 = 0.53 mm, and 127.4 x 0.00353 = 0.45 between the outer tails."""
    assert lengths(boards(10, 9)) == [0.53, 150, 0.45, 0.07]
    assert "0.021 in apart" in boards(10, 9, ruler=Ruler("inch"))  # 0.53 / 25.4
    assert "21 thou apart" in boards(10, 9, ruler=Ruler("fraction"))  # 0.0208 in = 15.6 + 5.2 thou


def test_two_species_go_each_its_own_way_to_the_mean() -> None:
    """150 x (0.00353 x 1 + 0.00369 x 1) = 1.08 mm for boards 2 % apart."""
    assert lengths(boards(8, 10, pins=OAK))[0] == 1.08


def test_it_matters_from_the_joints_play_on() -> None:
    """Over 127.4 mm of maple the play of 0.07 mm is reached at 0.1556 %; 0.115 mm at 0.2557 %."""
    assert boards(9.15, 9.0) == "" and boards(9.16, 9.0) != ""
    assert boards(9.25, 9.0, play=0.115) == "" and boards(9.26, 9.0, play=0.115) != ""


def test_what_the_numbers_are_worth_is_said() -> None:
    assert "may be theirs alone" in boards(10.4, 9) and "may be theirs alone" not in boards(
        10.5, 9
    )  # sqrt(2) x 1 %
    assert "rough" in boards(5, 9) and "rough" in boards(10, 15) and "rough" not in boards(6, 14)
    assert "Taken" not in boards(12, 9)
    said = in_words(
        moisture_remarks(
            Board("oak", "", 12), Board("teak (invented)", "flat", 9), WIDTH, SPAN, PLAY
        )[0]
    )
    assert all(part in said for part in ("red oak", "flat-sawn", "typical"))


@pytest.mark.parametrize(("tail", "pin"), [(None, 9), (9, None), (None, None), (9, 9), (12, 12)])
def test_alike_or_unknown_says_nothing(tail: float | None, pin: float | None) -> None:
    assert boards(tail, pin) == ""


def test_below_a_tenth_of_a_per_cent_no_reading_tells_boards_apart() -> None:
    """Over 1.9 m of maple 0.09 % would be 0.60 mm and 0.11 % 0.74 mm."""

    def said(tail: float) -> list[float]:
        found = moisture_remarks(
            Board(MAPLE, "flat", tail), Board(MAPLE, "flat", 9), 2000, 1900, PLAY
        )
        return lengths("".join(in_words(remark) for remark in found))

    assert said(9.09) == [] and said(9.11) == [0.78, 2000, 0.74, 0.07]


def test_sheet_goods_are_not_compared() -> None:
    assert boards(9, 6, pins="mdf") == ""
    assert not scrap_remarks(
        Board(MAPLE, "flat", 12), Board("plywood", "", 6), WIDTH, PITCH, 0.03, "fit"
    )


@given(one=st.floats(1, 40), other=st.floats(1, 40), both=st.floats(-5, 5))
def test_only_the_difference_counts(one: float, other: float, both: float) -> None:
    """The creep is the same whichever board is the wetter, and when both are wetter by as much."""
    assume(1 <= one + both <= 40 and 1 <= other + both <= 40)
    assume(
        abs(abs(one - other) - 0.1556) > 0.001
    )  # there rounding decides whether anything is said
    assert lengths(boards(one, other)) == lengths(boards(other, one))
    shifted = lengths(boards(one + both, other + both))
    assert shifted == pytest.approx(
        lengths(boards(one, other)), abs=0.0101
    )  # rounded to 0.01 in the text


# --- scrap ----------------------------------------------------------------------------------------


def test_scrap_of_another_moisture_says_less() -> None:
    """22.6 x 0.00353 x 3 = 0.24 mm a tail; 150 x 0.00353 x 3 = 1.59 over the width."""
    said = scrap_remarks(Board(MAPLE, "flat", 12), Board("", "", 9), WIDTH, PITCH, 0.03, "fit")
    assert [r.code for r in said] == ["moisture-scrap"] and lengths(in_words(said[0])) == [
        0.24,
        1.59,
        150,
    ]
    assert "same batch" in in_words(said[0])


def test_scrap_matters_from_half_a_window_a_tail_on() -> None:
    """22.6 x 0.00353 x dM = 0.03 mm at 0.376 %."""

    def told(scrap: float | None) -> bool:
        return bool(
            scrap_remarks(Board(MAPLE, "flat", 9), Board("", "", scrap), WIDTH, PITCH, 0.03, "fit")
        )

    assert told(9.38) and told(8.62) and not told(9.37) and not told(8.63) and not told(None)


# --- a plan ---------------------------------------------------------------------------------------


def test_a_plan_knows_its_span_and_its_play() -> None:
    stock = Stock("invented", MAPLE, 17.0, 150.0, sawn="flat")
    plan: dict[str, Any] = {
        "stock": stock,
        "pin_stock": stock,
        "moisture": 10.0,
        "pin_moisture": 9.0,
    }
    assert lengths(in_words(plan_remarks(make_plan(**plan))[0])) == [0.53, 150, 0.45, 0.07]
    assert lengths(in_words(plan_remarks(make_plan(**plan, many_tails=True))[0]))[
        3
    ] == pytest.approx(0.115, abs=0.0051)
    three = in_words(plan_remarks(make_plan(**plan, tails=3))[0])
    assert lengths(three)[2] == 0.16  # 2 x 22.6 x 0.00353
    assert not plan_remarks(make_plan(**plan, tails=1))  # one tail has no neighbour to creep from
    assert {r.code for r in plan_remarks(make_plan(**plan, scrap_moisture=14.0))} == CODES
    assert {
        r.code for r in plan_remarks(make_plan(**plan, scrap_moisture=14.0, in_play=("centre",)))
    } == {"moisture-boards"}


# --- the catalogue --------------------------------------------------------------------------------


def stock_of(shop: Shop, options: str) -> dict[str, object]:
    found: dict[str, object] = shop.json(f"stock edit elm {options}")["stock"]
    return {name: found[name] for name in ("moisture", "temperature", "humidity", "sawn")}


NOTHING = {"moisture": None, "temperature": None, "humidity": None, "sawn": None}


def test_who_gives_none_sees_none(shop: Shop) -> None:
    out = shop.stocked().words("stock list").out
    assert out.splitlines()[0].split() == ["stock", "species", "thickness", "width"]
    assert not set(NOTHING) - set(shop.json("stock list")["stocks"][0])
    assert shop.json("stock show elm")["stock"].items() >= NOTHING.items()


@pytest.mark.parametrize(
    "text", ["9.5", "9,5", "9.5%", "9,5 %", "9.50 per cent", "+9.5", " 9.5 PCT "]
)
def test_percents_as_they_are_written(shop: Shop, text: str) -> None:
    shop.stocked().run("stock", "edit", "elm", "--moisture", text)
    assert shop.json("stock show elm")["stock"]["moisture"] == 9.5


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("21", 21),
        ("21C", 21),
        ("21 c", 21),
        ("21 \u00b0C", 21),
        ("21 deg", 21),
        ("70F", 21.11),
        ("70 deg F", 21.11),
        ("23f", -5),
        ("-5", -5),
        ("20,5 Celsius", 20.5),
    ],
)
def test_temperatures_as_they_are_written(shop: Shop, text: str, celsius: float) -> None:
    """70 deg F = 21.11 deg C (NIST SP 811, B.9: (F - 32) / 1.8)."""
    shop.stocked().run("stock", "edit", "elm", "--temperature", text, "--humidity", "50")
    assert shop.json("stock show elm")["stock"]["temperature"] == celsius


def test_what_is_known_is_shown_and_can_be_cleared(shop: Shop) -> None:
    shop.stocked()
    known = stock_of(shop, "--moisture 9% --temperature 70F --humidity 50% --sawn Quarter")
    assert known == {"moisture": 9.0, "temperature": 21.11, "humidity": 50.0, "sawn": "quarter"}
    shop.run(
        "stock", "add", "oak", "--species", "oak (invented)", "--thickness", "17", "--width", "150"
    )
    out = shop.words("stock list").out
    assert "9%" in out and "9.2% (21C, 50%)" in out and "quarter" in out  # 9.2: table 4-2, read
    assert re.search(r"^oak .* - +- +-$", out, re.M)
    shop.words("prefer --units inch")
    assert "9.2% (70F, 50%)" in shop.words("stock show elm").out
    assert stock_of(shop, "--moisture none --sawn none") == {
        **known,
        "moisture": None,
        "sawn": None,
    }
    assert stock_of(shop, "--humidity none") == NOTHING  # which clears the temperature with it
    assert shop.words("stock list").out.splitlines()[0].split() == [
        "stock",
        "species",
        "thickness",
        "width",
    ]
    shop.refused("stock", "edit", "elm", code=2)


@pytest.mark.parametrize(
    ("options", "code", "part"),
    [
        ("--moisture wet", 2, "8.5%"),
        ("--moisture 9mm", 2, "9mm"),
        ("--moisture nan", 2, "nan"),
        ("--moisture 1e1", 2, "1e1"),
        ("--moisture 90", 1, "1 to 40"),
        ("--moisture 0.12", 1, "1 to 40"),
        ("--moisture -3", 1, "1 to 40"),
        ("--temperature 70K --humidity 50", 2, "70F"),
        ("--temperature 70 --humidity 50", 1, "70F?"),
        ("--temperature 20", 1, "together"),
        ("--humidity 50", 1, "together"),
        ("--sawn rift", 2, "flat, quarter"),
        ("--humidity 100 --temperature 20", 1, "1 to 99"),
        ("--temperature 500F --humidity 50", 1, "-20 to 60"),
        ("--moisture " + "9" * 400, 2, "999..."),
        ("--temperature " + "9" * 400 + " --humidity 50", 2, "999..."),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(
    shop: Shop, options: str, code: int, part: str
) -> None:
    assert part in shop.stocked().refused("stock", "edit", "elm", *options.split(), code=code)
    said = shop.refused(
        "stock",
        "add",
        "new",
        *("--species elm --thickness 17 --width 150 " + options).split(),
        code=code,
    )
    assert part in said


def test_the_log_itself_refuses_nonsense(shop: Shop) -> None:
    """The CHECKs, as a plain SQLite shell meets them."""
    shop.started("--moisture 9")
    with closing(sqlite3.connect(shop.db)) as plain:
        for change in (
            "moisture = 41",
            "moisture = 0.5",
            "temperature = 20",
            "humidity = 50",
            "sawn = 'round'",
            "sawn = NULL",
            "temperature = 61, humidity = 50",
            "temperature = 20, humidity = 99.5",
        ):
            with pytest.raises(sqlite3.IntegrityError):
                plain.execute(f"UPDATE stock SET {change}")
        plain.execute(
            "UPDATE stock SET temperature = 20, humidity = 50, sawn = 'flat', moisture = 40"
        )


# --- start ----------------------------------------------------------------------------------------


def told(shop: Shop, line: str) -> dict[str, str]:
    """What the answer to a command notes of moisture, code -> text."""
    return {
        code: text
        for code, text in by_code(shop.json(line)["notices"]).items()
        if code.startswith("moisture")
    }


def moistures(shop: Shop) -> tuple[float | None, ...]:
    with closing(sqlite3.connect(shop.db)) as plain:
        query = "SELECT moisture, pin_moisture, scrap_moisture FROM setup ORDER BY id DESC LIMIT 1"
        return tuple(plain.execute(query).fetchone())


@pytest.fixture
def stocked(shop: Shop) -> Shop:
    """American elm at 9 %, and maple in air of 21.1 deg C and 70 %: 13.1 % (table 4-2, read)."""
    return shop.built(_stocked)


def _stocked(shop: Shop) -> None:
    shop.stocked().words("stock edit elm --moisture 9 --sawn flat")
    shop.words(
        "stock add maple --species maple --thickness 17 --width 150 --temperature 21.1 --humidity "
        "70 --sawn flat"
    )
    shop.words("stock add panel --species mdf --thickness 17 --width 150 --moisture 5")


def test_start_says_it_with_the_number_and_once(stocked: Shop) -> None:
    """(13.1 - 9) / 2 x (0.00338 + 0.00353) x 150 = 2.1 mm (elm and maple of table 13-5: read)."""
    first = told(stocked, "start --stock elm --pin-stock maple")
    assert set(first) == {"moisture-boards"}
    assert lengths(first["moisture-boards"])[0] == pytest.approx(2.1, abs=0.05)
    assert "9%" in first["moisture-boards"] and "13.1%" in first["moisture-boards"]
    assert told(stocked, "next") == first, "still before the first piece"
    assert told(stocked, "cut tight") == {} == told(stocked, "next")
    assert told(stocked, "undo") == first


def test_start_speaks_inches(stocked: Shop) -> None:
    stocked.words("prefer --units inch")
    assert (
        "0.083 in apart over 5.906 in"
        in told(stocked, "start --stock elm --pin-stock maple")["moisture-boards"]
    )


@pytest.mark.parametrize(
    ("options", "codes", "kept"),
    [
        ("", set(), (9, 9, None)),
        ("--moisture 11", set(), (11, 11, None)),
        ("--moisture 11 --pin-moisture 9%", {"moisture-boards"}, (11, 9, None)),
        ("--pin-stock maple --pin-moisture 9", set(), (9, 9, None)),
        ("--pin-stock maple --moisture none", set(), (None, 13.1, None)),
        ("--moisture none", set(), (None, None, None)),
        ("--pin-stock panel", set(), (9, 5, None)),
        ("--scrap Maple", {"moisture-scrap"}, (9, 9, 13.1)),
        ("--scrap maple --scrap-moisture 9", set(), (9, 9, 9)),
        ("--scrap maple --scrap-moisture none", set(), (9, 9, None)),
        ("--scrap poplar --scrap-moisture 12", {"moisture-scrap"}, (9, 9, 12)),
        ("--scrap poplar", set(), (9, 9, None)),
        ("--scrap elm --moisture 11", set(), (11, 11, None)),
        ("--scrap panel", set(), (9, 9, None)),
        ("--scrap mdf --scrap-moisture 5", set(), (9, 9, 5)),
        ("--scrap maple --pin-stock maple", CODES, (9, 13.1, 13.1)),
    ],
)
def test_todays_own_comes_before_the_catalogue(
    stocked: Shop, options: str, codes: set[str], kept: tuple[float | None, ...]
) -> None:
    assert set(told(stocked, f"start --stock elm {options}")) == codes
    assert [m and round(m, 1) for m in moistures(stocked)] == list(kept)


def test_nothing_known_nothing_said(shop: Shop) -> None:
    assert told(shop.stocked(), "start") == {}
    assert moistures(shop) == (None, None, None)


@pytest.mark.parametrize(
    ("options", "code"),
    [
        ("--moisture wet", 2),
        ("--pin-moisture 90", 1),
        ("--scrap-moisture 0.5", 1),
        ("--moisture 9C", 2),
    ],
)
def test_what_start_cannot_take(stocked: Shop, options: str, code: int) -> None:
    stocked.refused("start", "--stock", "elm", *options.split(), code=code)
    assert stocked.entries() == 0


# --- what only its thickness moves ----------------------------------------------------------------


def test_a_board_is_as_much_thicker_as_its_other_way_moves() -> None:
    """20 mm of flat-sawn maple by 6 %: 20 x 0.00165 (radial, table 13-5) x 6 = 0.20 mm."""
    assert swelling(Board(MAPLE, "flat", 12.0), 20.0, 6.0) == pytest.approx(0.198, abs=0.002)
    assert swelling(Board("birch plywood", "", 12.0), 20.0, 6.0) == 0.0
    assert swelling(Board(MAPLE, "flat", None), 20.0, 6.0) == 0.0
    assert swelling(Board(MAPLE, "flat", 12.0), 20.0, 12.05) == 0.0  # no meter tells that


@pytest.mark.parametrize(
    ("joint", "boards", "code"),
    [
        ("housing", ("--pin-moisture", "12%", "--scrap-moisture", "6%"), "moisture-offcut"),
        ("rabbet", ("--pin-moisture", "12%", "--scrap-moisture", "6%"), "moisture-offcut"),
        ("lock-mitre", ("--moisture", "12%", "--pin-moisture", "6%"), "moisture-uprights"),
        ("lock-mitre", ("--moisture", "12%", "--scrap-moisture", "6%"), "moisture-scrap-ends"),
    ],
)
def test_what_is_not_equally_dry_is_told(
    shop: Shop, joint: str, boards: tuple[str, ...], code: str
) -> None:
    angle, size = {"lock-mitre": ("45", "50.8"), "rabbet": ("0", "25")}.get(joint, ("0", "12.7"))
    shop.run("bit", "add", "b", "--diameter", size, "--angle", angle, "--cutting-length", "24")
    shop.words("stock add side --species maple --thickness 20 --width 140 --sawn flat")
    shop.words("stock add shelf --species maple --thickness 18 --width 140 --sawn flat")
    pins = () if joint == "lock-mitre" else ("--pin-stock", "shelf")
    start = ("start", "--joint", joint, "--bit", "b", "--stock", "side", *pins)
    dry = shop.run(*start, "--json").document["notices"]
    assert code not in by_code(dry)
    shop.words("finish --abandon")
    told = by_code(shop.run(*start, *boards, "--json").document["notices"])
    assert "12%" in told[code] and "6%" in told[code] and " mm " in told[code]
