"""Lengths: what is typed and what is shown.

Outside sources: the inch is 25.4 mm exactly (international inch, 1959; NIST SP 811, appendix B);
fractions are checked against Python's own exact `fractions.Fraction`.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import example, given, seed
from hypothesis import strategies as st

from fitlog.domain import Part
from fitlog.errors import Clause, FitlogError, Least, Mm, Most, NotUnderstood, Refused
from fitlog.families.half_blind.names import HALF_BLIND, HEIGHT
from fitlog.language.inches import marks_for
from fitlog.language.limits import check_range
from fitlog.language.units import UNITS, Length, Ruler, parse_length, quoted, shown

INCH = Fraction(254, 10)  # NIST SP 811, appendix B


READS = [
    ("13.07", Fraction(1307, 100), "mm"),
    ("13,07", Fraction(1307, 100), "mm"),
    ("1,234", Fraction(1234, 1000), "mm"),
    ("13.07 mm", Fraction(1307, 100), "mm"),
    ("13,07mm", Fraction(1307, 100), "mm"),
    ("13 MM", Fraction(13), "mm"),
    ("2 millimetres", Fraction(2), "mm"),
    ("1 millimetre", Fraction(1), "mm"),
    ("2 millimeters", Fraction(2), "mm"),
    ("1 millimeter", Fraction(1), "mm"),
    ("1.5 cm", Fraction(15), "mm"),
    ("13.", Fraction(13), "mm"),
    ("  13\t mm ", Fraction(13), "mm"),
    ("13\u00a0mm", Fraction(13), "mm"),
    ("1 in", INCH, "in"),
    ("1 inch", INCH, "in"),
    ("2 inches", 2 * INCH, "in"),
    ('1"', INCH, "in"),
    ("1\u2033", INCH, "in"),
    (".5in", INCH / 2, "in"),
    ('0.361"', INCH * Fraction(361, 1000), "in"),
    ("0,361 in", INCH * Fraction(361, 1000), "in"),
    ("4 thou", INCH * Fraction(4, 1000), "in"),
    ("5/8 in", INCH * Fraction(5, 8), "in"),
    ("5/8in", INCH * Fraction(5, 8), "in"),
    ("5/8", INCH * Fraction(5, 8), "in"),
    ("17/16", INCH * Fraction(17, 16), "in"),
    ('1 1/16"', INCH * Fraction(17, 16), "in"),
    ("1-1/16in", INCH * Fraction(17, 16), "in"),
    ("1 1/16 in", INCH * Fraction(17, 16), "in"),
    ("-1 1/16 in", -INCH * Fraction(17, 16), "in"),
    ("23/64 in + 2 thou", INCH * (Fraction(23, 64) + Fraction(2, 1000)), "in"),
    ("23/64 in (0.361)", INCH * Fraction(361, 1000), "in"),
    ("-23/64 (-0.361) in", -INCH * Fraction(361, 1000), "in"),
    ("2 in (2.003)", INCH * Fraction(2003, 1000), "in"),
    ("\u00bd in", INCH / 2, "in"),
    ("2\u00bd", INCH * Fraction(5, 2), "in"),
    ("2 \u215e in", INCH * Fraction(23, 8), "in"),
    ("-1\u00bc", -INCH * Fraction(5, 4), "in"),
    ("3\u20448 in", INCH * Fraction(3, 8), "in"),
    ("-23/64 in - 2 thou", -INCH * (Fraction(23, 64) + Fraction(2, 1000)), "in"),
    ("1/8turn", Fraction(1, 8) * Fraction(3, 2), "turn"),
    ("1/8 turn", Fraction(1, 8) * Fraction(3, 2), "turn"),
    ("2 turns", Fraction(3), "turn"),
    ("0.25turns", Fraction(3, 8), "turn"),
    ("-1 1/4 turns", -Fraction(15, 8), "turn"),
    ("-0.2", Fraction(-1, 5), "mm"),
    ("\u22120.2", Fraction(-1, 5), "mm"),
    ("+0.2", Fraction(1, 5), "mm"),
    ("0", Fraction(0), "mm"),
    ("-0", Fraction(0), "mm"),
]


@pytest.mark.parametrize(("text", "mm", "unit"), READS)
def test_reads_what_makers_write(text: str, mm: Fraction, unit: str) -> None:
    assert parse_length(text, turn=1.5) == Length(float(mm), text.strip(), unit)


@pytest.mark.parametrize(("units", "mm"), [("mm", 2.0), ("inch", 50.8), ("fraction", 50.8)])
def test_bare_number_is_in_the_preferred_unit(units: str, mm: float) -> None:
    assert parse_length("2", units=units).mm == mm
    assert parse_length("2 mm", units=units).mm == 2.0
    assert parse_length("2 in", units=units).mm == 50.8


@pytest.mark.parametrize("units", UNITS)
def test_bare_fraction_is_inches_whatever_the_preference(units: str) -> None:
    assert parse_length("3/8", units=units) == Length(9.525, "3/8", "in")


@given(st.integers(0, 20), st.integers(1, 64), st.integers(1, 64), st.sampled_from(["", "-", "+"]))
@seed(1)
def test_fractions_are_exact(whole: int, top: int, bottom: int, sign: str) -> None:
    value = Fraction(top, bottom) * (-1 if sign == "-" else 1)
    assert parse_length(f"{sign}{top}/{bottom}").mm == float(value * INCH)
    if top < bottom:
        mixed = value + (-whole if sign == "-" else whole)
        assert parse_length(f"{sign}{whole} {top}/{bottom} in").mm == float(mixed * INCH)


REFUSED = [
    "",
    "   ",
    "nan",
    "inf",
    "-inf",
    "infinity",
    "1e3",
    "1E3",
    "0x10",
    "1_000",
    "\u0661\u0665",
    "\u2153 in",
    "\uff11",
    "1/0",
    "3 1/0 in",
    "0/0",
    "1,234,5",
    "1.2.3",
    "1,5,2",
    "1,234.5",
    "1.234,5",
    ",5",
    "5,",
    "5 mm 3 mm",
    "1 in 3 in",
    "5 8",
    "1 0.5",
    "1.5/2",
    "23/64 in (0.4)",
    "5 (5.0)",
    "5 mm (0.2)",
    "(0.5)",
    "1\u00bd\u00bd",
    "1/2\u00bd",
    "1/2/3",
    "1 17/16",
    "3 ft",
    "5 m",
    "5 inchs",
    "5 mm mm",
    "mm",
    "in",
    "+",
    "-",
    "+-2",
    "--2",
    "5/8 mm",
    "1 5/8 cm",
    "5 + 2 thou",
    "2 mm - 4 thou",
    "2 turns + 1 thou",
    "+ 4 thou",
    "5\x00",
    "5\nmm",
    "\x1b[31m5",
    "\ud800",
    "9" * 41,
    "5" + " " * 60 + "mm",
]


@pytest.mark.parametrize("text", REFUSED)
def test_refuses_what_is_no_length(text: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        parse_length(text, turn=1.5, what="the pitch")
    assert caught.value.code == "bad-length"
    assert caught.value.message.startswith("the pitch")
    assert caught.value.hint
    assert caught.value.message.isprintable()
    assert len(caught.value.message) < 140


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("5/8 mm", "0.625 mm or 5/8 in"),
        ("-1 5/8 mm", "1.625 mm or 1 5/8 in"),
        ("5/8 cm", "0.625 cm"),
        ("5 inchs", "did you mean inches"),
        ("1,234.5", "no thousands separators"),
        ("abc", "5/8 in"),
    ],
)
def test_hint_says_what_works(text: str, part: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        parse_length(text)
    assert part in caught.value.hint


@pytest.mark.parametrize("turn", [None, 0.0, -1.0, float("nan"), float("inf")])
def test_turns_need_the_travel_per_turn(turn: float | None) -> None:
    with pytest.raises(NotUnderstood) as caught:
        parse_length("1/8turn", turn=turn)
    assert caught.value.code == "bad-length"
    assert "fitlog machine edit NAME --height-turn L" in caught.value.hint


def test_offending_text_is_shown_safely() -> None:
    assert shown("a\x1b[31m\u202e") == "a\\x1b[31m\\u202e"
    assert shown("x" * 99) == "x" * 40 + "..."
    assert quoted('5"') == "'5\"'"


@given(st.text(), st.sampled_from(UNITS), st.one_of(st.none(), st.floats()))
@seed(2)
@example("9" * 5000, "mm", None)
@example("1/" + "9" * 5000, "mm", 1.0)
def test_any_text_is_a_length_or_an_expected_error(
    text: str, units: str, turn: float | None
) -> None:
    try:
        assert isinstance(parse_length(text, units=units, turn=turn).mm, float)
    except FitlogError as error:
        assert error.code == "bad-length"
        assert error.message.isprintable()


@given(st.text("0123456789.,/-+ inmtuhr\"'\u2033e", max_size=14), st.sampled_from(UNITS))
@seed(3)
def test_near_misses_are_a_length_or_an_expected_error(text: str, units: str) -> None:
    try:
        assert isinstance(parse_length(text, units=units, turn=1.5).mm, float)
    except FitlogError as error:
        assert error.code == "bad-length"


def test_unknown_preference_is_refused() -> None:
    for make in (lambda: parse_length("5", units="inchs"), lambda: Ruler("inchs")):
        with pytest.raises(NotUnderstood) as caught:
            make()
        assert caught.value.code == "unknown-units"
        assert "did you mean inch" in caught.value.hint


def _range_error(text: str, low: float, high: float, why: str, units: str = "mm") -> Refused:
    with pytest.raises(Refused) as caught:
        check_range(parse_length(text, units=units), low, high, "the bit height", why)
    assert caught.value.code == "absurd-size"
    return caught.value


def test_range_takes_its_ends() -> None:
    for text in ("1", "10", "22"):
        assert check_range(parse_length(text), 1, 22, "the bit height", "22 mm") == float(text)


def test_out_of_range_asks_about_the_other_unit() -> None:
    why = "this bit's cutting length of 22 mm"
    error = _range_error("15 in", 1, 22, why)
    assert error.message == f"the bit height of 15 in is beyond {why}"
    assert error.hint == "did you mean 15 mm?"
    assert _range_error("15", 1, 22, why, "inch").message == error.message
    assert _range_error("0.5", 1, 22, "1 mm").message == "the bit height of 0.5 mm is below 1 mm"
    assert _range_error("0.5", 1, 22, "1 mm").hint == "did you mean 0.5 in?"


def test_out_of_range_asks_about_the_decimal_point_where_the_range_tells() -> None:
    assert _range_error("90", 1, 22, "22 mm").hint == "did you mean 9 mm?"
    assert _range_error("227", 13, 26, "26 mm").hint == "did you mean 22.7 mm?"
    assert (
        _range_error("9", 1, 35, "35 mm", "inch").hint == "did you mean 9 mm?"
    )  # the other unit comes first
    assert _range_error("600", 1, 500, "500 mm").hint == "give the bit height between 1 and 500 mm"


@pytest.mark.parametrize("text", ["300", "90 in", "4000 thou", "20 cm"])
def test_out_of_range_names_the_range_when_no_unit_fits(text: str) -> None:
    assert _range_error(text, 1, 22, "22 mm").hint == "give the bit height between 1 and 22 mm"


def test_open_ranges_name_their_one_end() -> None:
    inf = float("inf")
    assert _range_error("-0.01", 0, inf, "zero").hint == "give the bit height as 0 mm or more"
    assert _range_error("9", -inf, 0.1, "0.1 mm").hint == "give the bit height up to 0.1 mm"


SHOWN = [
    ("mm", 9.17, "9.17 mm"),
    ("mm", -9.17, "-9.17 mm"),
    ("mm", -0.001, "0.00 mm"),
    ("inch", 9.17, "0.361 in"),
    ("inch", -0.001, "0.000 in"),
    ("fraction", 9.17, "23/64 in (0.361)"),
    ("fraction", -9.17, "-23/64 in (-0.361)"),
    ("fraction", 26.9875, "1 1/16 in"),
    ("fraction", 26.9621, "1 1/16 in (1.062)"),
    ("fraction", -26.9621, "-1 1/16 in (-1.062)"),
    ("fraction", 50.8, "2 in"),
    ("fraction", 0.0, "0 in"),
    ("fraction", 0.001, "0 in"),
    ("fraction", 0.2032, "8 thou"),
    ("fraction", 0.5, "20 thou"),
    ("fraction", 0.396875, "1/64 in"),
    ("fraction", 0.85, "1/32 in (0.033)"),
    ("fraction", 66.8782, "2 41/64 in (2.633)"),
    ("fraction", -0.2032, "-8 thou"),
]


@pytest.mark.parametrize(("units", "mm", "text"), SHOWN)
def test_shows_lengths(units: str, mm: float, text: str) -> None:
    assert Ruler(units).length(mm) == text


def test_bare_leaves_the_unit_out() -> None:
    assert [Ruler(u).length(9.17, bare=True) for u in UNITS] == [
        "9.17",
        "0.361",
        "23/64 in (0.361)",
    ]


@given(
    st.floats(-3000, 3000),
    st.sampled_from([("mm", 0.01), ("inch", 0.0254), ("fraction", 0.0254)]),
    st.booleans(),
)
@seed(4)
def test_what_is_shown_reads_back_within_half_a_step(
    mm: float, shape: tuple[str, float], bare: bool
) -> None:
    units, step = shape
    text = Ruler(units).length(mm, bare=bare)
    assert text.isascii()
    assert abs(parse_length(text, units=units).mm - mm) <= step / 2 + 1e-9


@pytest.mark.parametrize(
    ("units", "turn", "setting", "mm", "text"),
    [
        ("mm", None, "bit_height", 0.2, "up 0.20 mm"),
        ("mm", None, "bit_height", -0.2, "down 0.20 mm"),
        ("mm", None, "fence_offset", 0.2, "out 0.20 mm"),
        ("mm", None, "fence_offset", -0.2, "in 0.20 mm"),
        ("mm", None, "socket_depth", 0.2, "deeper 0.20 mm"),
        ("mm", None, "socket_depth", -0.2, "shallower 0.20 mm"),
        ("mm", 1.6, "bit_height", -0.2, "down 1/8 turn, 0.20 mm"),
        ("mm", 1.6, "bit_height", -0.203, "down 1/8 turn, 0.20 mm"),
        ("mm", 1.6, "bit_height", -0.204, "down about 1/8 turn, 0.20 mm"),
        ("mm", 1.6, "bit_height", 1.6, "up 1 turn, 1.60 mm"),
        ("mm", 1.6, "bit_height", 2.0, "up 1 1/4 turns, 2.00 mm"),
        ("mm", 1.6, "bit_height", 0.01, "up 0.01 mm"),
        ("mm", 1.6, "fence_offset", 0.2, "out 0.20 mm"),
        ("mm", 1.6, "bit_height", 0.004, "leave it"),
        ("mm", None, "bit_height", 0.0, "leave it"),
        ("inch", None, "bit_height", -0.2032, "down 0.008 in"),
        ("inch", 1.6, "bit_height", -0.2, "down 1/8 turn, 0.008 in"),
        ("inch", None, "bit_height", -0.01, "leave it"),
        ("fraction", None, "bit_height", -0.2032, "down 8 thou"),
        ("fraction", None, "socket_depth", 9.17, "deeper 23/64 in (0.361)"),
        ("fraction", 1.6, "bit_height", 0.2, "up 1/8 turn, 8 thou"),
        ("fraction", None, "bit_height", 0.0, "leave it"),
    ],
)
def test_shows_moves(units: str, turn: float | None, setting: str, mm: float, text: str) -> None:
    assert Ruler(units, turn).move(HALF_BLIND.setting(setting), mm) == text


@pytest.mark.parametrize("turn", [0.0, -1.0, float("nan"), float("inf")])
def test_ruler_refuses_an_impossible_turn(turn: float) -> None:
    with pytest.raises(Refused) as caught:
        Ruler("mm", turn)
    assert caught.value.code == "bad-size"


def test_marks_of_128ths_are_shown_where_the_machine_has_them() -> None:
    assert marks_for([1 / 64, 0.01, 0.2 / 25.4]) == 64
    assert marks_for([1 / 64, 1 / 128]) == marks_for([3 / 128]) == 128
    between = INCH * Fraction(337, 128)
    assert Ruler("fraction").length(float(between)) == "2 5/8 in (2.633)"
    assert Ruler("fraction", marks=128).length(float(between)) == "2 81/128 in"
    assert Ruler("fraction", marks=128).length(66.9) == "2 81/128 in (2.634)"


@given(st.floats(-200, 200), st.sampled_from([64, 128]))
@seed(5)
def test_no_mark_is_nearer_than_the_one_shown(mm: float, marks: int) -> None:
    text = Ruler("fraction", marks=marks).length(mm)
    if "/" in text:
        mark = parse_length(text.partition(" (")[0], units="fraction").mm / 25.4
        assert abs(mark - mm / 25.4) <= 0.5 / marks + 1e-9


@pytest.mark.parametrize("kind", [Mm, Least, Most])
@pytest.mark.parametrize("units", ["inch", "fraction"])
@given(mm=st.floats(0.05, 500))
@seed(6)
def test_a_limit_that_is_told_is_taken_where_it_is_typed(
    kind: type[Mm], units: str, mm: float
) -> None:
    told = parse_length(Ruler(units).told(kind(mm)), units=units).mm
    assert kind is not Least or told >= mm - 1e-6
    assert kind is not Most or told <= mm + 1e-6
    assert abs(told - mm) <= (0.0127 if kind is Mm else 0.00254) + 1e-6


def test_a_part_of_a_refusal_is_told_in_a_persons_unit() -> None:
    why = Clause("the {most:g} that is plausible", most=Mm(6.0))
    error = Refused("absurd-size", "{size} is beyond {why}", size=Mm(9.525), why=why)
    assert error.message == "9.525 mm is beyond the 6 mm that is plausible"
    error.length = Ruler("fraction").told
    assert error.message == "3/8 in is beyond the 15/64 in (0.236) that is plausible"


@pytest.mark.parametrize(
    ("mm", "dial", "told"),
    [
        (-0.18, 60, "down 7 divisions, 0.18 mm"),
        (1.375, 60, "up 1 turn less 5 divisions, 1.38 mm"),
        (1.5, 60, "up 1 turn, 1.50 mm"),
        (1.75, 60, "up 1 turn and 10 divisions, 1.75 mm"),
        (-0.025, 60, "down 1 division, 0.03 mm"),
        (0.01, 60, "up 0.01 mm"),
        (0.225, 10, "up 1 1/2 divisions, 0.23 mm"),
        (3.3, 20, "up 2 turns and 4 divisions, 3.30 mm"),
        (0.75, None, "up 1/2 turn, 0.75 mm"),
    ],
)
def test_a_move_is_told_as_the_dial_is_read(mm: float, dial: int | None, told: str) -> None:
    lift = Part(turn=1.5, dial=dial)
    ruler = Ruler(turn=lift.turn, dial=lift.dial, turn_parts=lift.turn_parts)
    assert ruler.move(HALF_BLIND.setting(HEIGHT), mm).replace("about ", "") == told
